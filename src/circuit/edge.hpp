// What a ridge in front of a station takes from a ray that passes over it, close above it or through its shadow.
// Layer: circuit (internal).
#pragma once

#include <algorithm>
#include <cmath>

#include "skerry/core/units.hpp"
#include "skerry/geodesy/skyline.hpp"

namespace skerry::circuit {

/// Loss of a single knife edge, dB, 0 where the ray is well clear (v below -0.78), 6.0 at grazing (v = 0).
/// Source: Rec. ITU-R P.526 section 4.1, J(v), from memory; its fit to Fresnel's integral is within 0.1 dB.
[[nodiscard]] inline double knife_edge_db(double v) {
  const double x = v - 0.1;
  return std::max(0.0, 6.9 + 20 * std::log10(std::sqrt(x * x + 1) + x));
}

// Judgement: ground that rises less than this above the level is not an edge in full: the antenna's pattern
// has that ground's reflection in it already. Led in from nothing, so that flat land costs nothing.
inline constexpr double whole_edge_deg = 1;

/// Of a ray that leaves a station (or comes down to it) at an elevation, dB.
///   source  P.526 section 4.1: v = alpha sqrt(2 d / lambda) for an edge d away whose other side is far; alpha
///           is the angle from the ray up to the edge, negative where the ray is clear
///   mhz     1.6..60
[[nodiscard]] inline double skyline_db(const geodesy::Skyline& skyline, double elevation_deg, double mhz) {
  if (skyline.deg <= 0) return 0;
  const double wavelength_km = 0.299792458 / mhz;
  const double below = (skyline.deg - elevation_deg) * rad_per_deg;
  return std::min(1.0, skyline.deg / whole_edge_deg) *
         knife_edge_db(below * std::sqrt(2 * skyline.km / wavelength_km));
}

}  // namespace skerry::circuit
