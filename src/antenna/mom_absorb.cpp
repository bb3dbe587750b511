#include "mom_absorb.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <span>

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

/// Integral over b = 0..1 of shape(b) exp(x b), times a factor; given that factor, and it times exp(x): neither
/// alone need be a number where a piece is long and its wave faint.
Complex transform(const mom::Shape& shape, Complex x, Complex factor, Complex at_end) {
  Complex first;
  Complex third;
  if (std::norm(x) < 1) {
    Complex power = 1;
    for (int k = 0; k < 16; ++k) {
      first += power * (1.0 / (k + 2));
      third += power * (1.0 / (k + 4));
      power = times(power, x) * (1.0 / (k + 1));
    }
    first = times(first, factor);
    third = times(third, factor);
  } else {
    const Complex inverse = std::conj(x) / std::norm(x);
    const Complex zeroth = times(at_end - factor, inverse);
    first = times(at_end - zeroth, inverse);
    const Complex second = times(at_end - 2.0 * first, inverse);
    third = times(at_end - 3.0 * second, inverse);
  }
  return (first - shape.cubic * third) * shape.scale;
}

/// Judgement: a piece of wire is asked for no wave whose power has fallen by e^-14 on its way down.
constexpr double faint = 7;

/// A cone of plane waves: s = k_rho/k0, u = sqrt(s^2 - 1), asked in so many directions of so many rods.
struct Ring {
  double s;
  Complex u;
  double weight;
  std::size_t rods;  ///< the lowest of them
  int rays;
};

/// Which waves to ask of which rods: all that the sum costs.
class Plan {
 public:
  Plan(const Solution& solution, double k0) {
    Vec3 low{1e9, 1e9, 1e9};
    Vec3 high{-1e9, -1e9, -1e9};
    for (const SegmentCurrent& c : solution.currents) {
      for (std::size_t k = 0; k < 3; ++k) {
        low[k] = std::min({low[k], c.from_m[k], c.to_m[k]});
        high[k] = std::max({high[k], c.from_m[k], c.to_m[k]});
      }
    }
    rods = make_rods(solution, k0, mom::scaled(mom::plus(low, high), 0.5));
    std::stable_sort(rods.begin(), rods.end(), [](const Rod& a, const Rod& b) { return a.z < b.z; });
    measure();
    // With m = |u|, s ds = m dm on both sides of s = 1. Panels grow from 1e-3 (the surface wave's pole over sea
    // lies at |u| = 1/|n|) until the fields have decayed by e^-14.
    const double visible_widest = 3.0 / std::max(1.0, across_.back() + 2 * k0 * high[2]);
    panels(
        1.0, [&](double) { return visible_widest; },
        [&](double m, double w) {
          add(std::sqrt(1 - m * m), {0, m}, w, rods.size());
        });
    // Beyond s = 1 nothing turns with height any more, it only decays: width alone counts, and of that only what
    // still reaches the ground. A mast's foot is narrow, however wide the wires above it are.
    panels(
        std::max(2.0, faint / (k0 * low[2])),
        [&](double m) { return 3.0 / std::max(1.0, across_[heard(m)]); },
        [&](double m, double w) {
          add(std::sqrt(1 + m * m), {m, 0}, w, heard(m));
        });
  }

  std::vector<Rod> rods;  ///< by height
  std::vector<Ring> rings;
  [[nodiscard]] double work() const {
    double sum = 0;
    for (const auto& ring : rings) sum += static_cast<double>(ring.rays) * static_cast<double>(ring.rods);
    return sum;
  }

 private:
  /// Half the width of the lowest n rods.
  void measure() {
    double west = 1e9, east = -1e9, south = 1e9, north = -1e9;
    across_.assign(1, 0);
    for (const Rod& r : rods) {
      west = std::min({west, r.x, r.x + r.along[0]});
      east = std::max({east, r.x, r.x + r.along[0]});
      south = std::min({south, r.y, r.y + r.along[1]});
      north = std::max({north, r.y, r.y + r.along[1]});
      across_.push_back(0.5 * std::hypot(east - west, north - south));
    }
  }
  /// How many rods still reach the ground at this decay.
  [[nodiscard]] std::size_t heard(double decay) const {
    return static_cast<std::size_t>(
        std::partition_point(rods.begin(), rods.end(), [&](const Rod& r) { return decay * r.z <= faint; }) -
        rods.begin());
  }
  template <class Widest, class Take>
  static void panels(double end, const Widest& widest, const Take& take) {
    double from = 0;
    while (from < end) {
      const double to = std::min({end, from + std::max(1e-3, std::min(0.7 * from, widest(from)))});
      for (int i = 0; i < 8; ++i) {
        const double m = from + (to - from) * mom::gauss8.at[i];
        take(m, (to - from) * mom::gauss8.weight[i] * m);
      }
      from = to;
    }
  }
  void add(double s, Complex u, double weight, std::size_t count) {
    rings.push_back({s, u, weight, count, static_cast<int>(std::ceil(2 * s * across_[count] + 14))});
  }

  std::vector<double> across_;
};

}  // namespace

double ground_absorption_work(const Solution& solution, const Ground& ground) {
  return ground.kind == GroundKind::real ? Plan(solution, mom::wave_number(solution.mhz)).work() : 0;
}

double ground_absorption_w(const Solution& solution, const Ground& ground) {
  if (ground.kind != GroundKind::real) return 0;
  const Complex eps = complex_permittivity(ground, solution.mhz);
  const Plan plan(solution, mom::wave_number(solution.mhz));
  const auto& rings = plan.rings;
  std::vector<double> power(rings.size());
  parallel_for(rings.size(), 8, [&](std::size_t begin, std::size_t end) {
    for (std::size_t r = begin; r < end; ++r) {
      const auto [s, u, weight, count, rays] = rings[r];
      const Complex v = std::sqrt(s * s - eps);
      // Field in the ground just below the surface, per unit of source: E across the ray, H across the ray.
      // (1 + Rh)/(2u) = 1/(u + v) and (1 + Rv)/(2u) = eps/(eps u + v): nothing is singular at s = 1.
      const Complex te = 1.0 / (u + v);
      const Complex tm = eps / (eps * u + v);
      // Poynting's vector into the ground: |E|^2 Re(v/(j w mu)), |H|^2 Re(v/(j w eps)).
      const double te_flux = mom::eta0_ohm * std::norm(te) * (v / Complex(0, 1)).real();
      const double tm_flux = mom::eta0_ohm * std::norm(tm) * (v / (Complex(0, 1) * eps)).real();
      double sum = 0;
      for (int ray = 0; ray < rays; ++ray) {
        const double phi = 2 * pi * ray / rays;
        const double cx = std::cos(phi);
        const double cy = std::sin(phi);
        Complex along = 0;
        Complex aside = 0;
        Complex up = 0;
        for (const Rod& rod : std::span(plan.rods).first(count)) {
          const double radial = cx * rod.along[0] + cy * rod.along[1];
          const Complex x = Complex(0, s * radial) - u * rod.along[2];
          const Complex exp_x = exponential(x);
          const Complex to_high = transform(rod.shape, x, 1, exp_x);
          const Complex to_low = transform(rod.shape, -x, exp_x, 1);
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
