#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <mutex>

#include "mom_sommerfeld.hpp"
#include "mom_turn.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/parallel.hpp"

namespace skerry::antenna::mom {

namespace {

/// Judgement: cubic interpolation at this spacing of the logarithm errs below 3e-4 on every preset (by test).
constexpr double grid_step = 0.3;

/// Judgement, by test: far from everything the remainder changes over this share of a step for each unit.
constexpr double slow = 0.5;

/// Judgement: lower than the lowest wire anybody lays (counterpoises in the grass); steps are even above it.
constexpr double lowest_wire_m = 0.00999;

/// 2/0.35: up to here the path of integration is lifted as high as it may be.
constexpr double least_path_reach = 5.7;

}  // namespace

double SommerfeldTable::Axis::step_of(double t) const {
  double product = 1 + t * (1 / fine);
  if (near != far) {
    const double ratio = (1 + t / near) / (1 + t / far);
    product *= ratio * ratio;
  }
  double even = coarse;
  if (beats != 0) even += beats / (1 + t * fading);
  return (std::log(product) + t * even) * (1.0 / grid_step);
}

std::vector<double> SommerfeldTable::Axis::nodes(int begin, int end) const {
  std::vector<double> t(static_cast<std::size_t>(end - begin));
  double guess = 0;
  for (int i = begin; i < end; ++i) {
    // Newton on a concave rising function, from the node before.
    for (int k = 0; k < 60; ++k) {
      const double beat = 1 / (1 + guess * fading);
      const double slope =
          (1 / (fine + guess) + coarse + beats * beat * beat + 2 / (near + guess) - 2 / (far + guess)) /
          grid_step;
      const double change = (i - step_of(guess)) / slope;
      guess += change;
      if (std::abs(change) < 1e-13 * (guess + fine)) break;
    }
    nth(t, i - begin) = start + guess;
  }
  return t;
}

SommerfeldTable::SommerfeldTable(Complex eps, double fine, const Extent& extent, const SommerfeldTable* part)
    : image_((eps - 1.0) / (eps + 1.0)) {
  const Complex n = std::sqrt(eps);
  // Far out the remainder beats between the waves in air and along the ground's surface, exp(-j (n-1) x),
  // until the latter has died out; where that is at once, only the slow change is left.
  const bool lossy = -n.imag() > 0.35 * n.real();
  x_ = {0, fine, slow, 1, 1, 0, 0};
  if (lossy) {
    // Around a few times 1/|n| the ground's wave still turns, exp(-j n x).
    x_.near = 1 / std::abs(n);
    x_.far = 10 / std::abs(n);
  } else {
    // Judgement, by test: 2.2, 0.02 and 8.
    x_.beats = std::max(0.0, std::max(n.real() - 1, 0.1) / 2.2 - slow);
    x_.fading = 0.02 - n.imag() / 8;  // a lateral wave fades as 1/x besides
  }
  y_ = {fine, fine, slow, 1, 1, 0, 0};
  Range x{0, x_.last_for(extent.x)};
  Range y{y_.first_for(extent.y_low), y_.last_for(extent.y_high)};
  if (part != nullptr) {
    x.end = std::max(x.end, part->x_range_.end);
    y = {std::min(y.begin, part->y_range_.begin), std::max(y.end, part->y_range_.end)};
  }
  x_range_ = x;
  y_range_ = y;
  cells_.resize(static_cast<std::size_t>(x.size()) * static_cast<std::size_t>(y.size()));
  if (part == nullptr) {
    fill(eps, x, y);
    return;
  }
  const Range known_x = part->x_range_;
  const Range known_y = part->y_range_;
  for (int i = known_x.begin; i < known_x.end; ++i) {
    std::copy_n(&nth(part->cells_, i * known_y.size()), known_y.size(),
                &nth(cells_, i * y.size() + known_y.begin - y.begin));
  }
  fill(eps, known_x, {y.begin, known_y.begin});
  fill(eps, known_x, {known_y.end, y.end});
  fill(eps, {known_x.end, x.end}, y);
}

void SommerfeldTable::fill(Complex eps, Range x, Range y) {
  if (x.size() == 0 || y.size() == 0) return;
  const std::vector<double> xs = x_.nodes(x.begin, x.end);
  const std::vector<double> ys = y_.nodes(y.begin, y.end);
  // The path of integration comes nearer to the real axis the larger x is: in octaves, whatever the table's
  // size, so that a node's value depends on nothing else.
  for (std::size_t begin = 0; begin < xs.size();) {
    double reach = least_path_reach;
    while (reach < xs[begin]) reach *= 2;
    std::size_t end = begin;
    while (end < xs.size() && xs[end] <= reach) ++end;
    const SpectralPath path(eps, reach, y_.fine);
    parallel_for(end - begin, (end - begin + 3) / 4, [&](std::size_t first, std::size_t last) {
      std::vector<Reflected> values((last - first) * ys.size());
      path.without_images(std::span(xs).subspan(begin + first, last - first), ys, values);
      for (std::size_t i = first; i < last; ++i) {
        const std::size_t row =
            (begin + i + static_cast<std::size_t>(x.begin)) * static_cast<std::size_t>(y_range_.size()) +
            static_cast<std::size_t>(y.begin - y_range_.begin);
        for (std::size_t j = 0; j < ys.size(); ++j)
          cells_[row + j] = remainder(xs[begin + i], ys[j], values[(i - first) * ys.size() + j]);
      }
    });
    begin = end;
  }
}

/// Less the wave's turning, and for the coupling less its image.
SommerfeldTable::Cell SommerfeldTable::remainder(double x, double y, const Reflected& less_images) const {
  const double r = std::sqrt(x * x + y * y);
  const Complex unwind = turn(r) * r;
  const Complex h = times(less_images.horizontal, unwind);
  const Complex z = times(less_images.vertical, unwind);
  const Complex k = times(less_images.charge, unwind);
  const Complex p = times(less_images.coupling, unwind) + image_ * (x / (r + y));
  const auto f = [](double v) { return static_cast<float>(v); };
  return {f(h.real()), f(h.imag()), f(z.real()), f(z.imag()),
          f(k.real()), f(k.imag()), f(p.real()), f(p.imag())};
}

bool SommerfeldTable::holds(const Extent& extent) const {
  return x_.last_for(extent.x) <= x_range_.end && y_.first_for(extent.y_low) >= y_range_.begin &&
         y_.last_for(extent.y_high) <= y_range_.end;
}

Reflected SommerfeldTable::at(double x, double y) const {
  const auto place = [](const Axis& axis, const Range& range, double t, double(&w)[4]) {
    const double s = std::clamp(axis.step_of(std::max(t - axis.start, 0.0)), static_cast<double>(range.begin),
                                range.end - 1.0);
    const int base = std::clamp(static_cast<int>(s) - 1, range.begin, range.end - 4);
    // Lagrange's cubic through nodes 0..3. Source: Abramowitz and Stegun 25.2.13.
    const double a = s - base;
    const double b = a - 1;
    const double c = a - 2;
    const double d = a - 3;
    w[0] = b * c * d * (-1.0 / 6);
    w[1] = a * c * d * 0.5;
    w[2] = a * b * d * -0.5;
    w[3] = a * b * c * (1.0 / 6);
    return base - range.begin;
  };
  double wx[4];
  double wy[4];
  const int ix = place(x_, x_range_, x, wx);
  const int iy = place(y_, y_range_, y, wy);
  Cell f = Cell::Zero();
  for (int i = 0; i < 4; ++i) {
    const Cell* row = cells_.data() + (ix + i) * y_range_.size() + iy;
    for (int j = 0; j < 4; ++j) {
      f += static_cast<float>(wx[i] * wy[j]) * row[j];
    }
  }
  const double r = std::sqrt(x * x + y * y);
  const Complex g = turn(-r) * (1 / r);
  const double lean = x / (r + y);
  const auto part = [&f](int p) { return Complex(static_cast<double>(f[p]), static_cast<double>(f[p + 1])); };
  return {times(g, part(0)), times(g, part(2) + 2.0 * image_), times(g, part(4) - image_),
          times(g, part(6) - image_ * lean)};
}

std::shared_ptr<const SommerfeldTable> ground_table(Complex eps, double k0, double width_m, double low_m,
                                                    double high_m) {
  // Where an axis begins decides its nodes, so that depends on nothing but the ground; what part of it a
  // table covers does not, so it grows when a larger or lower antenna comes: an answer never depends on what
  // was asked before.
  const double fine = 2 * k0 * lowest_wire_m;
  // Judgement: 22 m of wire between knee height and 7 m up, to begin with.
  const SommerfeldTable::Extent extent{k0 * std::max(width_m, 22.0), 2 * k0 * std::min(low_m, 0.5),
                                       2 * k0 * std::max(high_m, 7.0)};
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
    const Key key{eps.real(), eps.imag(), fine};
    const std::lock_guard lock(guard);
    if (entries.size() >= most_entries && !entries.contains(key)) entries.clear();  // tables in use live on
    auto& slot = entries[key];
    if (!slot) slot = std::make_shared<Entry>();
    entry = slot;
  }
  const std::lock_guard lock(entry->building);
  if (!entry->table || !entry->table->holds(extent))
    entry->table = std::make_shared<SommerfeldTable>(eps, fine, extent, entry->table.get());
  return entry->table;
}

}  // namespace skerry::antenna::mom
