#include "skerry/geodesy/surroundings.hpp"

#include <algorithm>

#include "skerry/core/units.hpp"

namespace skerry::geodesy {

double Shore::from_m(double azimuth_deg) const {
  if (sectors.empty()) return 0;
  const auto next = std::upper_bound(sectors.begin(), sectors.end(), wrap_360(azimuth_deg),
                                     [](double a, const Sector& s) { return a < s.azimuth_deg; });
  return next == sectors.begin() ? sectors.back().from_m : std::prev(next)->from_m;
}

}  // namespace skerry::geodesy
