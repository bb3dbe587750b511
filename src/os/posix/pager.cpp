// Long answers on a terminal, through the pager that the user has.
#include <spawn.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <csignal>
#include <cstdlib>
#include <optional>
#include <string>

#include "skerry/os/surroundings.hpp"
#include "skerry/os/terminal.hpp"

namespace skerry::os {

namespace {

/// Lines of the screen that a text takes: longer ones go on in the next. Marks of colours count as letters, which
/// errs towards the pager.
bool is_longer(std::string_view text, int rows, int columns) {
  long taken = 0, width = 0;
  for (const char c : text) {
    if (c == '\n') {
      taken += std::max(1L, (width + columns - 1) / columns);
      width = 0;
    } else if ((static_cast<unsigned char>(c) & 0xC0U) != 0x80U) {
      ++width;
    }
  }
  return taken >= rows;  // the prompt of the shell wants a line too
}

bool is_there(const std::string& program) {
  const std::string path = variable("PATH").value_or("/usr/bin:/bin");
  for (std::size_t from = 0; from <= path.size();) {
    const auto end = std::min(path.find(':', from), path.size());
    if (::access((path.substr(from, end - from) + "/" + program).c_str(), X_OK) == 0) return true;
    from = end + 1;
  }
  return false;
}

/// The command for a shell; none: nobody wants a pager.
std::optional<std::string> pager() {
  for (const char* name : {"SKERRY_PAGER", "PAGER"}) {
    const char* value = std::getenv(name);
    if (value == nullptr) continue;
    const std::string command = value;
    return command.empty() || command == "cat" ? std::nullopt : std::optional(command);
  }
  return is_there("less") ? std::optional<std::string>("less") : std::nullopt;
}

/// A process of that command that reads from `from`; -1: none.
pid_t start(std::string& command, int from, int other_end) {
  posix_spawn_file_actions_t files;
  posix_spawnattr_t way;
  if (::posix_spawn_file_actions_init(&files) != 0 || ::posix_spawnattr_init(&way) != 0) return -1;
  (void)::posix_spawn_file_actions_adddup2(&files, from, STDIN_FILENO);
  (void)::posix_spawn_file_actions_addclose(&files, from);
  (void)::posix_spawn_file_actions_addclose(&files, other_end);
  sigset_t usual;
  ::sigemptyset(&usual);
  for (const int number : {SIGPIPE, SIGXFSZ, SIGINT, SIGQUIT}) ::sigaddset(&usual, number);
  (void)::posix_spawnattr_setsigdefault(&way, &usual);
  (void)::posix_spawnattr_setflags(&way, POSIX_SPAWN_SETSIGDEF);
  std::string shell = "sh", option = "-c";
  std::array<char*, 4> words{shell.data(), option.data(), command.data(), nullptr};
  pid_t child = -1;
  if (::posix_spawn(&child, "/bin/sh", &files, &way, words.data(), environ) != 0) child = -1;
  (void)::posix_spawn_file_actions_destroy(&files);
  (void)::posix_spawnattr_destroy(&way);
  return child;
}

void put_into(int file, std::string_view text) {
  while (!text.empty()) {
    const auto put = ::write(file, text.data(), text.size());
    if (put < 0 && errno == EINTR) continue;
    if (put < 0) return;  // left before its end
    text.remove_prefix(static_cast<std::size_t>(put));
  }
}

}  // namespace

bool put_out_paged(std::string_view text, const Terminal& terminal) {
  const auto screen = variable("TERM");
  if (terminal.rows <= 0 || !is_longer(text, terminal.rows, terminal.columns) || !screen || screen == "dumb")
    return put_out(text);
  auto command = pager();
  std::array<int, 2> ends{-1, -1};
  if (!command || ::pipe(ends.data()) != 0) return put_out(text);
  // Source: git-config(1), core.pager: F leaves where all fits, R lets colours through, X keeps the screen; -c of lv
  // does as R.
  (void)::setenv("LESS", "FRX", 0);
  (void)::setenv("LV", "-c", 0);
  const pid_t child = start(*command, ends[0], ends[1]);
  (void)::close(ends[0]);
  if (child < 0) {
    (void)::close(ends[1]);
    return put_out(text);
  }
  // Ctrl-C is for the one who has the screen.
  (void)std::signal(SIGINT, SIG_IGN);
  (void)std::signal(SIGQUIT, SIG_IGN);
  put_into(ends[1], text);
  (void)::close(ends[1]);
  int status = 0;
  while (::waitpid(child, &status, 0) < 0 && errno == EINTR) {
  }
  // Source: POSIX, sh: 126 and 127 say that there was no such program to run.
  const bool ran = !WIFEXITED(status) || (WEXITSTATUS(status) != 126 && WEXITSTATUS(status) != 127);
  return ran || put_out(text);
}

}  // namespace skerry::os
