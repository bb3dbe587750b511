// What a mistake looks like when it is the user's, and how a function hands one back.
// Layer: core. Sees nothing.
#pragma once

#include <string>
#include <tl/expected.hpp>
#include <vector>

namespace skerry {

/// Where in the user's input something stands. line and column count from 1; 0 means "not known".
struct Where {
  std::string file;  ///< as the user typed it, or an option name such as "--mhz"; may be empty
  int line = 0;
  int column = 0;
};

/// One mistake of a person or a file, told so that it can be mended without asking anybody.
/// Nature's answers (band closed, polar night) are never Errors; our own bugs are asserts.
struct Error {
  Where where;
  std::string found;     ///< what stands there: "latitude 95.2"
  std::string accepted;  ///< what would be right: "-90 to 90, north positive"
  std::string mend;      ///< one hint, may be empty: "did you mean 'mass_g'?"

  /// "trip.toml:12:5: found ...; expected ...; hint" on one line, with no line break inside.
  [[nodiscard]] std::string to_line() const;
};

template <class T>
using Result = tl::expected<T, Error>;

/// All mistakes of one file, in the order of the file.
template <class T>
using Checked = tl::expected<T, std::vector<Error>>;

/// Short way to return a failure: `return fail({"--mhz"}, "abc", "a frequency in MHz");`
[[nodiscard]] inline tl::unexpected<Error> fail(Where where, std::string found, std::string accepted,
                                                std::string mend = {}) {
  return tl::unexpected<Error>(
      Error{std::move(where), std::move(found), std::move(accepted), std::move(mend)});
}

/// Ends the program with one line, in release builds too: for mistakes of our own after which a number would
/// only look like an answer.
[[noreturn]] void our_bug(const std::string& what);

}  // namespace skerry
