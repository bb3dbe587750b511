#include "skerry/kit/trip.hpp"

#include "skerry/core/units.hpp"

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

}  // namespace skerry::kit
