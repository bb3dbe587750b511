#include "temporary.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <charconv>
#include <climits>
#include <csignal>
#include <filesystem>
#include <string_view>

#include "skerry/os/ending.hpp"

namespace skerry::os {

namespace {

/// What a signal handler may look at: plain bytes and a flag, no allocation.
std::array<char, PATH_MAX> watched{};
volatile std::sig_atomic_t watching = 0;

extern "C" void remove_and_die(int signal_number) {
  if (signal_number == SIGINT && only_marked()) return;
  remove_half_written();
  // The system's own action ends the program, so that whoever started it sees which signal it was.
  std::signal(signal_number, SIG_DFL);
  ::raise(signal_number);
}

/// Whether a number after the mark is that of a process other than this one that lives.
bool lives(std::string_view number) {
  long pid = 0;
  const auto [end, problem] = std::from_chars(number.data(), number.data() + number.size(), pid);
  if (problem != std::errc{} || end != number.data() + number.size() || pid <= 0 || pid > INT_MAX)
    return true;
  // This process is only about to begin: a file with its number is from an earlier one.
  if (pid == ::getpid()) return false;
  return ::kill(static_cast<pid_t>(pid), 0) == 0 || errno != ESRCH;
}

void remove_stale(const std::filesystem::path& final_name) {
  namespace fs = std::filesystem;
  const std::string start = final_name.filename().string() + part_mark;
  const auto folder = final_name.has_parent_path() ? final_name.parent_path() : fs::path(".");
  std::error_code problem;
  // A folder that cannot be listed may still be written to: then they stay.
  for (fs::directory_iterator entry(folder, problem), end; !problem && entry != end;
       entry.increment(problem)) {
    const std::string name = entry->path().filename().string();
    if (!name.starts_with(start) || lives(std::string_view(name).substr(start.size()))) continue;
    const int file = ::open(entry->path().c_str(), O_RDONLY | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC);
    if (file < 0) continue;
    struct stat info {};
    if (::fstat(file, &info) == 0 && S_ISREG(info.st_mode) && ::flock(file, LOCK_EX | LOCK_NB) == 0)
      ::unlink(entry->path().c_str());
    ::close(file);
  }
}

}  // namespace

void remove_half_written() {
  if (watching != 0) ::unlink(watched.data());
}

std::string temporary_name(const std::string& final_name) {
  remove_stale(final_name);
  return fmt::format("{}{}{}", final_name, part_mark, ::getpid());
}

void lock(int file) {
  // Where the file system knows no locks the process number has to do.
  (void)::flock(file, LOCK_EX | LOCK_NB);
}

void remove_on_signals(const std::string& name) {
  if (name.size() >= watched.size()) return;  // no such file can be opened
  watching = 0;
  std::copy(name.begin(), name.end(), watched.begin());
  watched[name.size()] = '\0';
  watching = 1;
}

void keep_on_signals() {
  watching = 0;
}

void end_if_interrupted() {
  if (!interrupt_marked()) return;
  std::signal(SIGINT, SIG_DFL);
  ::raise(SIGINT);
}

void clean_up_on_signals() {
  for (const int number : {SIGINT, SIGTERM, SIGHUP, SIGQUIT, SIGXCPU}) {
    struct sigaction old {};
    // What the caller wants ignored (as nohup does) stays ignored.
    if (::sigaction(number, nullptr, &old) == 0 && old.sa_handler == SIG_IGN) continue;
    struct sigaction action {};
    action.sa_handler = remove_and_die;
    action.sa_flags = SA_RESTART;
    ::sigemptyset(&action.sa_mask);
    ::sigaction(number, &action, nullptr);
  }
}

}  // namespace skerry::os
