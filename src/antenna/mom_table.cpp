#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <mutex>

#include "mom_sommerfeld.hpp"
#include "skerry/core/parallel.hpp"

namespace skerry::antenna::mom {

namespace {

/// Judgement: cubic interpolation at this spacing of the logarithm errs below 3e-4 on every preset (by test).
constexpr double grid_step = 0.3;

/// 2/0.35: up to here the path of integration is lifted as high as it may be.
constexpr double least_path_reach = 5.7;

}  // namespace

double SommerfeldTable::Axis::step_of(double t) const {
  double product = 1 + t * (1 / fine);
  if (near != far) {
    const double ratio = (1 + t / near) / (1 + t / far);
    product *= ratio * ratio;
  }
  return (std::log(product) + t * (1 / coarse)) * (1.0 / grid_step);
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

SommerfeldTable::SommerfeldTable(Complex eps, double x_max, double y_min, double y_max,
                                 const SommerfeldTable* part)
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
  // Two nodes to spare, so that the cubic is centred up to the edge: a larger table then tells the same.
  const auto nodes_to = [](const Axis& axis, double t) {
    const int count = static_cast<int>(std::ceil(axis.step_of(t))) + 3;
    return (count + 7) / 8 * 8;
  };
  x_.count = nodes_to(x_, x_max);
  y_.count = nodes_to(y_, y_max - y_min);
  if (part != nullptr) {
    x_.count = std::max(x_.count, part->x_.count);
    y_.count = std::max(y_.count, part->y_.count);
  }
  cells_.resize(static_cast<std::size_t>(x_.count) * static_cast<std::size_t>(y_.count));
  std::size_t known = 0;
  if (part != nullptr && part->y_.count == y_.count) {
    known = static_cast<std::size_t>(part->x_.count);
    std::copy(part->cells_.begin(), part->cells_.end(), cells_.begin());
  }
  fill(eps, known);
}

void SommerfeldTable::fill(Complex eps, std::size_t known) {
  const std::vector<double> xs = x_.nodes();
  const std::vector<double> ys = y_.nodes();
  // The path of integration comes nearer to the real axis the larger x is: in octaves, whatever the table's
  // size, so that a node's value depends on nothing else.
  for (std::size_t begin = known; begin < xs.size();) {
    double reach = least_path_reach;
    while (reach < xs[begin]) reach *= 2;
    std::size_t end = begin;
    while (end < xs.size() && xs[end] <= reach) ++end;
    const SpectralPath path(eps, reach);
    parallel_for(end - begin, (end - begin + 3) / 4, [&](std::size_t first, std::size_t last) {
      std::vector<Reflected> values((last - first) * ys.size());
      path.integrate(std::span(xs).subspan(begin + first, last - first), ys, values);
      for (std::size_t i = first; i < last; ++i) {
        for (std::size_t j = 0; j < ys.size(); ++j)
          cells_[(begin + i) * ys.size() + j] =
              remainder(xs[begin + i], ys[j], values[(i - first) * ys.size() + j]);
      }
    });
    begin = end;
  }
}

/// What is left when the wave's turning and the images are taken out.
SommerfeldTable::Cell SommerfeldTable::remainder(double x, double y, const Reflected& whole) const {
  const double r = std::hypot(x, y);
  const Complex unwind = Complex(std::cos(r), std::sin(r)) * r;
  const Complex h = times(whole.horizontal, unwind);
  const Complex z = times(whole.vertical, unwind) - 2.0 * image_;
  const Complex k = times(whole.charge, unwind) + image_;
  const Complex p = times(whole.coupling, unwind) + image_ * (x / (r + y));
  const auto f = [](double v) { return static_cast<float>(v); };
  return {{f(h.real()), f(h.imag()), f(z.real()), f(z.imag()), f(k.real()), f(k.imag()), f(p.real()),
           f(p.imag())}};
}

bool SommerfeldTable::holds(double x_max, double y_max) const {
  return std::ceil(x_.step_of(x_max)) + 3 <= x_.count &&
         std::ceil(y_.step_of(y_max - y_.start)) + 3 <= y_.count;
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
  float f[8] = {};
  for (int i = 0; i < 4; ++i) {
    const Cell* row = cells_.data() + (ix + i) * y_.count + iy;
    for (int j = 0; j < 4; ++j) {
      const auto w = static_cast<float>(wx[i] * wy[j]);
      for (int p = 0; p < 8; ++p) f[p] += w * row[j].value[p];
    }
  }
  const double r = std::sqrt(x * x + y * y);
  const double inverse_r = 1 / r;
  const Complex g(std::cos(r) * inverse_r, -std::sin(r) * inverse_r);
  const double lean = x / (r + y);
  const auto part = [&f](int p) { return Complex(static_cast<double>(f[p]), static_cast<double>(f[p + 1])); };
  return {times(g, part(0)), times(g, part(2) + 2.0 * image_), times(g, part(4) - image_),
          times(g, part(6) - image_ * lean)};
}

std::shared_ptr<const SommerfeldTable> ground_table(Complex eps, double k0, double width_m, double low_m,
                                                    double high_m) {
  // Judgement: lowest points are counterpoises in the grass, raised radials, and wire ends tied off at knee
  // height. Where a table starts decides its nodes, so it depends on nothing but the request; how far it goes
  // does not, so it grows when a larger antenna comes: an answer never depends on what was asked before.
  double lowest_m = 0.00999;
  for (const double step_m : {0.0999, 0.499}) lowest_m = low_m >= step_m ? step_m : lowest_m;
  const double y_min = 2 * k0 * lowest_m;
  // Judgement: 22 m of wire, 7 m up, to begin with.
  const double x_size = k0 * std::max(width_m, 22.0);
  const double y_size = 2 * k0 * std::max(high_m, 7.0);
  struct Entry {
    std::mutex building;
    std::shared_ptr<const SommerfeldTable> table;
  };
  // Judgement: nine bands on a dozen grounds fit; a table is 0.1 to 0.5 MB.
  constexpr std::size_t most_entries = 128;
  using Key = std::array<double, 3>;
  static std::mutex guard;
  static std::map<Key, std::shared_ptr<Entry>> entries;
  std::shared_ptr<Entry> entry;
  {
    const Key key{eps.real(), eps.imag(), y_min};
    const std::lock_guard lock(guard);
    if (entries.size() >= most_entries && !entries.contains(key)) entries.clear();  // tables in use live on
    auto& slot = entries[key];
    if (!slot) slot = std::make_shared<Entry>();
    entry = slot;
  }
  const std::lock_guard lock(entry->building);
  if (!entry->table || !entry->table->holds(x_size, y_size))
    entry->table = std::make_shared<SommerfeldTable>(eps, x_size, y_min, y_size, entry->table.get());
  return entry->table;
}

}  // namespace skerry::antenna::mom
