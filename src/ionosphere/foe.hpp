// The E layer's formula taken apart, so that what belongs to a place or an hour is computed once.
// Layer: ionosphere, internal.
#pragma once

#include <algorithm>
#include <cmath>

#include "skerry/core/units.hpp"

namespace skerry::ionosphere::detail {

/// What a place and a day give: everything but the factor D.
struct FoePlace {
  double abc = 0;    ///< A * B * C, MHz^4
  double power = 0;  ///< exponent p of D
  double night = 0;  ///< 0.072^p
  double floor_mhz4 = 0;
};
[[nodiscard]] FoePlace foe_place(double lat_deg, double declination_deg, double f107);

// Source: ITU-R P.1239 section 4, the three cases of D (second, third and floor from memory).
inline constexpr double foe_plain_limit_deg = 73.0;
inline constexpr double foe_night_deg = 90.0;

/// The layer's strength at one hour. hours_after_sunset counts only if zenith_deg >= 90; negative: none.
[[nodiscard]] inline double foe_at(const FoePlace& place, double cos_zenith, double zenith_deg,
                                   double hours_after_sunset) {
  double d = 0;
  if (zenith_deg <= foe_plain_limit_deg) {
    d = std::pow(cos_zenith, place.power);
  } else if (zenith_deg < foe_night_deg) {
    const double x2 = (zenith_deg - 50.0) * (zenith_deg - 50.0);
    const double bend_deg = 6.27e-13 * x2 * x2 * x2 * x2;
    d = std::pow(cos_deg(zenith_deg - bend_deg), place.power);
  } else {
    const double after = hours_after_sunset < 0 ? 0.0 : std::exp(-1.4 * hours_after_sunset);
    d = place.night * std::max(after, std::exp(25.2 - 0.28 * zenith_deg));
  }
  return std::sqrt(std::sqrt(std::max(place.abc * d, place.floor_mhz4)));
}

}  // namespace skerry::ionosphere::detail
