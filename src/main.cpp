// The program: looks at the world it runs in, then hands over to cli.

#include <fcntl.h>
#include <sys/ioctl.h>
#include <unistd.h>

#include <cerrno>
#include <csignal>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <exception>
#include <iostream>
#include <new>
#include <sstream>
#include <string_view>
#include <utility>

#include "skerry/cli/run.hpp"
#include "skerry/os/ending.hpp"
#include "skerry/os/surroundings.hpp"

namespace {

bool says_utf8() {
  for (const char* name : {"LC_ALL", "LC_CTYPE", "LANG"}) {
    const auto value = skerry::os::variable(name);
    if (!value) continue;
    return value->find("UTF-8") != std::string::npos || value->find("utf8") != std::string::npos ||
           value->find("UTF8") != std::string::npos;
  }
  return false;
}

int columns() {
  winsize size{};
  if (ioctl(STDOUT_FILENO, TIOCGWINSZ, &size) == 0 && size.ws_col > 0) return size.ws_col;
  return 100;
}

/// A standard stream that its caller closed gets a stand-in that fails when it is used. Otherwise the next
/// file opened would take its number, and what is meant for the screen would end up in that file.
void fill_closed_streams() {
  for (const auto& [number, mode] : {std::pair(STDIN_FILENO, O_WRONLY), std::pair(STDOUT_FILENO, O_RDONLY),
                                     std::pair(STDERR_FILENO, O_RDONLY)}) {
    if (::fcntl(number, F_GETFD) < 0) (void)::open("/dev/null", mode);
  }
}

/// All of `text` to standard output, or a reason why not.
bool put(std::string_view text) {
  std::size_t done = 0;
  while (done < text.size()) {
    const auto n = ::write(STDOUT_FILENO, text.data() + done, text.size() - done);
    if (n < 0 && errno == EINTR) continue;
    if (n < 0) return false;
    done += static_cast<std::size_t>(n);
  }
  return true;
}

/// Before the objects of the program's own files are made: they need memory too.
[[gnu::constructor(101)]] void before_all() {
  skerry::os::end_in_order_without_memory();
}

int work(int argc, char** argv) {
  // A reader that went away is an ordinary end for us, told by write(), not a signal.
  std::signal(SIGPIPE, SIG_IGN);
  // So is a file that may not grow any more: write() says so.
  std::signal(SIGXFSZ, SIG_IGN);
  fill_closed_streams();
  skerry::os::clean_up_on_signals();
  std::ios::sync_with_stdio(false);
  std::ostringstream out;
  // What finds no memory is told, not dropped.
  out.exceptions(std::ios::badbit);
  skerry::cli::World world{.in = std::cin, .out = out, .err = std::cerr, .flush = {}};
  world.out_is_terminal = isatty(STDOUT_FILENO) != 0;
  world.err_is_terminal = isatty(STDERR_FILENO) != 0;
  world.no_colour = skerry::os::variable("NO_COLOR") || skerry::os::variable("TERM") == "dumb";
  world.utf8 = says_utf8();
  world.columns = columns();
  bool written = true;
  int problem_number = 0;
  const auto hand_on = [&] {
    written = written && put(out.view());
    if (!written && problem_number == 0) problem_number = errno;
    out.str({});
    return written;
  };
  world.flush = hand_on;
  const int code = skerry::cli::run({argv + 1, argv + argc}, world);
  if (!hand_on()) {
    if (problem_number != EPIPE)
      std::cerr << "skerry: cannot write the answer: " << std::strerror(problem_number) << "\n";
    return 1;
  }
  skerry::os::end_if_interrupted();
  return code;
}

}  // namespace

int main(int argc, char** argv) {
  try {
    return work(argc, argv);
  } catch (const std::bad_alloc&) {
    std::cerr << "skerry: not enough memory for this\n";
  } catch (const std::exception& problem) {
    std::cerr << "skerry: internal error: " << problem.what() << "\n";
  }
  return 1;
}
