// The command line: arguments in, text out, an exit code back.
// Layer: cli. Sees everything above it.
#pragma once

#include <chrono>
#include <functional>
#include <iosfwd>
#include <string>
#include <vector>

namespace skerry::os {
class Progress;
}  // namespace skerry::os

namespace skerry::cli {

class Defaults;

/// What the program stands on: streams and terminal, handed in so that tests can stand elsewhere.
struct World {
  std::istream& in;
  std::ostream& out;
  std::ostream& err;
  bool out_is_terminal = false;
  bool err_is_terminal = false;
  bool no_colour = false;  ///< NO_COLOR is set, or the terminal knows none
  bool colour = false;     ///< --color always: whatever the screen is
  bool ascii = false;      ///< --ascii was given
  bool utf8 = false;       ///< the locale's character set
  int columns = 100;
  /// Hands on what `out` has gathered, for answers that come in pieces; false when the reader has gone away.
  /// May be empty: then all stays in `out`.
  std::function<bool()> flush = {};
  /// After so long a line on `err` says that work goes on, when `err` is a terminal.
  std::chrono::milliseconds patience{1000};
  /// So long somebody waits at most for a file that another process is changing.
  std::chrono::milliseconds lock_patience{10000};
  /// The user's configuration file and the variables SKERRY_* count (defaults.hpp).
  bool own_settings = false;
  os::Progress* progress = nullptr;    ///< set by run() while a command works
  const Defaults* defaults = nullptr;  ///< likewise
  bool paged = false;                  ///< set by run(): what is in `out` at its end may go through a pager
};

/// Exit codes: 0 done, 1 could not be done (file system, output), 2 bad input.
[[nodiscard]] int run(const std::vector<std::string>& args, World& world);

}  // namespace skerry::cli
