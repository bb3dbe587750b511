#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

#include "mom_circles.hpp"
#include "mom_numbers.hpp"
#include "mom_rays.hpp"
#include "skerry/core/units.hpp"

namespace skerry::antenna {

namespace {

std::size_t azimuth_count(double azimuth_step_deg) {
  return static_cast<std::size_t>(std::lround(360 / azimuth_step_deg));
}

FarField by_rays(const mom::Lines& lines, const Ground& ground, const Foreground& foreground,
                 const FarField& level) {
  FarField out = level;
  const std::size_t azimuths = azimuth_count(level.azimuth_step_deg);
  const std::size_t elevations = level.gain_dbi.size() / azimuths;
  mom::Rays rays(lines, ground, &foreground, azimuths);
  for (std::size_t e = 0; e < elevations; ++e) {
    const double elevation_deg = static_cast<double>(e) * level.elevation_step_deg;
    if (rays.all_near(elevation_deg)) continue;
    const auto gain = rays.gain(elevation_deg);
    for (std::size_t a = 0; a < azimuths; ++a) {
      const double g = gain[a];
      out.gain_dbi[e * azimuths + a] =
          static_cast<float>(std::max(mom::least_gain_dbi, to_db(std::max(g, mom::least_gain))));
    }
  }
  return out;
}

}  // namespace

std::vector<FarField> far_fields(const Solution& solution, const Ground& ground,
                                 std::span<const Foreground> foregrounds, double elevation_step_deg,
                                 double azimuth_step_deg) {
  assert(elevation_step_deg > 0 && azimuth_step_deg > 0 && !solution.currents.empty());
  const mom::Lines lines(solution);
  const mom::Circles circles(lines, ground.kind != GroundKind::free_space, elevation_step_deg,
                             azimuth_count(azimuth_step_deg));
  std::vector<FarField> out;
  out.reserve(1 + foregrounds.size());
  out.push_back(circles.level(ground));
  if (ground.kind == GroundKind::real) {
    out[0].ground_loss_w = 1 - out[0].radiated_w - solution.wire_loss_w - solution.load_loss_w;
  }
  for (const Foreground& f : foregrounds) {
    assert(f.from_m >= 0 && std::abs(f.slope_deg) <= 30);
    assert(ground.kind != GroundKind::free_space && f.beyond.kind != GroundKind::free_space);
    const bool round = f.all_round && f.slope_deg == 0;
    out.push_back(round ? circles.round_shore(ground, f, out[0]) : by_rays(lines, ground, f, out[0]));
  }
  return out;
}

FarField far_field(const Solution& solution, const Ground& ground, double elevation_step_deg,
                   double azimuth_step_deg) {
  return far_fields(solution, ground, {}, elevation_step_deg, azimuth_step_deg)[0];
}

FarField far_field(const Solution& solution, const Ground& ground, const Foreground& foreground,
                   double elevation_step_deg, double azimuth_step_deg) {
  return far_fields(solution, ground, {&foreground, 1}, elevation_step_deg, azimuth_step_deg)[1];
}

}  // namespace skerry::antenna
