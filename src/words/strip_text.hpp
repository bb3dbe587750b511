// One cell of a strip on a terminal.
// Layer: words (internal).
#pragma once

#include <string>

#include "skerry/words/style.hpp"

namespace skerry::words {

/// Days in ten in `width` (3 or more) characters on the screen: right-aligned days_sign(); where the terminal
/// knows Unicode a bar of that height stands before the number; where it knows colour, the page's scale lies
/// behind both. The number is always there, so that neither is needed.
///   sign  what to write instead of days_sign(), or empty
[[nodiscard]] std::string strip_cell(bool open, double days_in_ten, const Style& style, std::size_t width = 3,
                                     const std::string& sign = {});

}  // namespace skerry::words
