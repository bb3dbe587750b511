#include <algorithm>
#include <cmath>
#include <map>
#include <mutex>
#include <numbers>
#include <tuple>

#include "mom_circles.hpp"
#include "mom_numbers.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/units.hpp"

namespace skerry::antenna::mom {

namespace {

CirclePlan make_plan(int samples, int panels, double elevation_step_deg) {
  CirclePlan out;
  out.samples = samples;
  out.grid_rows = static_cast<int>(std::lround(90 / elevation_step_deg)) + 1;
  for (int e = 0; e < out.grid_rows; ++e) out.elevations_deg.push_back(e * elevation_step_deg);
  // Power: half the integral of the mean gain over sin(elevation), sin = t^2: dense at the horizon, where
  // vertical gain over ground changes fast.
  for (int panel = 0; panel < panels; ++panel) {
    for (std::size_t i = 0; i < gauss8.at.size(); ++i) {
      const double t = (panel + gauss8.at[i]) / panels;
      out.elevations_deg.push_back(asin_deg(t * t));
      out.weights.push_back(gauss8.weight[i] / panels * t);
    }
  }
  for (const double e : out.elevations_deg) {
    out.sine.push_back(sin_deg(e));
    out.cosine.push_back(cos_deg(e));
  }
  // Trigonometric interpolation through samples at 2 pi (i + 1/2)/n, folded onto the first quarter.
  const auto rows = static_cast<Eigen::Index>(out.elevations_deg.size());
  const Eigen::Index quarter = samples / 4;
  for (std::size_t k = 0; k < symmetries.size(); ++k) {
    const Symmetry& symmetry = symmetries[k];
    const Eigen::Index terms = (samples / 2 - symmetry.first_m + 1) / 2;
    Eigen::MatrixXd wanted(rows, terms), known(terms, quarter);
    for (Eigen::Index j = 0; j < terms; ++j) {
      const double m = symmetry.first_m + 2.0 * static_cast<double>(j);
      const auto f = [&](double angle) { return symmetry.sine ? std::sin(m * angle) : std::cos(m * angle); };
      for (Eigen::Index r = 0; r < rows; ++r) wanted(r, j) = f(nth(out.elevations_deg, r) / deg_per_rad);
      for (Eigen::Index i = 0; i < quarter; ++i)
        known(j, i) = (m == 0 ? 4.0 : 8.0) / samples * f(2 * pi * (static_cast<double>(i) + 0.5) / samples);
    }
    out.interpolation[k] = wanted * known;
  }
  return out;
}

}  // namespace

std::shared_ptr<const CirclePlan> plan_for(int samples, int panels, double elevation_step_deg) {
  // Judgement: antennas of a kit on nine bands need about twenty.
  constexpr std::size_t most_entries = 256;
  static std::mutex guard;
  static std::map<std::tuple<int, int, double>, std::shared_ptr<const CirclePlan>> plans;
  const std::lock_guard lock(guard);
  if (plans.size() >= most_entries) plans.clear();  // plans in use live on
  auto& slot = plans[{samples, panels, elevation_step_deg}];
  if (!slot) slot = std::make_shared<const CirclePlan>(make_plan(samples, panels, elevation_step_deg));
  return slot;
}

}  // namespace skerry::antenna::mom
