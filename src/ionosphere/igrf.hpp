// The spherical harmonics of the Earth's magnetic field, for one place or many at once.
// Layer: ionosphere, internal.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>

#include "skerry/core/units.hpp"
#include "skerry/ionosphere/field.hpp"

namespace skerry::ionosphere::detail {

inline constexpr int field_degree = 13;
inline constexpr int field_terms = field_degree * (field_degree + 3) / 2;  // 104 pairs (n, m), n >= 1

/// Coefficients of one epoch in the order they are used: m = 0, n = 1..13; m = 1, n = 1..13; m = 2, n
/// = 2..13; ...
struct FieldModel {
  double epoch = 0;
  std::array<double, field_terms> g_nt{}, h_nt{};
};

/// The model of an epoch (years, 1900..2030, asserted), linear between the five-year sets. Kept per thread:
/// asking again for the same epoch costs nothing. The reference holds until the thread asks for another
/// epoch.
[[nodiscard]] const FieldModel& field_model(double epoch);

/// The model brought to some heights: each term times (a/r)^(n+2).
template <int Heights>
struct FieldAtHeights {
  std::array<std::array<double, Heights>, field_terms> g{}, h{};
  FieldAtHeights(const FieldModel& model, const std::array<double, Heights>& heights_km);
};

/// Fields at `Lanes` places and `Heights` heights from one set of Legendre values; sines and cosines in, so
/// that the caller's are used again. Regular at the poles: P/sin(colatitude) is what is recurred.
template <int Lanes, int Heights>
void evaluate(const FieldAtHeights<Heights>& model, const double* sin_lat, const double* cos_lat,
              const double* sin_lon, const double* cos_lon, Field (*out)[Heights]);

/// Modified dip in radians from a field and cos(latitude); +-pi/2 at the poles.
[[nodiscard]] inline double modip_rad(const Field& field, double cos_lat) {
  const double dip = std::atan2(field.down_nt, std::hypot(field.north_nt, field.east_nt));
  // Source: Rawer (1963), as used by ITU-R P.1239 section 2: tan X = I / sqrt(cos(latitude)), I in radians.
  return std::atan2(dip, std::sqrt(std::max(cos_lat, 0.0)));
}

}  // namespace skerry::ionosphere::detail
