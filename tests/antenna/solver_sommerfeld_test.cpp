#include <fstream>
#include <random>
#include <sstream>

#include "check.hpp"
#include "mom_sommerfeld.hpp"
#include "mom_system.hpp"
#include "solver_support.hpp"

using namespace solver_test;
using namespace skerry::antenna::mom;

namespace {

std::ifstream authority(const char* name) {
  return std::ifstream(std::string(SKERRY_SOURCE_DIR "/tests/antenna/authorities/") + name);
}

Reflected integral(Complex eps, double x, double y, double x_max) {
  const SpectralPath path(eps, x_max, y);
  Reflected out;
  path.integrate(std::span(&x, 1), std::span(&y, 1), std::span(&out, 1));
  return out;
}

std::vector<Complex> grounds_at(double mhz) {
  std::vector<Complex> out;
  for (const Ground& g : {salt_water, average, rock, fresh_water, very_dry})
    out.push_back(complex_permittivity(g, mhz));
  return out;
}

/// Norton's attenuation function F(w) = 1 - j sqrt(pi w) exp(-w) erfc(j sqrt w).
Complex attenuation(Complex w) {
  const Complex z = Complex(0, 1) * std::sqrt(w);
  Complex term = z;
  Complex sum = z;
  for (int n = 1; n < 200; ++n) {
    term *= -z * z / static_cast<double>(n);
    sum += term / static_cast<double>(2 * n + 1);
  }
  const Complex erfc = 1.0 - 2 / std::sqrt(pi) * sum;
  return 1.0 - Complex(0, 1) * std::sqrt(pi * w) * std::exp(-w) * erfc;
}

}  // namespace

TEST_CASE("Bessel functions agree with mpmath", "[antenna][solver][known]") {
  // Source: mpmath 1.4, 15 digits (authorities/sommerfeld.py).
  auto in = authority("bessel.txt");
  std::string line;
  int rows = 0;
  while (std::getline(in, line)) {
    if (line.empty() || line[0] == '#') continue;
    std::istringstream fields(line);
    double v[6];
    for (double& x : v) fields >> x;
    REQUIRE(fields);
    const Complex z(v[0], v[1]);
    CAPTURE(z);
    const auto j = bessel_j01(z);
    // 2e-9 is the header's promise; Im z makes the functions themselves grow as exp |Im z|.
    const double tolerance = 2e-9 * std::exp(std::abs(v[1]));
    CHECK(std::abs(j.j0 - Complex(v[2], v[3])) < tolerance);
    CHECK(std::abs(j.j1 - Complex(v[4], v[5])) < tolerance);
    if (v[1] == 0) {
      CHECK(std::abs(bessel_j01(v[0]).j0 - v[2]) < 2e-9);
      CHECK(std::abs(bessel_j01(v[0]).j1 - v[4]) < 2e-9);
    }
    ++rows;
  }
  CHECK(rows == 14);
}

TEST_CASE("The reflected potentials agree with mpmath's quadrature", "[antenna][solver][known]") {
  // Source: mpmath 1.4 on the definition with Sommerfeld's own potentials (authorities/sommerfeld.py), five
  // grounds.
  auto in = authority("sommerfeld.txt");
  std::string line;
  int rows = 0;
  double worst = 0;
  while (std::getline(in, line)) {
    if (line.empty() || line[0] == '#') continue;
    std::istringstream fields(line);
    double v[12];
    for (double& x : v) fields >> x;
    REQUIRE(fields);
    CAPTURE(line);
    for (const double x_max : {v[2], 30.0}) {
      const Reflected f = integral({v[0], v[1]}, v[2], v[3], x_max);
      const double r = std::hypot(v[2], v[3]);
      const Complex got[4] = {f.horizontal, f.vertical, f.charge, f.coupling};
      for (int k = 0; k < 4; ++k) {
        const double error = std::abs(got[k] - Complex(v[4 + 2 * k], v[5 + 2 * k])) * r;
        worst = std::max(worst, error);
        CHECK(error < 1e-6);  // the header's promise, in units of the direct field's 1/R
      }
    }
    ++rows;
  }
  CHECK(rows == 50);
  UNSCOPED_INFO("worst " << worst);
}

