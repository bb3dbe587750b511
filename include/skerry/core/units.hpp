// Constants and conversions said once. Conventions of the whole house: longitude east of Greenwich,
// azimuth clockwise from north, elevation up from the horizon, time UTC; a bare number's name ends in its
// unit. Layer: core. Sees nothing.
#pragma once

#include <algorithm>
#include <cmath>
#include <numbers>

namespace skerry {

inline constexpr double rad_per_deg = std::numbers::pi / 180.0;
inline constexpr double deg_per_rad = 180.0 / std::numbers::pi;

/// Radius of the sphere on which hops are computed. Source: ITU-R P.533 uses 6371 km (method note).
inline constexpr double earth_radius_km = 6371.0;
/// Source: SI, exact.
inline constexpr double light_km_per_s = 299792.458;

[[nodiscard]] inline double sin_deg(double deg) {
  return std::sin(deg * rad_per_deg);
}
[[nodiscard]] inline double cos_deg(double deg) {
  return std::cos(deg * rad_per_deg);
}
[[nodiscard]] inline double tan_deg(double deg) {
  return std::tan(deg * rad_per_deg);
}
/// Arguments a rounding error outside -1..1 are pulled back.
[[nodiscard]] inline double asin_deg(double x) {
  return std::asin(std::clamp(x, -1.0, 1.0)) * deg_per_rad;
}
[[nodiscard]] inline double acos_deg(double x) {
  return std::acos(std::clamp(x, -1.0, 1.0)) * deg_per_rad;
}

/// 10 log10; ratio > 0.
[[nodiscard]] inline double to_db(double ratio) {
  return 10.0 * std::log10(ratio);
}
[[nodiscard]] inline double from_db(double db) {
  return std::pow(10.0, db / 10.0);
}

/// Folds any angle into [0, 360) and (-180, 180].
[[nodiscard]] inline double wrap_360(double deg) {
  const double r = std::fmod(deg, 360.0);
  return r < 0 ? r + 360.0 : r;
}
[[nodiscard]] inline double wrap_180(double deg) {
  const double r = wrap_360(deg);
  return r > 180.0 ? r - 360.0 : r;
}
/// Folds hours into [0, 24).
[[nodiscard]] inline double wrap_24(double hours) {
  const double r = std::fmod(hours, 24.0);
  return r < 0 ? r + 24.0 : r;
}

}  // namespace skerry
