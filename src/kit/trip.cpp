#include "skerry/kit/trip.hpp"

#include <algorithm>
#include <chrono>

#include "skerry/core/units.hpp"
#include "skerry/sun/nearest_zone.hpp"

namespace skerry::kit {

double Horizon::elevation_deg(double azimuth_deg) const {
  if (points.empty()) return 0;
  const double azimuth = wrap_360(azimuth_deg);
  std::size_t next = 0;
  while (next < points.size() && points[next][0] <= azimuth) ++next;
  const auto& after = points[next % points.size()];
  const auto& before = points[(next + points.size() - 1) % points.size()];
  // Round the circle: before the first point and after the last one.
  const double span = points.size() == 1 ? 360 : wrap_360(after[0] - before[0]);
  if (span == 0) return before[1];
  return before[1] + (after[1] - before[1]) * wrap_360(azimuth - before[0]) / span;
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
