#include "skerry/circuit/hop_table.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>

#include "formulas.hpp"

namespace skerry::circuit {

namespace {

HopMirror mirror(double height_km) {
  return {height_km, 2 * earth_radius_km * std::acos(earth_radius_km / (earth_radius_km + height_km))};
}

}  // namespace

std::optional<double> hop_angle_deg(double distance_km, int hops, double height_km) {
  assert(distance_km > 0 && hops >= 1 && height_km > 0);
  const double angle = elevation_deg(distance_km / hops, height_km);
  // The longest hop leaves along the horizon, give or take rounding.
  constexpr double rounding_deg = 1e-9;
  if (angle < -rounding_deg) return std::nullopt;
  return std::max(0.0, angle);
}

HopTable hop_table(double f2_height_km) {
  assert(f2_height_km >= 200 && f2_height_km <= 500);
  HopTable out{mirror(e_height_km), mirror(f2_height_km), {}};
  std::vector<double> distances{100, 200, 300, 500, 750, 1000, 1250, 1500, 2000, 2500, 3000, 3500, 4000};
  distances.push_back(out.e.longest_km);
  distances.push_back(out.f2.longest_km);
  std::sort(distances.begin(), distances.end());
  for (const double km : distances) {
    HopRow row{km, hop_angle_deg(km, 1, e_height_km), hop_angle_deg(km, 1, f2_height_km)};
    if (row.e_deg || row.f2_deg) out.rows.push_back(row);
  }
  return out;
}

}  // namespace skerry::circuit
