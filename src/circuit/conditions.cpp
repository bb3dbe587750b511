#include "skerry/circuit/conditions.hpp"

#include <algorithm>
#include <cmath>

#include "method.hpp"
#include "skerry/ionosphere/field.hpp"

namespace skerry::circuit {

double highest_geomagnetic_lat_deg(const geodesy::Path& path, int steps) {
  double highest = 0;
  for (int i = 0; i <= steps; ++i) {
    const auto where = geodesy::point_at(path, i / static_cast<double>(steps));
    highest = std::max(highest, std::abs(ionosphere::geomagnetic_lat_deg(where)));
  }
  return highest;
}

double auroral_edge_deg(double kp) {
  using namespace method;
  return quiet_aurora_deg - (quiet_aurora_deg - storm_aurora_deg) / most_kp * std::clamp(kp, 0.0, most_kp);
}

std::vector<Warning> warnings(const geodesy::Path& path, const Disturbance& d, const bool (&lit)[24]) {
  constexpr int steps = 40;
  const double highest = highest_geomagnetic_lat_deg(path, steps);
  const double edge = auroral_edge_deg(d.kp);
  std::vector<Warning> out;
  const auto warn = [&](Warning::Cause cause) -> Warning& {
    Warning w{cause, d.kp, highest, edge, {}};
    std::fill(std::begin(w.at_hour), std::end(w.at_hour), true);
    out.push_back(w);
    return out.back();
  };
  if (d.kp >= method::warn_from_kp && highest >= edge) {
    warn(Warning::Cause::aurora);
  } else if (d.kp >= method::fall_from_kp) {
    warn(Warning::Cause::low_muf);
  }
  if (d.protons && highest >= method::polar_cap_deg) warn(Warning::Cause::protons);
  if (d.flare && std::find(std::begin(lit), std::end(lit), true) != std::end(lit))
    std::copy(std::begin(lit), std::end(lit), std::begin(warn(Warning::Cause::flare).at_hour));
  return out;
}

std::vector<Caution> method_cautions(const geodesy::Path& path, double lowest_mhz) {
  using Kind = Caution::Kind;
  std::vector<Caution> out;
  const auto add = [&](Kind kind, double value) { out.push_back({kind, std::round(value)}); };
  if (path.distance_km < sky_wave_from_km) add(Kind::near, path.distance_km);
  if (path.from_antipode_km < antipode_limit_km) add(Kind::antipode, path.from_antipode_km);
  if (lowest_mhz < method::least_mhz) add(Kind::low_frequency, 0);
  constexpr int steps = 20;
  const double highest = highest_geomagnetic_lat_deg(path, steps);
  if (highest > method::polar_cap_deg) add(Kind::high_latitude, highest);
  return out;
}

}  // namespace skerry::circuit
