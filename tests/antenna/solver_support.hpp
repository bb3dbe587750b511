// Small antennas for the solver's tests.
#pragma once

#include <algorithm>
#include <cmath>
#include <complex>
#include <numbers>
#include <string>

#include "skerry/antenna/solver.hpp"

namespace solver_test {

using namespace skerry::antenna;

inline constexpr double pi = std::numbers::pi;
inline double wavelength_m(double mhz) {
  return 299.792458 / mhz;
}

inline const Ground free_space{GroundKind::free_space, 1, 0, "free"};
inline const Ground perfect{GroundKind::perfect, 1, 0, "perfect"};
inline const Ground salt_water{GroundKind::real, 70, 5, "sea"};
inline const Ground average{GroundKind::real, 13, 0.005, "average"};
inline const Ground rock{GroundKind::real, 5, 0.001, "rock"};
inline const Ground fresh_water{GroundKind::real, 80, 0.003, "fresh water"};
inline const Ground very_dry{GroundKind::real, 3, 0.0001, "very dry"};

/// Metal so good that its loss does not show.
inline constexpr double no_loss = 1e16;

inline Wire wire(Vec3 from, Vec3 to, double radius_mm = 0.5, double conductivity = 5.8e7) {
  Wire w;
  w.from_m = from;
  w.to_m = to;
  w.radius_mm = radius_mm;
  w.conductivity_s_per_m = conductivity;
  return w;
}

inline WireAntenna antenna(std::vector<Wire> wires, Feed feed) {
  WireAntenna a;
  a.id = "test";
  a.wires = std::move(wires);
  a.feed = feed;
  return a;
}

/// Horizontal, centre-fed, along x.
inline WireAntenna dipole(double length_m, double height_m, double radius_mm = 0.5,
                          double conductivity = 5.8e7) {
  return antenna({wire({-length_m / 2, 0, height_m}, {length_m / 2, 0, height_m}, radius_mm, conductivity)},
                 {1, 0.5});
}

/// Upright, from the given height.
inline WireAntenna upright(double length_m, double base_m, double at, double radius_mm = 0.5,
                           double conductivity = 5.8e7) {
  return antenna({wire({0, 0, base_m}, {0, 0, base_m + length_m}, radius_mm, conductivity)}, {1, at});
}

inline double best_dbi(const FarField& f) {
  return *std::max_element(f.gain_dbi.begin(), f.gain_dbi.end());
}
inline double at_dbi(const FarField& f, int elevation_deg, int azimuth_deg) {
  return f.gain_dbi[static_cast<std::size_t>(elevation_deg * 36 + azimuth_deg / 10)];
}

/// What a wire of vanishing radius would do: `ask` at three radii (mm) carried to 1/Omega = 0 by a parabola,
/// as the classical expansions in 1/Omega do; Omega = 2 ln(length/radius).
template <class Ask>
std::complex<double> thin_limit(double length_m, Ask ask) {
  double x[3];
  std::complex<double> z[3];
  const double radii_mm[3] = {0.01, 0.1, 1};
  for (int i = 0; i < 3; ++i) {
    x[i] = 1 / (2 * std::log(length_m / (radii_mm[i] * 1e-3)));
    z[i] = ask(radii_mm[i]);
  }
  std::complex<double> at_zero = 0;
  for (int i = 0; i < 3; ++i) {
    double weight = 1;
    for (int j = 0; j < 3; ++j) {
      if (j != i) weight *= x[j] / (x[j] - x[i]);
    }
    at_zero += weight * z[i];
  }
  return at_zero;
}

}  // namespace solver_test
