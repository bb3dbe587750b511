#include "strip_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "skerry/words/numbers.hpp"

namespace skerry::words {

namespace {

/// Index of the nearest colour of the 6 x 6 x 6 cube that terminals of 256 colours share.
/// Source: the common extension of ECMA-48 SGR 38/48;5 (levels 0, 95, 135 ... 255; from memory).
int cube_index(const std::string& hex) {
  int index = 16;
  for (int i = 0, weight = 36; i < 3; ++i, weight /= 6) {
    const int level = std::stoi(hex.substr(1 + 2 * static_cast<std::size_t>(i), 2), nullptr, 16);
    index += weight * (level < 48 ? 0 : level < 115 ? 1 : (level - 35) / 40);
  }
  return index;
}

}  // namespace

std::string strip_cell(bool open, double days_in_ten, const Style& style, std::size_t width,
                       const std::string& sign) {
  const auto said = sign.empty() ? days_sign(open, days_in_ten) : sign;
  const bool any = open && days_in_ten >= 0.5;
  std::string shown = said;
  std::size_t used = said.size();
  if (style.unicode && sign.empty()) {
    if (!open) shown = "·";
    if (any) {
      shown = days_bar(days_in_ten) + said;
      ++used;
    }
  }
  const std::string blank(used < width ? width - used : 0, ' ');
  if (!style.colour || !any) return blank + shown;
  const int days = days_class(days_in_ten);
  // The blank before it stays unpainted where there is room: cells then stand apart.
  return blank + fmt::format("\x1b[48;5;{};38;5;{}m{}\x1b[0m", cube_index(days_colour(days)),
                             light_letters(days) ? 231 : 16, shown);
}

}  // namespace skerry::words
