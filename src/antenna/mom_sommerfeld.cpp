#include "mom_sommerfeld.hpp"

#include <Eigen/Dense>
#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <numbers>

#include "mom_numbers.hpp"
#include "mom_turn.hpp"
#include "skerry/core/nth.hpp"

namespace skerry::antenna::mom {

namespace {

/// Judgement: by test against mpmath, more half periods no longer help.
constexpr std::size_t averaged_intervals = 10;
/// Panels of the real axis grow by this factor. Judgement, by test against mpmath.
constexpr double growth = 1.6;
/// Judgement: e^-22 = 3e-10, nothing is left there.
constexpr double spent = 22.0;
/// Judgement: exponents beyond this are cut off, lest products become denormal numbers, which are slow.
constexpr double faded = 60.0;

template <std::size_t N, class Visit>
void integrate_panel(const Rule<N>& rule, Complex from, Complex to, Visit visit) {
  for (std::size_t i = 0; i < N; ++i) {
    visit(from + (to - from) * rule.at[i], (to - from) * rule.weight[i]);
  }
}

/// The square root with positive real part.
Complex root(Complex z) {
  const double size = std::sqrt(std::norm(z));
  const double large = std::sqrt(0.5 * (size + std::abs(z.real())));
  if (large == 0) return 0;
  const double small = 0.5 * z.imag() / large;
  return z.real() >= 0 ? Complex(large, small) : Complex(std::abs(small), std::copysign(large, z.imag()));
}

Complex over(Complex a, Complex b) {
  return times(a, std::conj(b)) * (1.0 / std::norm(b));
}

}  // namespace

SpectralPath::Spectrum SpectralPath::spectrum(Complex s, Complex u) const {
  const Complex v = root(times(s, s) - eps_);
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

SpectralPath::SpectralPath(Complex eps, double x_max, double y_least)
    : eps_(eps), image_((eps - 1.0) / (eps + 1.0)) {
  const Complex n = std::sqrt(eps);
  // The path is lifted above the branch points at 1 and, where the loss is small enough to matter, at n
  // (both lie on or below the real axis, as does the pole); it may rise 2/x_max, so that the growth of the
  // Bessel functions stays below e^2. Judgement: 0.35, by test.
  const bool lossy = -n.imag() > 0.35 * n.real();
  const double end = lossy ? 1.6 : std::max(1.6, n.real() + 0.6);
  const double lift = std::min(0.35, 2.0 / std::max(x_max, 1e-3));
  const auto panel = [&](Complex from, Complex to) {
    integrate_panel(gauss8, from, to, [&](Complex s, Complex w) {
      const Complex u = std::sqrt(times(s, s) - 1.0);
      node_.push_back(s);
      u_.push_back(u);
      weighted_.push_back(spectrum(s, u).times_weight(w));
    });
  };
  const Complex rise(lift, lift);
  const Complex fall(end - lift, lift);
  panel(0.0, rise);
  const int flat = std::max(1, static_cast<int>(std::ceil((end - 2 * lift) / (2 * lift))));
  for (int i = 0; i < flat; ++i) {
    panel(rise + (fall - rise) * (1.0 * i / flat), rise + (fall - rise) * (1.0 * (i + 1) / flat));
  }
  panel(fall, end);
  // On along the real axis in growing panels, the same for all x: each uses those narrower than half a period
  // of its Bessel function.
  edges_.push_back(end);
  while (edges_.back() < spent / y_least) {
    const double from = edges_.back();
    edges_.push_back(growth * from);
    integrate_panel(gauss8, from, edges_.back(), [&](Complex s, Complex w) {
      const double u = std::sqrt(s.real() * s.real() - 1);
      far_node_.push_back(s.real());
      far_u_.push_back(u);
      far_weighted_.push_back(spectrum(s, u).times_weight(w));
    });
  }
}

std::size_t SpectralPath::panels_for(double x) const {
  const double half_period = x > 0 ? pi / x : 1e300;
  std::size_t used = 0;
  while (used + 1 < edges_.size() && (growth - 1) * edges_[used] < half_period) ++used;
  return used;
}

void SpectralPath::integrate(std::span<const double> xs, std::span<const double> ys,
                             std::span<Reflected> out) const {
  without_images(xs, ys, out);
  for (std::size_t i = 0; i < xs.size(); ++i) {
    for (std::size_t j = 0; j < ys.size(); ++j) {
      const double r = std::hypot(xs[i], ys[j]);
      const Complex g = times(image_, turn(-r)) / r;
      Reflected& f = out[i * ys.size() + j];
      f.vertical += 2.0 * g;
      f.charge -= g;
    }
  }
}

void SpectralPath::without_images(std::span<const double> xs, std::span<const double> ys,
                                  std::span<Reflected> out) const {
  using Eigen::Index;
  assert(out.size() == xs.size() * ys.size());
  const auto nx = static_cast<Index>(xs.size());
  const auto ny = static_cast<Index>(ys.size());
  const auto head = static_cast<Index>(node_.size());
  std::vector<Index> far_nodes(xs.size());
  std::transform(xs.begin(), xs.end(), far_nodes.begin(),
                 [&](double x) { return static_cast<Index>(panels_for(x) * gauss8.at.size()); });
  const Index far = *std::max_element(far_nodes.begin(), far_nodes.end());
  // What does not oscillate is one real product over the path's nodes: a complex one over the lifted part
  // (real above imaginary) and a real one over the rest.
  Eigen::MatrixXd decay(2 * head + far, ny);
  const Eigen::Map<const Eigen::ArrayXd> far_u(far_u_.data(), far);
  for (Index j = 0; j < ny; ++j) {
    const double y = nth(ys, j);
    for (Index q = 0; q < head; ++q) {
      const Complex u = nth(u_, q);
      const Complex e = turn(-u.imag() * y) * std::exp(-u.real() * y);
      decay(q, j) = e.real();
      decay(head + q, j) = e.imag();
    }
    decay.col(j).tail(far) = (-y * far_u).max(-faded).exp().matrix();
  }
  Eigen::MatrixXd left(2 * head + far, parts * nx);
  for (Index i = 0; i < nx; ++i) {
    const double x = nth(xs, i);
    double* column = left.col(parts * i).data();
    const Index stride = left.rows();
    for (Index q = 0; q < head; ++q) {
      const auto k = static_cast<std::size_t>(q);
      const auto j = bessel_j01(node_[k] * x);
      const auto terms = weighted_[k].times_bessel(j);
      for (Index part = 0; part < parts / 2; ++part) {
        const Complex value = nth(terms, part);
        column[2 * part * stride + q] = value.real();
        column[2 * part * stride + head + q] = -value.imag();
        column[(2 * part + 1) * stride + q] = value.imag();
        column[(2 * part + 1) * stride + head + q] = value.real();
      }
    }
    for (Index q = 0; q < nth(far_nodes, i); ++q) {
      const auto k = static_cast<std::size_t>(q);
      far_weighted_[k].write(bessel_j01(far_node_[k] * x), column + 2 * head + q, stride);
    }
    for (Index part = 0; part < parts; ++part) {
      std::fill(column + part * stride + 2 * head + nth(far_nodes, i), column + (part + 1) * stride, 0.0);
    }
  }
  Eigen::MatrixXd sums = left.transpose() * decay;
  for (Index i = 0; i < nx; ++i) {
    add_oscillating(nth(xs, i), ys, sums.middleRows(parts * i, parts));
    Reflected* row = out.data() + i * ny;
    for (Index j = 0; j < ny; ++j) {
      const double* f = &sums(parts * i, j);
      row[j] = {{f[0], f[1]}, {f[2], f[3]}, {f[4], f[5]}, {f[6], f[7]}};
    }
  }
}

/// From where half a period of the Bessel function is narrower than a growing panel: a few half periods, and
/// weighted averages of the sums up to each.
void SpectralPath::add_oscillating(double x, std::span<const double> ys,
                                   Eigen::Ref<Eigen::MatrixXd> sums) const {
  using Eigen::Index;
  const std::size_t first = panels_for(x);
  if (first + 1 == edges_.size()) return;
  // Even steps of u = sqrt(s^2 - 1), which is nearly s: exp(-u y) is then one power after another.
  const double half_period = pi / x;
  const double begin = std::sqrt(edges_[first] * edges_[first] - 1);
  constexpr auto points = static_cast<Index>(gauss6.at.size());
  constexpr auto nodes = static_cast<Index>(averaged_intervals) * points;
  std::array<double, averaged_intervals + 1> edge;
  for (std::size_t i = 0; i <= averaged_intervals; ++i)
    edge[i] = begin + static_cast<double>(i) * half_period;
  std::array<double, gauss6.at.size()> us;  // of the first interval
  Eigen::Matrix<double, nodes, parts> terms;
  Index q = 0;
  for (std::size_t i = 0; i < averaged_intervals; ++i) {
    integrate_panel(gauss6, edge[i], edge[i + 1], [&](Complex at, Complex w) {
      const double u = at.real();
      const double s = std::sqrt(u * u + 1);
      if (i == 0) nth(us, q) = u;
      spectrum(s, u).times_weight(w.real() * u / s).write(bessel_j01(s * x), &terms(q, 0), nodes);
      ++q;
    });
  }
  // The remainder after edge s goes as (-1)^n exp(-s y) s^a, then two powers less at each step. a = -1/2,
  // Bessel's own decay: the amplitudes' further decay is slow over one half period.
  std::array<std::array<double, averaged_intervals>, averaged_intervals> weight;
  for (std::size_t i = 0; i < averaged_intervals; ++i) {
    const double ratio = edge[i] / edge[i + 1];
    weight[0][i] = std::sqrt(ratio);
    for (std::size_t level = 1; level < averaged_intervals; ++level)
      weight[level][i] = weight[level - 1][i] * ratio * ratio;
  }
  const auto live = static_cast<Index>(
      std::partition_point(ys.begin(), ys.end(), [&](double y) { return us[0] * y < spent; }) - ys.begin());
  if (live == 0) return;
  const Eigen::Map<const Eigen::ArrayXd> y(ys.data(), live);
  // How much of each sum is in the average, from the last average back to the sums.
  const Eigen::ArrayXd fade = (-half_period * y).max(-faded).exp();
  Eigen::ArrayXXd share = Eigen::ArrayXXd::Zero(live, averaged_intervals + 1);
  share.col(0) = 1;
  Eigen::ArrayXd later(live);
  for (std::size_t level = averaged_intervals; level-- > 0;) {
    for (std::size_t i = averaged_intervals - level; i-- > 0;) {
      const auto k = static_cast<Index>(i);
      later = share.col(k) / (1 + fade * weight[level][i]);
      share.col(k) -= later;
      share.col(k + 1) += later;
    }
  }
  Eigen::ArrayXXd first_decay(live, points);
  for (Index k = 0; k < points; ++k) first_decay.col(k) = (-nth(us, k) * y).max(-faded).exp();
  Eigen::MatrixXd decay(live, nodes);
  later = 1;  // of the sums that an interval is part of
  Eigen::ArrayXd power = Eigen::ArrayXd::Ones(live);
  for (Index i = 0; i < static_cast<Index>(averaged_intervals); ++i) {
    later -= share.col(i);
    for (Index k = 0; k < points; ++k)
      decay.col(points * i + k) = (later * power * first_decay.col(k)).matrix();
    power = (power * fade).max(1e-30);
  }
  sums.leftCols(live).noalias() += terms.transpose() * decay.transpose();
}

}  // namespace skerry::antenna::mom
