// How active the Sun is: one number within the bounds for which the maps and formulas stand.
// Layer: ionosphere. Sees core.
#pragma once

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <compare>

namespace skerry::ionosphere {

/// 12-month smoothed sunspot number, old (pre-2015) scale, 0 to 300. Judgement on the upper end: half as much
/// again as the highest smoothed number of 270 years (201, March 1958); the maps themselves saturate at 160.
class R12 {
 public:
  static constexpr double most = 300;
  constexpr R12() = default;
  /// A number that was checked, or a literal: 0 to 300 (asserted).
  constexpr explicit R12(double value) : value_(value) { assert(value >= 0 && value <= most); }
  /// The nearest there is to any finite number.
  [[nodiscard]] static constexpr R12 nearest(double value) { return R12(std::clamp(value, 0.0, most)); }
  /// So many sunspots more (negative: fewer), as far as the bounds allow.
  [[nodiscard]] constexpr R12 plus(double offset) const { return nearest(value_ + offset); }
  [[nodiscard]] constexpr double value() const { return value_; }
  constexpr operator double() const { return value_; }  // NOLINT(google-explicit-constructor)
  friend constexpr auto operator<=>(R12, R12) = default;

 private:
  double value_ = 0;
};

}  // namespace skerry::ionosphere

/// As its number. @cond OTHERS: Doxygen finds no place for another library's name.
template <>
struct fmt::formatter<skerry::ionosphere::R12> : fmt::formatter<double> {
  template <class Context>
  auto format(skerry::ionosphere::R12 r12, Context& context) const {
    return fmt::formatter<double>::format(r12.value(), context);
  }
};  ///< @endcond
