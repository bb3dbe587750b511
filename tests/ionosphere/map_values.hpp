// One value of both maps: what sky() computes in bulk, for a modified dip given from outside (degrees).
#pragma once

#include "maps.hpp"
#include "skerry/core/units.hpp"

namespace skerry::ionosphere::detail {

struct MapValues {
  double fof2_mhz = 0, m3000f2 = 0;
};
inline MapValues map_values(const HourCoefficients& coefficients, GeoPoint where, double modip_deg,
                            int hour) {
  Eigen::Matrix<double, 1, fof2_functions> g;
  place_functions(sin_deg(modip_deg), cos_deg(where.lat_deg), cos_deg(where.lon_deg), sin_deg(where.lon_deg),
                  g.data());
  return {g * coefficients.col(hour), g * coefficients.col(hours + hour)};
}

}  // namespace skerry::ionosphere::detail
