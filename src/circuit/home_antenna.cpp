// What a far station is likely to transmit and listen with, where nobody says.

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <tuple>

#include "skerry/circuit/contact.hpp"

namespace skerry::circuit {

namespace {

constexpr std::array elevations_deg{1., 2., 3., 4., 6., 8., 10., 13., 17., 22., 30., 40., 55., 70., 90.};
constexpr std::array frequencies_mhz{1.85, 3.6, 5.36, 7.1, 10.12, 14.1, 18.1, 21.2, 24.9, 28.4};
using Row = std::array<double, elevations_deg.size()>;
/// Source: our own solver, over average ground: mean power, over all azimuths, of a half-wave inverted V with
/// its apex 10 m up and of a quarter-wave vertical with four radials (common practice for home stations).
/// tests/circuit/home_antenna_test.cpp computes it again.
constexpr std::array<Row, frequencies_mhz.size()> gains_dbi{{
    {-17.9, -12.7, -9.9, -8.2, -5.9, -4.6, -3.8, -2.9, -2.3, -2.0, -1.9, -2.3, -3.1, -3.7, -4.0},
    {-19.7, -14.4, -11.4, -9.5, -7.1, -5.6, -4.5, -3.5, -2.6, -2.0, -1.5, -1.4, -1.4, -1.4, -1.3},
    {-20.4, -14.9, -12.0, -10.0, -7.4, -5.8, -4.7, -3.6, -2.6, -1.8, -1.2, -0.9, -0.7, -0.5, -0.4},
    {-20.7, -15.2, -12.2, -10.1, -7.5, -5.8, -4.6, -3.4, -2.2, -1.3, -0.5, 0.2, 0.6, 1.0, 1.1},
    {-20.7, -15.1, -12.1, -10.0, -7.3, -5.5, -4.2, -2.8, -1.5, -0.5, 0.5, 1.1, 1.3, 1.2, 1.1},
    {-20.0, -14.4, -11.3, -9.1, -6.3, -4.4, -3.0, -1.5, -0.1, 1.0, 1.7, 1.6, 0.2, -2.0, -3.6},
    {-18.9, -13.2, -10.0, -7.8, -4.8, -2.8, -1.4, 0.1, 1.4, 2.2, 2.3, 0.7, -4.2, -7.0, -5.6},
    {-18.2, -12.4, -9.2, -7.0, -4.0, -2.0, -0.6, 0.9, 2.0, 2.4, 1.6, -1.6, -4.0, -0.6, 0.9},
    {-17.6, -11.9, -8.6, -6.4, -3.4, -1.5, -0.1, 1.2, 2.0, 1.9, -0.2, -3.2, 0.2, 1.9, 1.9},
    {-16.9, -11.2, -7.9, -5.7, -2.7, -0.8, 0.4, 1.5, 2.0, 1.2, -1.9, -1.3, 1.7, 0.5, -1.6},
}};

/// Where a value stands between the knots of a table: the knot below and the share of the next.
struct Between {
  std::size_t below;
  double share;
};
template <class Knots>
Between between(const Knots& knots, double value) {
  const double v = std::clamp(value, knots.front(), knots.back());
  // Counted, not searched: the inner loop asks for millions, and no branch of a search could be foreseen.
  std::size_t below = 0;
  for (std::size_t i = 1; i + 1 < knots.size(); ++i) below += v >= knots[i] ? 1 : 0;
  return {below, (v - knots[below]) / (knots[below + 1] - knots[below])};
}

}  // namespace

HomeAntenna::HomeAntenna(double mhz) {
  static_assert(std::tuple_size_v<decltype(gain_dbi_)> == elevations_deg.size());
  const auto f = between(frequencies_mhz, mhz);
  for (std::size_t e = 0; e < elevations_deg.size(); ++e)
    gain_dbi_[e] = std::lerp(gains_dbi[f.below][e], gains_dbi[f.below + 1][e], f.share);
}

double HomeAntenna::gain_dbi(double elevation_deg) const {
  const auto e = between(elevations_deg, elevation_deg);
  return std::lerp(gain_dbi_[e.below], gain_dbi_[e.below + 1], e.share);
}

double HomeAntenna::most_dbi() const {
  return *std::max_element(gain_dbi_.begin(), gain_dbi_.end());
}

}  // namespace skerry::circuit
