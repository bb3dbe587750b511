#include "mom_lines.hpp"

#include <algorithm>
#include <cmath>

#include "mom_geometry.hpp"
#include "mom_numbers.hpp"
#include "mom_turn.hpp"

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
  // Two runs, of every other segment, so that one does not wait for the other's last product.
  const Complex next = turn(p);
  const Complex after = times(next, next);
  Complex phase[2] = {turn(start), {}};
  phase[1] = times(phase[0], next);
  Complex even_sums[2] = {};
  Complex odd_sums[2] = {};
  std::size_t s = begin;
  for (; s + 1 < end; s += 2) {
    for (std::size_t run = 0; run < 2; ++run) {
      even_sums[run] += times(even[s + run], phase[run]);
      odd_sums[run] += times(odd[s + run], phase[run]);
      phase[run] = times(phase[run], after);
    }
  }
  if (s < end) {
    even_sums[0] += times(even[s], phase[0]);
    odd_sums[0] += times(odd[s], phase[0]);
  }
  const Complex even_sum = even_sums[0] + even_sums[1];
  const Complex odd_sum = odd_sums[0] + odd_sums[1];
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

void sum_both_ways(const Line& line, SumBuffers& b, std::span<Complex> out, std::span<Complex> opposite) {
  const std::size_t count = out.size();
  for (auto& sum : b.sums) std::fill(sum.begin(), sum.end(), 0.0);
  double* phase_re = b.phase_re.data();
  double* phase_im = b.phase_im.data();
  const double* step_re = b.step_re.data();
  const double* step_im = b.step_im.data();
  double* sum[8];
  for (std::size_t k = 0; k < 8; ++k) sum[k] = b.sums[k].data();
  for (std::size_t s = 0; s < line.size(); ++s) {
    const double er = line.even[s].real();
    const double ei = line.even[s].imag();
    const double dr = line.odd[s].real();
    const double di = line.odd[s].imag();
    for (std::size_t a = 0; a < count; ++a) {
      const double re = phase_re[a];
      const double im = phase_im[a];
      sum[0][a] += er * re;
      sum[1][a] += ei * im;
      sum[2][a] += er * im;
      sum[3][a] += ei * re;
      sum[4][a] += dr * re;
      sum[5][a] += di * im;
      sum[6][a] += dr * im;
      sum[7][a] += di * re;
      phase_re[a] = re * step_re[a] - im * step_im[a];
      phase_im[a] = re * step_im[a] + im * step_re[a];
    }
  }
  for (std::size_t a = 0; a < count; ++a) {
    const double even = line.even_at(b.along[a]);
    const double odd = line.odd_at(b.along[a]);
    out[a] = Complex(even * (sum[0][a] - sum[1][a]) - odd * (sum[6][a] + sum[7][a]),
                     even * (sum[2][a] + sum[3][a]) + odd * (sum[4][a] - sum[5][a]));
    if (opposite.empty()) continue;
    // All phases conjugate, the angle across a segment negative.
    opposite[a] = Complex(even * (sum[0][a] + sum[1][a]) + odd * (sum[7][a] - sum[6][a]),
                          even * (sum[3][a] - sum[2][a]) - odd * (sum[4][a] + sum[5][a]));
  }
}

void sum_toward(const Line& line, std::span<const double> ex, std::span<const double> ey,
                std::span<const double> ez, SumBuffers& b, std::span<Complex> out) {
  for (std::size_t a = 0; a < ex.size(); ++a) {
    const Vec3 to{ex[a], ey[a], ez[a]};
    const double start = dot(to, line.first);
    const double step = dot(to, line.step);
    b.set(a, turn(start), turn(step), step);
  }
  sum_both_ways(line, b, out.first(ex.size()), {});
}

}  // namespace skerry::antenna::mom
