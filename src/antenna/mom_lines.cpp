#include "mom_lines.hpp"

#include <algorithm>
#include <cmath>

#include "mom_geometry.hpp"
#include "mom_numbers.hpp"

namespace skerry::antenna::mom {

namespace {

Line begin_line(const SegmentCurrent& c, const Vec3& step, const Vec3& centre_m, double k0) {
  Line g;
  const Vec3 middle = scaled(plus(c.from_m, c.to_m), 0.5);
  g.first = scaled(minus(middle, centre_m), k0);
  g.step = step;
  const double length = std::sqrt(dot(step, step));
  g.level = std::abs(step[2]) < 1e-12 * length;
  const Shape shape(length);
  // Simpson on 64 steps: the integrands are polynomials of degree 7.
  constexpr int steps = 64;
  for (int i = 0; i <= steps; ++i) {
    const double b = 1.0 * i / steps;
    const double t = b - 0.5;
    const double w = (i == 0 || i == steps ? 1.0 : (i % 2 == 1 ? 4.0 : 2.0)) / (3.0 * steps);
    const double sum = w * (shape.value(b) + shape.value(1 - b));
    const double difference = w * (shape.value(b) - shape.value(1 - b));
    g.even0 += sum;
    g.even2 -= sum * t * t / 2;
    g.even4 += sum * t * t * t * t / 24;
    g.odd1 += difference * t;
    g.odd3 -= difference * t * t * t / 6;
  }
  return g;
}

}  // namespace

Complex Line::sum(const Vec3& to, std::size_t begin, std::size_t end) const {
  if (begin >= end) return 0;
  const double p = dot(to, step);
  const double start = dot(to, first) + static_cast<double>(begin) * p;
  Complex phase(std::cos(start), std::sin(start));
  const Complex turn(std::cos(p), std::sin(p));
  Complex even_sum = 0;
  Complex odd_sum = 0;
  for (std::size_t s = begin; s < end; ++s) {
    even_sum += times(even[s], phase);
    odd_sum += times(odd[s], phase);
    phase = times(phase, turn);
  }
  const double e = even_at(p);
  const double o = odd_at(p);
  return {e * even_sum.real() - o * odd_sum.imag(), e * even_sum.imag() + o * odd_sum.real()};
}

Lines::Lines(const Solution& solution)
    : mhz(solution.mhz),
      k0(wave_number(solution.mhz)),
      low_m(solution.currents.front().from_m),
      high_m(low_m),
      in_plane(true) {
  for (const SegmentCurrent& c : solution.currents) {
    for (std::size_t k = 0; k < 3; ++k) {
      low_m[k] = std::min({low_m[k], c.from_m[k], c.to_m[k]});
      high_m[k] = std::max({high_m[k], c.from_m[k], c.to_m[k]});
    }
    in_plane = in_plane && c.from_m[1] == 0 && c.to_m[1] == 0;
  }
  const Vec3 centre_m = scaled(plus(low_m, high_m), 0.5);
  centre = scaled(centre_m, k0);
  Vec3 last_to{};
  for (const SegmentCurrent& c : solution.currents) {
    const Vec3 step = scaled(minus(c.to_m, c.from_m), k0);
    const bool goes_on =
        !lines.empty() && distance(last_to, c.from_m) * k0 < 1e-9 && distance(step, lines.back().step) < 1e-9;
    if (!goes_on) lines.push_back(begin_line(c, step, centre_m, k0));
    lines.back().even.push_back(0.5 * (c.from_a + c.to_a));
    lines.back().odd.push_back(0.5 * (c.to_a - c.from_a));
    last_to = c.to_m;
  }
}

double Lines::half_width() const {
  return 0.5 * k0 * std::hypot(high_m[0] - low_m[0], high_m[1] - low_m[1]);
}

double Lines::height(bool over_ground) const {
  return k0 * (over_ground ? 2 * high_m[2] : high_m[2] - low_m[2]);
}

double Lines::radius() const {
  return 0.5 * k0 * distance(low_m, high_m);
}

double Lines::reach_m() const {
  return std::max({std::hypot(low_m[0], low_m[1]), std::hypot(low_m[0], high_m[1]),
                   std::hypot(high_m[0], low_m[1]), std::hypot(high_m[0], high_m[1])});
}

void sum_toward(const Line& line, std::span<const double> ex, std::span<const double> ey,
                std::span<const double> ez, SumBuffers& b, std::span<Complex> out) {
  const std::size_t count = ex.size();
  for (std::size_t a = 0; a < count; ++a) {
    const double start = ex[a] * line.first[0] + ey[a] * line.first[1] + ez[a] * line.first[2];
    const double step = ex[a] * line.step[0] + ey[a] * line.step[1] + ez[a] * line.step[2];
    b.phase_re[a] = std::cos(start);
    b.phase_im[a] = std::sin(start);
    b.step_re[a] = std::cos(step);
    b.step_im[a] = std::sin(step);
    b.even_re[a] = b.even_im[a] = b.odd_re[a] = b.odd_im[a] = 0;
  }
  for (std::size_t s = 0; s < line.size(); ++s) {
    const double er = line.even[s].real();
    const double ei = line.even[s].imag();
    const double dr = line.odd[s].real();
    const double di = line.odd[s].imag();
    for (std::size_t a = 0; a < count; ++a) {
      const double re = b.phase_re[a];
      const double im = b.phase_im[a];
      b.even_re[a] += er * re - ei * im;
      b.even_im[a] += er * im + ei * re;
      b.odd_re[a] += dr * re - di * im;
      b.odd_im[a] += dr * im + di * re;
      b.phase_re[a] = re * b.step_re[a] - im * b.step_im[a];
      b.phase_im[a] = re * b.step_im[a] + im * b.step_re[a];
    }
  }
  for (std::size_t a = 0; a < count; ++a) {
    const double p = ex[a] * line.step[0] + ey[a] * line.step[1] + ez[a] * line.step[2];
    const double even = line.even_at(p);
    const double odd = line.odd_at(p);
    out[a] = Complex(even * b.even_re[a] - odd * b.odd_im[a], even * b.even_im[a] + odd * b.odd_re[a]);
  }
}

}  // namespace skerry::antenna::mom
