// Numbers as decimal text, fast and the same on every machine.
// Layer: core.
#pragma once

#include <array>
#include <cassert>
#include <charconv>
#include <cmath>
#include <cstddef>
#include <string>

namespace skerry {

/// Rounded to `digits` decimals, so that the last bit of a libm does not change the bytes; never -0 or NaN.
[[nodiscard]] inline double rounded(double value, int digits) {
  const double scale = std::pow(10.0, digits);
  const double out = std::round(value * scale) / scale;
  return out == 0 ? 0.0 : out;
}

/// Appends `value` rounded half away from zero to `digits` (0..6) decimals, without trailing zeros and never
/// as -0: read back, it is the same double as rounded(). |value| < 1e9, finite.
inline void append_fixed(std::string& out, double value, int digits) {
  static constexpr std::array<double, 7> scales{1, 10, 100, 1e3, 1e4, 1e5, 1e6};
  assert(std::isfinite(value) && std::abs(value) < 1e9 && digits >= 0 && digits <= 6);
  if (!(std::abs(value) < 1e9)) {  // our bug; the release build says so where it happens and goes on
    out += "null";
    return;
  }
  auto units = static_cast<long long>(std::round(value * scales[static_cast<std::size_t>(digits)]));
  if (units < 0) {
    out += '-';
    units = -units;
  }
  const auto scale = static_cast<long long>(scales[static_cast<std::size_t>(digits)]);
  std::array<char, 24> text{};
  const auto whole = std::to_chars(text.data(), text.data() + text.size(), units / scale);
  out.append(text.data(), whole.ptr);
  long long rest = units % scale;
  if (rest == 0) return;
  out += '.';
  for (long long place = scale / 10; rest > 0; place /= 10) {
    out += static_cast<char>('0' + rest / place);
    rest %= place;
  }
}

/// The value to write with so many decimals (0..6): itself, but 0 where it would show as -0.
inline double plus_zero(double value, int digits) {
  static constexpr std::array<double, 7> halves{0.5, 0.05, 5e-3, 5e-4, 5e-5, 5e-6, 5e-7};
  return std::abs(value) <= halves[static_cast<std::size_t>(digits)] ? 0.0 : value;
}

}  // namespace skerry
