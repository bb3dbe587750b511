// How text is fitted to a terminal.
// Layer: words. Sees core only.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace skerry::words {

/// How the terminal may be used.
struct Style {
  bool colour = false;
  bool unicode = false;
  bool ascii = false;  ///< names too must be plain ASCII
  int columns = 100;
  /// Columns, at most so many: longer lines are hard to read.
  [[nodiscard]] std::size_t width(int most = 1000) const {
    return static_cast<std::size_t>(columns < most ? columns : most);
  }
};

/// Lines of at most `columns` characters, broken at blanks, the later ones indented.
[[nodiscard]] std::string wrapped(std::string_view text, std::size_t columns, std::string_view first,
                                  std::string_view later);
/// Text whose lines are at most `columns` wide where they have blanks to break at: longer ones go on below,
/// four further in than they began. Lines that fit stay as they are.
[[nodiscard]] std::string fitted(const std::string& text, std::size_t columns);

/// fitted() to the style, and in ASCII where that is asked.
[[nodiscard]] std::string on_screen(const std::string& text, const Style& style, int most_columns = 1000);

/// Only ASCII: degree signs as "deg", Latin letters without their accents, dashes and quotes plain, the rest
/// '?'.
[[nodiscard]] std::string to_ascii(std::string_view text);

}  // namespace skerry::words
