#include <algorithm>
#include <array>
#include <cmath>
#include <set>
#include <utility>

#include "skerry/core/needed.hpp"
#include "skerry/core/units.hpp"
#include "skerry/terrain/around.hpp"

namespace skerry::terrain {

namespace {

/// To the nearest of so many parts of one: the number that its decimals read back as.
double rounded(double x, double parts) {
  return std::round(x * parts) / parts;
}

geodesy::Horizon few_points(const Around& around, double within_deg) {
  const std::size_t count = around.skyline.size();
  const auto told = [&](std::size_t i) {
    const auto& s = around.skyline[i % count];
    return geodesy::Skyline{rounded(s.deg, 10),
                            std::max(geodesy::nearest_skyline_km, rounded(s.km, s.km < 10 ? 10 : 1))};
  };
  std::vector<std::size_t> kept{0};
  add_needed(kept, 0, count, [&](std::size_t a, std::size_t b, std::size_t i) {
    const auto from = told(a), to = told(b);
    const double share = static_cast<double>(i - a) / static_cast<double>(b - a);
    const auto& truth = around.skyline[i];
    const double miss = std::abs(std::lerp(from.deg, to.deg, share) - truth.deg) / within_deg;
    // Ground that does not stand above the level hides nothing, wherever it is.
    if (truth.deg <= within_deg) return miss;
    const double km = std::lerp(from.km, to.km, share);
    return std::max(miss, std::abs(std::log2(km / truth.km)));
  });
  geodesy::Horizon out;
  for (const auto i : kept) out.points.push_back({around.azimuth_deg(i), told(i)});
  return out;
}

/// Distances in steps of 1, 2, 5 and 10: each within a factor of 1.6.
double as_said_m(double m) {
  static constexpr std::array steps{1.0, 2.0, 5.0, 10.0};
  const double ten = std::pow(10, std::floor(std::log10(std::max(10.0, m))));
  const auto away = [&](double s) { return std::abs(std::log(m / (s * ten))); };
  return ten *
         *std::min_element(steps.begin(), steps.end(), [&](double a, double b) { return away(a) < away(b); });
}

geodesy::Shore few_sectors(const Around& around) {
  const std::size_t count = around.shore.size();
  const auto said = [&](std::size_t i) {
    const auto& shore = around.shore[i];
    return shore ? std::min(as_said_m(shore->from_m), 1000 * furthest_shore_km) : 0.0;
  };
  geodesy::Shore out;
  for (std::size_t i = 0; i < count; ++i) {
    if (said(i) != said((i + count - 1) % count)) out.sectors.push_back({around.azimuth_deg(i), said(i)});
  }
  if (out.sectors.empty() && said(0) > 0) out.sectors.push_back({0, said(0)});
  return out;
}

/// The fall of each azimuth in steps of so many degrees; a step is held until the ground is well
/// beyond it. Judgement: how well.
std::vector<double> stepped_falls(const Around& around, double step_deg) {
  std::vector<double> out;
  double held = 1e9;
  for (std::size_t i = 0; i < around.fall_deg.size(); ++i) {
    const double fall = std::max(around.fall_deg[i], -std::max(0.0, around.skyline[i].deg));
    if (std::abs(fall - held) > 0.65 * step_deg) held = step_deg * std::round(fall / step_deg);
    out.push_back(held);
  }
  return out;
}

/// Each fall with each distance of the sea is a pattern to be computed, of every antenna on every band: there must not
/// be many. Judgement: files of 30 m know a slope over 100 m to 2 degrees.
std::vector<double> few_falls(const Around& around, const geodesy::Shore& shore) {
  constexpr std::size_t most_pairs = 12;
  for (const double step_deg : {4.0, 6.0, 8.0}) {
    auto falls = stepped_falls(around, step_deg);
    std::set<std::pair<double, double>> pairs;
    for (std::size_t i = 0; i < falls.size(); ++i)
      pairs.emplace(falls[i], shore.from_m(around.azimuth_deg(i)));
    if (pairs.size() <= most_pairs) return falls;
  }
  return stepped_falls(around, 12);
}

geodesy::Foreground few_slopes(const Around& around, const std::vector<double>& falls) {
  const std::size_t count = falls.size();
  geodesy::Foreground out;
  for (std::size_t i = 0; i < count; ++i) {
    const bool edge = falls[i] != falls[(i + count - 1) % count] || falls[i] != falls[(i + 1) % count];
    if (edge) out.points.push_back({around.azimuth_deg(i), falls[i]});
  }
  if (out.points.empty() && falls.front() != 0) out.points.push_back({0, falls.front()});
  return out;
}

}  // namespace

geodesy::Surroundings in_few_numbers(const Around& around, double within_deg) {
  auto shore = few_sectors(around);
  auto slopes = few_slopes(around, few_falls(around, shore));
  return {std::round(around.ground_m), few_points(around, within_deg), std::move(slopes), std::move(shore)};
}

}  // namespace skerry::terrain
