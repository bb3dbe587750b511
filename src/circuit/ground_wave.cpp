#include "ground_wave.hpp"

#include <array>
#include <cmath>
#include <numbers>
#include <vector>

#include "method.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/units.hpp"
#include "skerry/geodesy/land.hpp"

namespace skerry::circuit {

namespace {

using Complex = std::complex<double>;
using std::numbers::pi;
constexpr Complex j{0, 1};

/// Radius that bends rays straight in a standard atmosphere. Source: common practice, 4/3 of the Earth's.
constexpr double effective_radius_km = earth_radius_km * 4 / 3;

double wave_number_per_km(double mhz) {
  return 2 * pi * mhz * 1e6 / light_km_per_s;
}

/// Square of the normalised surface impedance for grazing vertical polarisation: (epsc - 1) / epsc^2.
Complex surface_impedance_squared(const antenna::Ground& ground, double mhz) {
  const Complex e = antenna::complex_permittivity(ground, mhz);
  return (e - 1.0) / (e * e);
}

/// Norton's F(p) = 1 - j sqrt(pi p) exp(-p) erfc(j sqrt p).
Complex norton(Complex p) {
  const Complex root = std::sqrt(p);
  return 1.0 - j * std::sqrt(pi) * root * faddeeva(-root);
}

/// Flat earth with the first two curvature terms. Source: Hill and Wait 1980; q is the residue series'
/// parameter.
Complex near_factor(Complex p, Complex q) {
  const Complex root = j * std::sqrt(pi * p);
  const Complex f = norton(p);
  const Complex d3 = 1.0 / (2.0 * q * q * q);
  return f + d3 / 2.0 * (1.0 - root - (1.0 + 2.0 * p) * f) +
         d3 * d3 * (1.0 - root * (1.0 - p) - 2.0 * p + 5.0 / 6.0 * p * p + (p * p / 2.0 - 1.0) * f);
}

/// |zeros| of the Airy function and of its derivative, s = 1.., by their asymptotic series.
/// Source: Abramowitz and Stegun 10.4.94 to 10.4.105 (from memory); error under 1e-3 at s = 1, fast falling.
double airy_zero(int s) {
  const double t = 3 * pi * (4 * s - 1) / 8;
  const double t2 = 1 / (t * t);
  return std::pow(t, 2.0 / 3) * (1 + t2 * (5.0 / 48 - t2 * (5.0 / 36 - t2 * 77125.0 / 82944)));
}
double airy_derivative_zero(int s) {
  // The series is poor for the first zero; its value is from tables.
  if (s == 1) return 1.018792971647471;
  const double t = 3 * pi * (4 * s - 3) / 8;
  const double t2 = 1 / (t * t);
  return std::pow(t, 2.0 / 3) * (1 - t2 * (7.0 / 48 - t2 * (35.0 / 288 - t2 * 181223.0 / 207360)));
}

/// Follows dt/dz = slope(z, t) from t at z = 0 to z = end, by 60 Runge-Kutta steps.
template <class Slope>
Complex follow(Complex t, Complex end, const Slope& slope) {
  constexpr int steps = 60;
  const Complex h = end / static_cast<double>(steps);
  for (int i = 0; i < steps; ++i) {
    const Complex at = h * static_cast<double>(i);
    const Complex k1 = slope(at, t);
    const Complex k2 = slope(at + h / 2.0, t + h / 2.0 * k1);
    const Complex k3 = slope(at + h / 2.0, t + h / 2.0 * k2);
    const Complex k4 = slope(at + h, t + h * k3);
    t += h / 6.0 * (k1 + 2.0 * k2 + 2.0 * k3 + k4);
  }
  return t;
}

/// Root t_s of w'(t) = q w(t), followed from q = 0 (dt/dq = 1/(t - q^2)) or from q = infinity (with u = 1/q:
/// dt/du = 1/(1 - t u^2)), whichever is nearer.
Complex residue_root(int s, Complex q) {
  const Complex turn = std::polar(1.0, -pi / 3);
  // Judgement: the two starts are about equally near where |q| is 1.3 times the root of s.
  if (std::abs(q) < 1.3 * std::sqrt(static_cast<double>(s))) {
    return follow(airy_derivative_zero(s) * turn, q,
                  [](Complex at, Complex t) { return 1.0 / (t - at * at); });
  }
  return follow(airy_zero(s) * turn, 1.0 / q,
                [](Complex at, Complex t) { return 1.0 / (1.0 - t * at * at); });
}

/// Residue series of van der Pol and Bremmer: exp(-j pi/4) sqrt(pi x) sum exp(-j x t_s) / (t_s - q^2).
Complex far_factor(double x, Complex q) {
  Complex sum = 0;
  for (int s = 1; s <= 200; ++s) {
    const Complex t = residue_root(s, q);
    const Complex term = std::exp(-j * x * t) / (t - q * q);
    sum += term;
    if (std::abs(term) < 1e-7 * std::abs(sum) && s > 3) break;
  }
  return std::polar(1.0, -pi / 4) * std::sqrt(pi * x) * sum;
}

}  // namespace

Complex faddeeva(Complex z) {
  constexpr int n = 40;
  constexpr int m = 2 * n;
  static const double l = std::sqrt(n / std::sqrt(2.0));
  static const std::array<double, n> coefficients = [] {
    std::array<double, n> a{};
    for (int k = 1; k <= n; ++k) {
      double sum = 0;
      for (int i = -m + 1; i < m; ++i) {
        const double theta = i * pi / m;
        const double t = l * std::tan(theta / 2);
        sum += std::exp(-t * t) * (l * l + t * t) * std::cos(k * theta);
      }
      nth(a, k - 1) = sum / (2 * m);
    }
    return a;
  }();
  const Complex ratio = (l + j * z) / (l - j * z);
  Complex polynomial = 0;
  for (int k = n; k >= 1; --k) polynomial = polynomial * ratio + nth(coefficients, k - 1);
  const Complex under = l - j * z;
  return 2.0 * polynomial / (under * under) + 1 / std::sqrt(pi) / under;
}

Complex ground_wave_factor(const antenna::Ground& ground, double mhz, double distance_km) {
  if (ground.kind == antenna::GroundKind::perfect || distance_km <= 0) return 1;
  const double k = wave_number_per_km(mhz);
  const Complex z2 = surface_impedance_squared(ground, mhz);
  const double scale = std::cbrt(k * effective_radius_km / 2);
  const double x = scale * distance_km / effective_radius_km;
  const Complex q = -j * scale * std::sqrt(z2);
  // Judgement: where the two forms agree best over all grounds and 1.6 to 30 MHz (Measured:
  // ground_wave_test).
  constexpr double hand_over = 0.25;
  return x < hand_over ? near_factor(-j * k * distance_km / 2.0 * z2, q) : far_factor(x, q);
}

double ground_wave_field_dbuv(std::span<const Stretch> stretches, double mhz) {
  double total_km = 0;
  for (const auto& s : stretches) total_km += s.length_km;
  if (stretches.empty() || total_km <= 0) return method::ground_field_dbuv;
  const auto field_db = [&](const antenna::Ground& ground, double km) {
    return method::ground_field_dbuv - 20 * std::log10(km) +
           20 * std::log10(std::abs(ground_wave_factor(ground, mhz, km)));
  };
  // Millington: go there and back, change curves at each border keeping the field continuous, take the mean
  // of both in dB.
  const auto one_way = [&](auto begin, auto end) {
    double db = 0;
    double at_km = 0;
    bool first = true;
    for (auto it = begin; it != end; ++it) {
      if (it->length_km <= 0) continue;
      const double next_km = at_km + it->length_km;
      db = first ? field_db(it->ground, next_km)
                 : db + field_db(it->ground, next_km) - field_db(it->ground, at_km);
      first = false;
      at_km = next_km;
    }
    return db;
  };
  return (one_way(stretches.begin(), stretches.end()) +
          one_way(std::make_reverse_iterator(stretches.end()),
                  std::make_reverse_iterator(stretches.begin()))) /
         2;
}

double ground_wave_loss_db(std::span<const Stretch> stretches, double mhz) {
  // A short vertical of effective height h delivers (E h)^2 / (4 R) with R = 160 pi^2 (h/lambda)^2, so E^2
  // lambda^2 / (640 pi^2).
  const double field_db_v = ground_wave_field_dbuv(stretches, mhz) - 120;  // dB(V/m) for 1 kW = 30 dBW
  const double lambda_m = light_km_per_s / 1000 / mhz;
  return method::kilowatt_dbw - (field_db_v + 20 * std::log10(lambda_m) - to_db(640 * pi * pi));
}

std::vector<Stretch> surface_along(const geodesy::Path& path) {
  constexpr double step_km = 2;
  const int steps = std::max(1, static_cast<int>(std::ceil(path.distance_km / step_km)));
  std::vector<Stretch> out;
  bool last = false;
  for (int i = 0; i < steps; ++i) {
    const bool on_land = geodesy::is_land(geodesy::point_at(path, (i + 0.5) / steps));
    if (out.empty() || on_land != last)
      out.push_back({0, on_land ? antenna::average_land() : antenna::sea()});
    out.back().length_km += path.distance_km / steps;
    last = on_land;
  }
  return out;
}

}  // namespace skerry::circuit
