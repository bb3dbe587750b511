// The same path twice, with one thing changed: what a class compares.
// Layer: words. Sees everything above it. Computes nothing.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>

#include "skerry/circuit/path_answer.hpp"
#include "skerry/words/style.hpp"

namespace skerry::words {

/// The one thing that differs.
enum class Contrasted : std::uint8_t { month, sun, power, antenna, hour };

struct Contrast {
  Contrasted thing = Contrasted::month;
  std::string from_name, to_name;     ///< as the user wrote them
  circuit::PathAnswer before, after;  ///< all 24 hours of the same frequencies; alike for Contrasted::hour
  std::optional<std::array<int, 2>> hours;  ///< UTC, of Contrasted::hour: before, after
};

/// "2027-02", "R12 60", "10 W", "a usual home antenna", "14 UTC": the thing in one of the two cases.
[[nodiscard]] std::string contrast_label(const Contrast& contrast, bool after);
/// "only the month changes: 2027-02 and 2027-08"
[[nodiscard]] std::string contrast_heading(const Contrast& contrast);
/// What both cases share, as one line.
[[nodiscard]] std::string contrast_base(const Contrast& contrast);
/// Days in ten band by band, one case under the other, and what gained and lost most.
[[nodiscard]] std::string contrast_text(const Contrast& contrast, const Style& style);
/// The hour and band that gain and lose most days in ten; none: nothing moves by half a day.
struct ContrastMove {
  std::size_t frequency = 0;
  int utc_hour = 0;
  double before = 0, after = 0;
};
[[nodiscard]] std::optional<ContrastMove> largest_move(const Contrast& contrast, bool gain);

}  // namespace skerry::words
