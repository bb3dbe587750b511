#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <mutex>
#include <numbers>

#include "mom_sommerfeld.hpp"
#include "skerry/core/parallel.hpp"

namespace skerry::antenna::mom {

namespace {

/// Judgement: cubic interpolation at this spacing of the logarithm errs below 3e-4 on every preset (by test).
constexpr double grid_step = 0.3;

}  // namespace

double SommerfeldTable::Axis::step_of(double t) const {
  const double ratio = (1 + t / near) / (1 + t / far);
  return (std::log((1 + t / fine) * ratio * ratio) + t / coarse) * (1.0 / grid_step);
}

std::vector<double> SommerfeldTable::Axis::nodes() const {
  std::vector<double> t(static_cast<std::size_t>(count));
  double guess = 0;
  for (int i = 0; i < count; ++i) {
    // Newton on a concave rising function, from the node before.
    for (int k = 0; k < 60; ++k) {
      const double slope =
          (1 / (fine + guess) + 1 / coarse + 2 / (near + guess) - 2 / (far + guess)) / grid_step;
      const double change = (i - step_of(guess)) / slope;
      guess += change;
      if (std::abs(change) < 1e-13 * (guess + fine)) break;
    }
    t[static_cast<std::size_t>(i)] = start + guess;
  }
  return t;
}

SommerfeldTable::SommerfeldTable(Complex eps, double x_max, double y_min, double y_max)
    : image_((eps - 1.0) / (eps + 1.0)) {
  const Complex n = std::sqrt(eps);
  // Far out the remainder beats between the waves in air and along the ground's surface, exp(-j (n-1) x);
  // where the ground's own wave dies out quickly only the slow change is left.
  const bool lossy = -n.imag() > 0.35 * n.real();
  const double coarse = lossy ? 2.0 : std::min(2.0, 2.2 / std::max(n.real() - 1, 0.1));
  x_ = {0, y_min, coarse, 1, 1, 0};
  if (lossy) {
    // Around a few times 1/|n| the ground's wave still turns, exp(-j n x).
    x_.near = 1 / std::abs(n);
    x_.far = 10 / std::abs(n);
  }
  y_ = {y_min, y_min, 2.0, 1, 1, 0};
  x_.count = std::max(4, static_cast<int>(std::ceil(x_.step_of(x_max))) + 1);
  y_.count = std::max(4, static_cast<int>(std::ceil(y_.step_of(y_max - y_min))) + 1);
  const std::vector<double> xs = x_.nodes();
  const std::vector<double> ys = y_.nodes();
  const SpectralPath path(eps, xs.back());
  cells_.resize(xs.size() * ys.size());
  parallel_for(xs.size(), (xs.size() + 3) / 4, [&](std::size_t begin, std::size_t end) {
    std::vector<Reflected> values((end - begin) * ys.size());
    path.integrate(std::span(xs).subspan(begin, end - begin), ys, values);
    for (std::size_t i = begin; i < end; ++i) {
      for (std::size_t j = 0; j < ys.size(); ++j) {
        const Reflected& f = values[(i - begin) * ys.size() + j];
        const double r = std::hypot(xs[i], ys[j]);
        const Complex unwind = Complex(std::cos(r), std::sin(r)) * r;
        const Complex h = times(f.horizontal, unwind);
        const Complex z = times(f.vertical, unwind) - 2.0 * image_;
        const Complex k = times(f.charge, unwind) + image_;
        const Complex p = times(f.coupling, unwind) + image_ * (xs[i] / (r + ys[j]));
        cells_[i * ys.size() + j] = {
            {h.real(), h.imag(), z.real(), z.imag(), k.real(), k.imag(), p.real(), p.imag()}};
      }
    }
  });
}

Reflected SommerfeldTable::at(double x, double y) const {
  const auto place = [](const Axis& axis, double t, double(&w)[4]) {
    const double s = std::clamp(axis.step_of(std::max(t - axis.start, 0.0)), 0.0, axis.count - 1.0);
    const int base = std::clamp(static_cast<int>(s) - 1, 0, axis.count - 4);
    // Lagrange's cubic through nodes 0..3. Source: Abramowitz and Stegun 25.2.13.
    const double a = s - base;
    const double b = a - 1;
    const double c = a - 2;
    const double d = a - 3;
    w[0] = b * c * d * (-1.0 / 6);
    w[1] = a * c * d * 0.5;
    w[2] = a * b * d * -0.5;
    w[3] = a * b * c * (1.0 / 6);
    return base;
  };
  double wx[4];
  double wy[4];
  const int ix = place(x_, x, wx);
  const int iy = place(y_, y, wy);
  double f[8] = {};
  for (int i = 0; i < 4; ++i) {
    const Cell* row = cells_.data() + (ix + i) * y_.count + iy;
    for (int j = 0; j < 4; ++j) {
      const double w = wx[i] * wy[j];
      for (int p = 0; p < 8; ++p) f[p] += w * row[j].value[p];
    }
  }
  const double r = std::sqrt(x * x + y * y);
  const double inverse_r = 1 / r;
  const Complex g(std::cos(r) * inverse_r, -std::sin(r) * inverse_r);
  const double lean = x / (r + y);
  return {times(g, {f[0], f[1]}), times(g, {f[2] + 2 * image_.real(), f[3] + 2 * image_.imag()}),
          times(g, {f[4] - image_.real(), f[5] - image_.imag()}),
          times(g, {f[6] - image_.real() * lean, f[7] - image_.imag() * lean})};
}

std::shared_ptr<const SommerfeldTable> ground_table(Complex eps, double x_max, double y_min, double y_max) {
  // Sizes go in powers of two, so that the antennas of a kit share tables, and depend on nothing but the
  // request, so that an answer never depends on what was asked before. Judgement: 1.5 and 1.25 wavelengths
  // hold most kits on most bands.
  const auto rounded = [](double value, double least_wavelengths) {
    double size = least_wavelengths * 2 * std::numbers::pi;
    while (size < value) size *= 2;
    return size;
  };
  const double x_size = rounded(x_max, 1.5);
  const double y_size = rounded(y_max, 1.25);
  struct Entry {
    std::mutex building;
    std::shared_ptr<const SommerfeldTable> table;
  };
  // Judgement: nine bands on a dozen grounds fit; a table is 0.1 to 0.5 MB.
  constexpr std::size_t most_entries = 128;
  using Key = std::array<double, 5>;
  static std::mutex guard;
  static std::map<Key, std::shared_ptr<Entry>> entries;
  std::shared_ptr<Entry> entry;
  {
    const Key key{eps.real(), eps.imag(), x_size, y_min, y_size};
    const std::lock_guard lock(guard);
    if (entries.size() >= most_entries && !entries.contains(key)) entries.clear();  // tables in use live on
    auto& slot = entries[key];
    if (!slot) slot = std::make_shared<Entry>();
    entry = slot;
  }
  const std::lock_guard lock(entry->building);
  if (!entry->table) entry->table = std::make_shared<SommerfeldTable>(eps, x_size, y_min, y_size);
  return entry->table;
}

}  // namespace skerry::antenna::mom