TEST_CASE("The ground table gives back the integrals", "[antenna][solver][property]") {
  // 3e-4 of the direct field is the header's promise.
  std::mt19937 random(1);
  std::uniform_real_distribution<double> part(0, 1);
  for (const double mhz : {1.9, 7.1, 28.3}) {
    for (const Complex eps : grounds_at(mhz)) {
      for (const double lowest_m : {0.01, 0.0999, 0.499}) {
        const double y_min = 2 * lowest_m * 2 * pi / wavelength_m(mhz);
        const double y_first = 2 * 0.00999 * 2 * pi / wavelength_m(mhz);
        const double x_max = 9 * pi;
        const SommerfeldTable table(eps, y_first, {x_max, y_min, 2 * pi});
        const SpectralPath path(eps, x_max, y_min);
        double worst = 0;
        for (int i = 0; i < 60; ++i) {
          const double y = y_min * std::pow(2 * pi / y_min, part(random));
          const double x = x_max * std::pow(1e-5, part(random));
          Reflected exact;
          path.integrate(std::span(&x, 1), std::span(&y, 1), std::span(&exact, 1));
          const Reflected got = table.at(x, y);
          const double r = std::hypot(x, y);
          worst =
              std::max({worst, r * std::abs(got.horizontal - exact.horizontal),
                        r * std::abs(got.vertical - exact.vertical), r * std::abs(got.charge - exact.charge),
                        r * std::abs(got.coupling - exact.coupling)});
        }
        CAPTURE(mhz, eps, lowest_m);
        CHECK(worst < 3e-4);
      }
    }
  }
}

TEST_CASE("Ground that is nearly air reflects nearly nothing, ground that is metal gives images",
          "[antenna][solver][property]") {
  // Limits of the reflection coefficients: 0 at eps = 1; -1 and +1 for infinite conductivity.
  for (const double x : {0.0, 0.1, 3.0}) {
    for (const double y : {0.05, 1.0}) {
      const double r = std::hypot(x, y);
      const Complex image = Complex(std::cos(r), -std::sin(r)) / r;
      const Reflected air = integral({1 + 1e-7, 0}, x, y, 10);
      for (const Complex v : {air.horizontal, air.vertical, air.charge, air.coupling})
        CHECK(std::abs(v) * r < 1e-5);
      const Reflected metal = integral({1, -1e10}, x, y, 10);
      // What is left goes as 1/(|n| y) = 2e-4 at the lower height.
      CHECK(std::abs(metal.horizontal + image) * r < 5e-4);
      CHECK(std::abs(metal.vertical - image) * r < 5e-4);
      CHECK(std::abs(metal.charge + image) * r < 5e-4);
      CHECK(std::abs(metal.coupling) * r < 5e-4);
    }
  }
}

TEST_CASE("A vertical's field along the ground fades as Norton's function says", "[antenna][solver][known]") {
  // Source: Norton, "The propagation of radio waves over the surface of the earth and in the upper
  // atmosphere", Proc. IRE 25(9), 1937, flat earth (from memory): field over that on perfect ground = F(w), w
  // = -j k R/2 (1/eps)(1 - 1/eps). Tolerance 3 % of the unattenuated field: the formula leaves out terms of
  // order 1/(k R) = 1.6 %, and the short wires stand 0.01 to 0.02 wavelengths up, where the field has risen
  // by up to k h/|n|.
  const double mhz = 7.1;
  const double lambda = wavelength_m(mhz);
  for (const Ground& ground : {salt_water, average, rock}) {
    const double distance = 10 * lambda;
    const WireAntenna pair =
        antenna({wire({0, 0, 0.1}, {0, 0, 0.6}), wire({distance, 0, 0.1}, {distance, 0, 0.6})}, {});
    const std::vector<Feed> feeds{{1, 0.5}, {2, 0.5}};
    const auto real = port_impedances(pair, feeds, ground, mhz);
    const auto ideal = port_impedances(pair, feeds, perfect, mhz);
    REQUIRE(real);
    REQUIRE(ideal);
    const Complex eps = complex_permittivity(ground, mhz);
    const Complex w = Complex(0, -0.5) * (2 * pi * 10) / eps * (1.0 - 1.0 / eps);
    const Complex expected = attenuation(w);
    const Complex got = (*real)(0, 1) / (*ideal)(0, 1);
    CAPTURE(ground.name, w, expected, got);
    CHECK(std::abs(got - expected) < 0.03);
  }
}

TEST_CASE("Antennas of one ground share a table, which grows without changing what it says",
          "[antenna][solver][edge]") {
  const Complex eps(11.5, -3.25);
  const double k0 = 0.3;
  const auto small = ground_table(eps, k0, 12, 0.6, 5);
  CHECK(ground_table(eps, k0, 20, 2.5, 7) == small);
  const auto low = ground_table(eps, k0, 20, 0.1, 5);
  CHECK(low->size() > small->size());
  const auto large = ground_table(eps, k0, 60, 0.6, 30);
  CHECK(large->size() > small->size());
  CHECK(ground_table(eps, k0, 12, 0.6, 5) == large);
  for (const double x : {0.0, 0.7, 5.6, 6.59}) {
    for (const double y : {0.3, 1.1, 4.19}) {
      CHECK(small->at(x, y).vertical == large->at(x, y).vertical);
      CHECK(small->at(x, y).coupling == large->at(x, y).coupling);
      CHECK(small->at(x, y).charge == low->at(x, y).charge);
    }
  }
}
