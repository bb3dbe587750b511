#include "skerry/ionosphere/layers.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "foe.hpp"
#include "skerry/core/units.hpp"

namespace skerry::ionosphere {

namespace detail {

// Source of every constant: ITU-R P.1239 section 4; A, B, C and the exponents as in the public source of the
// International Reference Ionosphere 2016, the limit of 80 degrees and the floor from memory.
FoePlace foe_place(double lat_deg, double declination_deg, double f107) {
  const double lat = std::abs(lat_deg);
  const double cos_lat = cos_deg(lat);
  const bool low = lat < 32.0;
  const double a = 1.0 + 0.0094 * (f107 - 66.0);
  const double noon_deg = std::min(std::abs(lat_deg - declination_deg), 80.0);
  const double m = low ? -1.93 + 1.92 * cos_lat : 0.11 - 0.49 * cos_lat;
  const double c = low ? 23.0 + 116.0 * cos_lat : 92.0 + 35.0 * cos_lat;
  FoePlace out;
  out.abc = a * std::pow(cos_deg(noon_deg), m) * c;
  out.power = lat <= 12.0 ? 1.31 : 1.20;
  out.night = std::pow(0.072, out.power);
  const double floor = 1.0 + 0.021 * f107;
  out.floor_mhz4 = 0.004 * floor * floor;
  return out;
}

}  // namespace detail

double foe_mhz(double lat_deg, double declination_deg, double zenith_deg, double f107,
               double hours_after_sunset) {
  assert(std::abs(lat_deg) <= 90.0 && zenith_deg >= 0.0 && zenith_deg <= 180.0 && f107 > 0.0);
  return detail::foe_at(detail::foe_place(lat_deg, declination_deg, f107), cos_deg(zenith_deg), zenith_deg,
                        hours_after_sunset);
}

}  // namespace skerry::ionosphere
