#include <algorithm>
#include <cmath>
#include <numbers>

#include "mom_geometry.hpp"
#include "mom_kernel.hpp"
#include "mom_numbers.hpp"
#include "skerry/core/parallel.hpp"

namespace skerry::antenna {

namespace {

using mom::Complex;
using mom::times;

constexpr double pi = std::numbers::pi;
/// A segment from its lower end up; units of 1/k0.
struct Rod {
  double x, y, z;  ///< lower end, x and y from the antenna's middle
  Vec3 along;      ///< whole length
  mom::Shape shape;
  Complex low, high;  ///< current at both ends, positive upward along `along`
};

std::vector<Rod> make_rods(const Solution& solution, double k0, const Vec3& centre) {
  std::vector<Rod> rods;
  for (const SegmentCurrent& c : solution.currents) {
    const bool rises = c.to_m[2] >= c.from_m[2];
    const Vec3& low = rises ? c.from_m : c.to_m;
    const Vec3& high = rises ? c.to_m : c.from_m;
    const Vec3 along = mom::scaled(mom::minus(high, low), k0);
    rods.push_back({(low[0] - centre[0]) * k0, (low[1] - centre[1]) * k0, low[2] * k0, along,
                    mom::Shape(std::sqrt(mom::dot(along, along))), rises ? c.from_a : -c.to_a,
                    rises ? c.to_a : -c.from_a});
  }
  return rods;
}

Complex exponential(Complex z) {
  const double size = std::exp(z.real());
  return {size * std::cos(z.imag()), size * std::sin(z.imag())};
}

/// Integral over b = 0..1 of shape(b) exp(x b), given exp(x).
Complex transform(const mom::Shape& shape, Complex x, Complex exp_x) {
  Complex first;
  Complex third;
  if (std::norm(x) < 1) {
    Complex power = 1;
    for (int k = 0; k < 16; ++k) {
      first += power * (1.0 / (k + 2));
      third += power * (1.0 / (k + 4));
      power = times(power, x) * (1.0 / (k + 1));
    }
  } else {
    const Complex inverse = std::conj(x) / std::norm(x);
    const Complex zeroth = times(exp_x - 1.0, inverse);
    first = times(exp_x - zeroth, inverse);
    const Complex second = times(exp_x - 2.0 * first, inverse);
    third = times(exp_x - 3.0 * second, inverse);
  }
  return (first - shape.cubic * third) * shape.scale;
}

}  // namespace

double ground_absorption_w(const Solution& solution, const Ground& ground) {
  if (ground.kind != GroundKind::real) return 0;
  const Complex eps = complex_permittivity(ground, solution.mhz);
  const double k0 = mom::wave_number(solution.mhz);
  Vec3 low{1e9, 1e9, 1e9};
  Vec3 high{-1e9, -1e9, -1e9};
  for (const SegmentCurrent& c : solution.currents) {
    for (std::size_t k = 0; k < 3; ++k) {
      low[k] = std::min({low[k], c.from_m[k], c.to_m[k]});
      high[k] = std::max({high[k], c.from_m[k], c.to_m[k]});
    }
  }
  const Vec3 centre = mom::scaled(mom::plus(low, high), 0.5);
  const double across = 0.5 * k0 * std::hypot(high[0] - low[0], high[1] - low[1]);
  const double tall = 2 * k0 * high[2];

  // Rings of plane waves: s = k_rho/k0. With m = |u|, u = sqrt(s^2 - 1), s ds = m dm on both sides of s = 1.
  // Panels grow from 1e-3 (the surface wave's pole over sea lies at |u| = 1/|n|) until the fields have
  // decayed by e^-14.
  struct Ring {
    double s;
    Complex u;
    double weight;
  };
  std::vector<Ring> rings;
  for (const bool visible : {true, false}) {
    // Beyond s = 1 nothing turns with height any more, it only decays: there width alone counts.
    const double widest = 3.0 / std::max(1.0, visible ? across + tall : across);
    const double end = visible ? 1.0 : std::max(2.0, 7.0 / (k0 * low[2]));
    double from = 0;
    while (from < end) {
      const double to = std::min({end, from + std::max(1e-3, std::min(0.7 * from, widest))});
      for (int i = 0; i < 8; ++i) {
        const double m = from + (to - from) * mom::gauss8.at[i];
        const double w = (to - from) * mom::gauss8.weight[i] * m;
        if (visible) {
          rings.push_back({std::sqrt(1 - m * m), Complex(0, m), w});
        } else {
          rings.push_back({std::sqrt(1 + m * m), Complex(m, 0), w});
        }
      }
      from = to;
    }
  }
  const std::vector<Rod> rods = make_rods(solution, k0, centre);
  const double lowest = low[2] * k0;
  std::vector<double> power(rings.size());
  parallel_for(rings.size(), 8, [&](std::size_t begin, std::size_t end) {
    for (std::size_t r = begin; r < end; ++r) {
      const auto [s, u, weight] = rings[r];
      const Complex v = std::sqrt(s * s - eps);
      // Field in the ground just below the surface, per unit of source: E across the ray, H across the ray.
      // (1 + Rh)/(2u) = 1/(u + v) and (1 + Rv)/(2u) = eps/(eps u + v): nothing is singular at s = 1.
      const Complex te = 1.0 / (u + v);
      const Complex tm = eps / (eps * u + v);
      // Poynting's vector into the ground: |E|^2 Re(v/(j w mu)), |H|^2 Re(v/(j w eps)).
      const double te_flux = mom::eta0_ohm * std::norm(te) * (v / Complex(0, 1)).real();
      const double tm_flux = mom::eta0_ohm * std::norm(tm) * (v / (Complex(0, 1) * eps)).real();
      const int rays = static_cast<int>(std::ceil(2 * s * across + 14));
      double sum = 0;
      for (int ray = 0; ray < rays; ++ray) {
        const double phi = 2 * pi * ray / rays;
        const double cx = std::cos(phi);
        const double cy = std::sin(phi);
        Complex along = 0;
        Complex aside = 0;
        Complex up = 0;
        for (const Rod& rod : rods) {
          // What stands so much higher than the lowest wire that its field is e^-14 of the other's adds
          // nothing.
          if (u.real() * (rod.z - lowest) > 14) continue;
          const double radial = cx * rod.along[0] + cy * rod.along[1];
          const Complex x = Complex(0, s * radial) - u * rod.along[2];
          const Complex exp_x = exponential(x);
          const Complex exp_minus = std::conj(exp_x) / std::norm(exp_x);
          const Complex to_high = transform(rod.shape, x, exp_x);
          const Complex to_low = times(exp_x, transform(rod.shape, -x, exp_minus));
          const Complex start = exponential(Complex(0, s * (cx * rod.x + cy * rod.y)) - u * rod.z);
          const Complex moment = times(start, times(rod.high, to_high) + times(rod.low, to_low));
          along += moment * radial;
          aside += moment * (cx * rod.along[1] - cy * rod.along[0]);
          up += moment * rod.along[2];
        }
        const Complex h = times(u, along) + Complex(0, s) * up;
        sum += te_flux * std::norm(aside) + tm_flux * std::norm(h);
      }
      power[r] = sum * weight * 2 * pi / rays;
    }
  });
  double total = 0;
  for (const double p : power) total += p;
  return total / (4 * pi * pi);
}

}  // namespace skerry::antenna
