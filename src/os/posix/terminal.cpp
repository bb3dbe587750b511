#include "skerry/os/terminal.hpp"

#include <fcntl.h>
#include <sys/ioctl.h>
#include <unistd.h>

#include <cerrno>
#include <csignal>
#include <utility>

#include "skerry/os/surroundings.hpp"

namespace skerry::os {

namespace {

bool says_utf8() {
  for (const char* name : {"LC_ALL", "LC_CTYPE", "LANG"}) {
    const auto value = variable(name);
    if (!value) continue;
    return value->find("UTF-8") != std::string::npos || value->find("utf8") != std::string::npos ||
           value->find("UTF8") != std::string::npos;
  }
  return false;
}

}  // namespace

Terminal terminal() {
  Terminal out;
  out.out = isatty(STDOUT_FILENO) != 0;
  out.err = isatty(STDERR_FILENO) != 0;
  out.colour = !variable("NO_COLOR") && variable("TERM") != "dumb";
  out.utf8 = says_utf8();
  winsize size{};
  if (ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0) {
    if (size.ws_col > 0) out.columns = size.ws_col;
    out.rows = size.ws_row;
  }
  return out;
}

void prepare_streams() {
  std::signal(SIGPIPE, SIG_IGN);
  std::signal(SIGXFSZ, SIG_IGN);
  for (const auto& [number, mode] : {std::pair(STDIN_FILENO, O_WRONLY), std::pair(STDOUT_FILENO, O_RDONLY),
                                     std::pair(STDERR_FILENO, O_RDONLY)}) {
    if (::fcntl(number, F_GETFD) < 0) (void)::open("/dev/null", mode);
  }
}

bool put_out(std::string_view text) {
  while (!text.empty()) {
    const auto put = ::write(STDOUT_FILENO, text.data(), text.size());
    if (put < 0 && errno == EINTR) continue;
    if (put < 0) return false;
    text.remove_prefix(static_cast<std::size_t>(put));
  }
  return true;
}

std::vector<std::string> arguments(int argc, char** argv) {
  return {argv + (argc > 0 ? 1 : 0), argv + argc};
}

}  // namespace skerry::os
