#include "skerry/kit/trip.hpp"

#include <algorithm>
#include <chrono>
#include <utility>

#include "skerry/core/units.hpp"
#include "skerry/sun/nearest_zone.hpp"

namespace skerry::kit {

double Site::sea_towards_m(double azimuth_deg) const {
  if (!shore.sectors.empty()) return shore.from_m(azimuth_deg);
  const double width = sea_azimuth_to_deg - sea_azimuth_from_deg;
  const bool in_sight = width >= 360 || wrap_360(azimuth_deg - sea_azimuth_from_deg) <= wrap_360(width);
  return in_sight ? sea_from_m : 0;
}

void Site::take(FromFiles from) {
  if (!from.altitude_told) altitude_m = from.found.altitude_m;
  if (!from.horizon_told) horizon = from.found.horizon;
  if (!from.foreground_told) foreground = from.found.foreground;
  if (!from.shore_told) shore = from.found.shore;
  from_files = std::move(from);
}

noise::Environment shifted(noise::Environment from, int classes_noisier) {
  // The classes stand from city to quiet.
  const int last = static_cast<int>(noise::Environment::quiet);
  return static_cast<noise::Environment>(std::clamp(static_cast<int>(from) - classes_noisier, 0, last));
}

std::optional<sun::ZoneDoubt> zone_doubt(const Trip& trip, const Site& site) {
  return sun::zone_doubt(site.zone, site.at, start_of(trip.first_day),
                         start_of(trip.last_day) + std::chrono::hours{24});
}

}  // namespace skerry::kit
