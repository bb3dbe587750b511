#include "mom_sommerfeld.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <numbers>

#include "mom_numbers.hpp"

namespace skerry::antenna::mom {

namespace {

constexpr double pi = std::numbers::pi;

/// Judgement: by test against mpmath, more half periods no longer help.
constexpr int averaged_intervals = 10;

template <std::size_t N, class Visit>
void integrate_panel(const Rule<N>& rule, Complex from, Complex to, Visit visit) {
  for (std::size_t i = 0; i < N; ++i) {
    visit(from + (to - from) * rule.at[i], (to - from) * rule.weight[i]);
  }
}

Complex over(Complex a, Complex b) {
  return times(a, std::conj(b)) * (1.0 / std::norm(b));
}

}  // namespace

SpectralPath::Spectrum SpectralPath::spectrum(Complex s, Complex u) const {
  const Complex v = std::sqrt(times(s, s) - eps_);
  const Complex sum = u + v;
  const Complex tm = over(1.0, times(eps_, u) + v);
  const Complex tm_over_sum = over(tm, sum);
  // u - v = (eps - 1)/(u + v): no cancellation at large s.
  const Complex d = times(2.0 * (eps_ - 1.0), tm_over_sum);
  const Complex rh = over(eps_ - 1.0, times(sum, sum));
  const Complex rv = times(times(eps_, u) - v, tm);
  const Complex s_over_u = over(s, u);
  // The quasi-static images c, 2c and -c (c = (eps-1)/(eps+1)) are taken out here and put back in closed
  // form.
  return {times(rh, s_over_u), times(rv + times(times(u, u), d) - 2.0 * image_, s_over_u),
          times(d - rv + image_, s_over_u), -times(times(s, s), d)};
}

SpectralPath::SpectralPath(Complex eps, double x_max) : eps_(eps), image_((eps - 1.0) / (eps + 1.0)) {
  const Complex n = std::sqrt(eps);
  // The path is lifted above the branch points at 1 and, where the loss is small enough to matter, at n
  // (both lie on or below the real axis, as does the pole); it may rise 2/x_max, so that the growth of the
  // Bessel functions stays below e^2. Judgement: 0.35, by test.
  const bool lossy = -n.imag() > 0.35 * n.real();
  end_ = lossy ? 1.6 : std::max(1.6, n.real() + 0.6);
  const double lift = std::min(0.35, 2.0 / std::max(x_max, 1e-3));
  const auto panel = [&](Complex from, Complex to) {
    integrate_panel(gauss8, from, to, [&](Complex s, Complex w) {
      const Complex u = std::sqrt(times(s, s) - 1.0);
      Spectrum f = spectrum(s, u);
      f.horizontal = times(f.horizontal, w);
      f.vertical = times(f.vertical, w);
      f.charge = times(f.charge, w);
      f.coupling = times(f.coupling, w);
      node_.push_back(s);
      u_.push_back(u);
      weighted_.push_back(f);
    });
  };
  const Complex rise(lift, lift);
  const Complex fall(end_ - lift, lift);
  panel(0.0, rise);
  const int flat = std::max(1, static_cast<int>(std::ceil((end_ - 2 * lift) / (2 * lift))));
  for (int i = 0; i < flat; ++i) {
    panel(rise + (fall - rise) * (1.0 * i / flat), rise + (fall - rise) * (1.0 * (i + 1) / flat));
  }
  panel(fall, end_);
}

void SpectralPath::integrate(std::span<const double> xs, std::span<const double> ys,
                             std::span<Reflected> out) const {
  using Matrix = Eigen::MatrixXcd;
  const auto nodes = static_cast<Eigen::Index>(node_.size());
  const auto nx = static_cast<Eigen::Index>(xs.size());
  const auto ny = static_cast<Eigen::Index>(ys.size());
  assert(out.size() == xs.size() * ys.size());
  Matrix decay(nodes, ny);
  for (Eigen::Index j = 0; j < ny; ++j) {
    for (Eigen::Index q = 0; q < nodes; ++q) {
      decay(q, j) = std::exp(-u_[static_cast<std::size_t>(q)] * ys[static_cast<std::size_t>(j)]);
    }
  }
  Matrix left(nodes, 4 * nx);
  for (Eigen::Index i = 0; i < nx; ++i) {
    for (Eigen::Index q = 0; q < nodes; ++q) {
      const auto k = static_cast<std::size_t>(q);
      const auto j = bessel_j01(node_[k] * xs[static_cast<std::size_t>(i)]);
      left(q, 4 * i) = times(weighted_[k].horizontal, j.j0);
      left(q, 4 * i + 1) = times(weighted_[k].vertical, j.j0);
      left(q, 4 * i + 2) = times(weighted_[k].charge, j.j0);
      left(q, 4 * i + 3) = times(weighted_[k].coupling, j.j1);
    }
  }
  const Matrix head = left.transpose() * decay;
  for (Eigen::Index i = 0; i < nx; ++i) {
    Reflected* row = out.data() + i * ny;
    tail(xs[static_cast<std::size_t>(i)], ys, row);
    for (Eigen::Index j = 0; j < ny; ++j) {
      const double x = xs[static_cast<std::size_t>(i)];
      const double y = ys[static_cast<std::size_t>(j)];
      const double r = std::hypot(x, y);
      const Complex g = Complex(std::cos(r), -std::sin(r)) / r;
      row[j].horizontal += head(4 * i, j);
      row[j].vertical += head(4 * i + 1, j) + times(2.0 * image_, g);
      row[j].charge += head(4 * i + 2, j) - times(image_, g);
      row[j].coupling += head(4 * i + 3, j);
    }
  }
}

void SpectralPath::tail(double x, std::span<const double> ys, Reflected* row) const {
  constexpr std::size_t parts = 8;  // re and im of four functions
  constexpr const auto& tail_rule = gauss8;
  constexpr std::size_t points = tail_rule.at.size();
  const double half_period = x > 0 ? pi / x : 1e300;
  const double far = 42.0 / ys[0];  // e^-42: nothing is left there, at the lowest y
  // Edges: widths grow with s until they are half a period of the Bessel function, then stay.
  std::vector<double> edges{end_};
  while (edges.back() < far && 0.6 * edges.back() < half_period) edges.push_back(1.6 * edges.back());
  const std::size_t first_even = edges.size() - 1;
  const bool oscillates = edges.back() < far;
  if (oscillates) {
    for (int i = 0; i < averaged_intervals; ++i) edges.push_back(edges.back() + half_period);
  }
  const std::size_t intervals = edges.size() - 1;
  const std::size_t nodes = intervals * points;
  std::vector<double> us(nodes);
  std::vector<std::array<double, parts>> terms(nodes);
  for (std::size_t i = 0, q = 0; i < intervals; ++i) {
    integrate_panel(tail_rule, edges[i], edges[i + 1], [&](Complex sc, Complex wc) {
      const double s = sc.real();
      const double w = wc.real();
      const double u = std::sqrt(s * s - 1);
      const Spectrum f = spectrum(s, u);
      const auto j = bessel_j01(s * x);
      us[q] = u;
      const double w0 = w * j.j0;
      const double w1 = w * j.j1;
      terms[q] = {f.horizontal.real() * w0, f.horizontal.imag() * w0, f.vertical.real() * w0,
                  f.vertical.imag() * w0,   f.charge.real() * w0,     f.charge.imag() * w0,
                  f.coupling.real() * w1,   f.coupling.imag() * w1};
      ++q;
    });
  }
  const Eigen::Map<const Eigen::ArrayXd> u_all(us.data(), static_cast<Eigen::Index>(nodes));
  Eigen::ArrayXd decay(static_cast<Eigen::Index>(nodes));
  std::array<std::array<double, parts>, averaged_intervals + 1> partial;
  // Weighted averages: the remainder after edge s goes as (-1)^n exp(-s y) s^a, then two powers less at each
  // step. a = -1/2, Bessel's own decay: the amplitudes' further decay is slow over one half period.
  std::array<std::array<double, averaged_intervals>, averaged_intervals> weight;
  for (std::size_t i = 0; oscillates && i < averaged_intervals; ++i) {
    const double ratio = edges[first_even + i] / edges[first_even + i + 1];
    weight[0][i] = std::sqrt(ratio);
    for (std::size_t level = 1; level < averaged_intervals; ++level) {
      weight[level][i] = weight[level - 1][i] * ratio * ratio;
    }
  }
  for (std::size_t j = 0; j < ys.size(); ++j) {
    const double y = ys[j];
    // u rises along the nodes: only those that still count.
    const auto live = static_cast<Eigen::Index>(
        std::partition_point(us.begin(), us.end(), [y](double u) { return y * u < 42; }) - us.begin());
    decay.head(live) = (-y * u_all.head(live)).exp();
    decay.tail(decay.size() - live).setZero();
    std::array<double, parts> sum{};
    std::size_t kept = 0;
    if (oscillates && first_even == 0) partial[kept++] = sum;
    for (std::size_t i = 0; i < intervals; ++i) {
      if (static_cast<Eigen::Index>(points * i) < live) {
        for (std::size_t q = points * i; q < points * (i + 1); ++q) {
          const double e = decay[static_cast<Eigen::Index>(q)];
          for (std::size_t p = 0; p < parts; ++p) sum[p] += e * terms[q][p];
        }
      }
      if (oscillates && i + 1 >= first_even) partial[kept++] = sum;
    }
    if (oscillates) {
      const double fade = std::exp(-half_period * y);
      for (std::size_t level = 0; kept > 1; ++level, --kept) {
        for (std::size_t i = 0; i + 1 < kept; ++i) {
          const double eta = fade * weight[level][i];
          const double scale = 1 / (1 + eta);
          for (std::size_t p = 0; p < parts; ++p) {
            partial[i][p] = (partial[i + 1][p] + eta * partial[i][p]) * scale;
          }
        }
      }
      sum = partial[0];
    }
    row[j] = {{sum[0], sum[1]}, {sum[2], sum[3]}, {sum[4], sum[5]}, {sum[6], sum[7]}};
  }
}

}  // namespace skerry::antenna::mom
