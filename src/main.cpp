// The program: looks at the world it runs in, then hands over to cli.

#include <cerrno>
#include <cstring>
#include <exception>
#include <iostream>
#include <new>
#include <sstream>

#include "skerry/cli/run.hpp"
#include "skerry/os/ending.hpp"
#include "skerry/os/terminal.hpp"

namespace {

/// Before the objects of the program's own files are made: they need memory too.
[[gnu::constructor(101)]] void before_all() {
  skerry::os::end_in_order_without_memory();
}

int work(int argc, char** argv) {
  skerry::os::prepare_streams();
  skerry::os::clean_up_on_signals();
  std::ios::sync_with_stdio(false);
  std::ostringstream out;
  // What finds no memory is told, not dropped.
  out.exceptions(std::ios::badbit);
  skerry::cli::World world{.in = std::cin, .out = out, .err = std::cerr, .flush = {}};
  const auto terminal = skerry::os::terminal();
  world.out_is_terminal = terminal.out;
  world.err_is_terminal = terminal.err;
  world.no_colour = !terminal.colour;
  world.utf8 = terminal.utf8;
  world.columns = terminal.columns;
  world.own_settings = true;
  bool written = true, in_pieces = false;
  int problem_number = 0;
  const auto hand_on = [&] {
    const bool pager = world.paged && terminal.out && !in_pieces;
    written =
        written && (pager ? skerry::os::put_out_paged(out.str(), terminal) : skerry::os::put_out(out.str()));
    if (!written && problem_number == 0) problem_number = errno;
    out.str({});
    return written;
  };
  world.flush = [&] {
    in_pieces = true;
    return hand_on();
  };
  const int code = skerry::cli::run(skerry::os::arguments(argc, argv), world);
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
