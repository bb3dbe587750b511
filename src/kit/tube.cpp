// Cylinders and boxes in bags.
#include <algorithm>
#include <cmath>
#include <limits>

#include "skerry/kit/rules.hpp"

namespace skerry::kit {

namespace {

/// The squares of a direction's component along one side that the side can hold, for a cylinder of length l
/// and diameter d. Its width is w(u) = l u + d sqrt(1 - u^2), which rises from d at u = 0 to sqrt(l^2 + d^2)
/// and falls to l at u = 1: so at most two intervals, one from 0 up and one down from 1.
struct Allowed {
  double low[2] = {0, 0}, high[2] = {0, 0};
  int count = 0;
  void add(double from, double to) {
    low[count] = from;
    high[count] = to;
    ++count;
  }
};

Allowed allowed(double side, double l, double d) {
  Allowed out;
  const double top2 = l * l + d * d;
  if (side * side >= top2) {
    out.add(0, 1);
    return out;
  }
  // w(u) = side: u = (side l -+ d sqrt(top2 - side^2)) / top2.
  const double root = d * std::sqrt(top2 - side * side);
  if (side >= d) {
    const double u = std::clamp((side * l - root) / top2, 0.0, 1.0);
    out.add(0, u * u);
  }
  if (side >= l) {
    const double u = std::clamp((side * l + root) / top2, 0.0, 1.0);
    out.add(u * u, 1);
  }
  return out;
}

/// Some direction holds when squares of its components, one from each side's intervals, can sum to 1.
bool holds(const std::array<double, 3>& sides, double l, double d) {
  const Allowed a = allowed(sides[0], l, d);
  const Allowed b = allowed(sides[1], l, d);
  const Allowed c = allowed(sides[2], l, d);
  for (int i = 0; i < a.count; ++i) {
    for (int j = 0; j < b.count; ++j) {
      for (int k = 0; k < c.count; ++k) {
        const double least = a.low[i] + b.low[j] + c.low[k];
        const double most = a.high[i] + b.high[j] + c.high[k];
        // 1e-12: rounding of the squares; it moves L by under 1e-9 cm in any bag.
        if (least <= 1 + 1e-12 && most >= 1 - 1e-12) return true;
      }
    }
  }
  return false;
}

/// Calls f(squares from, squares to) for each box of squares in which some direction holds: component by
/// component the least and the most that occur.
template <class F>
void each_patch(const std::array<double, 3>& sides, double l, double d, F&& f) {
  const std::array<Allowed, 3> all{allowed(sides[0], l, d), allowed(sides[1], l, d), allowed(sides[2], l, d)};
  for (int a = 0; a < all[0].count; ++a) {
    for (int b = 0; b < all[1].count; ++b) {
      for (int c = 0; c < all[2].count; ++c) {
        const std::array<double, 3> low{all[0].low[a], all[1].low[b], all[2].low[c]};
        const std::array<double, 3> high{all[0].high[a], all[1].high[b], all[2].high[c]};
        std::array<double, 3> from{}, to{};
        bool some = true;
        for (std::size_t i = 0; i < 3; ++i) {
          const std::size_t j = (i + 1) % 3, k = (i + 2) % 3;
          from[i] = std::max(low[i], 1 - high[j] - high[k]);
          to[i] = std::min(high[i], 1 - low[j] - low[k]);
          some = some && from[i] <= to[i] + 1e-12;
          to[i] = std::max(to[i], from[i]);
        }
        if (some) f(from, to);
      }
    }
  }
}

/// A shorter cylinder fits wherever a longer one does, so halving finds the longest.
template <class Fits>
double longest(double most, Fits&& fits) {
  double low = 0;
  double high = most;
  if (!fits(1e-9)) return 0;
  for (int i = 0; i < 100 && high - low > 1e-12; ++i) {
    const double middle = 0.5 * (low + high);
    (fits(middle) ? low : high) = middle;
  }
  return low;
}

/// What halving leaves open; see longest_tube.
constexpr double rounding_cm = 1e-9;

bool box_fits(std::array<double, 3> box, std::array<double, 3> bag) {
  std::sort(box.begin(), box.end());
  std::sort(bag.begin(), bag.end());
  // Sides less lining are differences of decimal numbers: the same rounding as for tubes.
  return box[0] <= bag[0] + rounding_cm && box[1] <= bag[1] + rounding_cm && box[2] <= bag[2] + rounding_cm;
}

}  // namespace

TubeFit longest_tube(const std::array<double, 3>& inner_cm, double diameter_cm) {
  std::array<double, 3> sides = inner_cm;
  std::sort(sides.begin(), sides.end());
  const double diagonal = std::hypot(sides[0], sides[1], sides[2]);
  TubeFit fit;
  fit.solid_cm = longest(diagonal, [&](double l) { return holds(sides, l, diameter_cm); });
  // Flat: the axis parallel to the largest face, so the component along the smallest side is 0 and that side
  // must hold the diameter.
  if (diameter_cm <= sides[0]) {
    fit.flat_cm = longest(diagonal, [&](double l) {
      const Allowed a = allowed(sides[1], l, diameter_cm);
      const Allowed b = allowed(sides[2], l, diameter_cm);
      for (int i = 0; i < a.count; ++i) {
        for (int j = 0; j < b.count; ++j) {
          if (a.low[i] + b.low[j] <= 1 + 1e-12 && a.high[i] + b.high[j] >= 1 - 1e-12) return true;
        }
      }
      return false;
    });
  }
  return fit;
}

std::optional<std::array<double, 3>> clear_sides_cm(const Bag& bag) {
  std::array<double, 3> inner = bag.inner_cm;
  for (double& side : inner) side -= bag.lining_cm;
  std::sort(inner.begin(), inner.end());
  if (inner[0] <= 0) return std::nullopt;
  return inner;
}

std::optional<TubeWays> ways_of_tube(const std::array<double, 3>& inner_cm,
                                     const std::array<double, 2>& tube_cm) {
  // As in lie_of_tube: a tube that is too long by rounding alone goes in.
  const double l = tube_cm[0] - rounding_cm, d = tube_cm[1];
  TubeWays out;
  constexpr double endless = std::numeric_limits<double>::infinity();
  out.along_cm = out.across_cm = {endless, endless, endless};
  bool any = false;
  each_patch(inner_cm, l, d, [&](const auto& from, const auto& to) {
    any = true;
    for (std::size_t i = 0; i < 3; ++i) {
      // All are concave in the component, so they are least at an end.
      for (const double square : {from[i], to[i]}) {
        const double u = std::sqrt(std::clamp(square, 0.0, 1.0));
        const double across = 0.5 * d * std::sqrt(std::max(0.0, 1 - u * u));
        out.play_cm[i] = std::max(out.play_cm[i], 0.5 * (inner_cm[i] - l * u) - across);
        out.along_cm[i] = std::min(out.along_cm[i], l * u + across);
        out.across_cm[i] = std::min(out.across_cm[i], across);
      }
    }
    std::array<double, 3> mean{};
    std::size_t corners = 0;
    for (std::size_t i = 0; i < 3; ++i) {
      for (const double first : {from[i], to[i]}) {
        // The corners of what is left to the other two.
        const std::size_t j = (i + 1) % 3, k = (i + 2) % 3;
        const double second = std::clamp(1 - first - from[k], from[j], to[j]);
        for (const double other : {second, std::clamp(1 - first - to[k], from[j], to[j])}) {
          std::array<double, 3> square{};
          square[i] = first;
          square[j] = other;
          square[k] = std::max(0.0, 1 - first - other);
          for (std::size_t n = 0; n < 3; ++n) mean[n] += square[n];
          ++corners;
          out.some.push_back({std::sqrt(square[0]), std::sqrt(square[1]), std::sqrt(square[2])});
        }
      }
    }
    for (double& m : mean) m = std::sqrt(m / static_cast<double>(corners));
    out.some.push_back(mean);
  });
  if (!any) return std::nullopt;
  return out;
}

Lie lie_of_tube(const std::array<double, 2>& tube_cm, const Bag& bag) {
  const auto inner = clear_sides_cm(bag);
  if (!inner) return Lie::no_way;
  const auto [length, diameter] = tube_cm;
  if (box_fits({length, diameter, diameter}, *inner)) return Lie::along_a_side;
  const TubeFit fit = longest_tube(*inner, diameter);
  if (fit.flat_cm + rounding_cm >= length) return Lie::across_a_face;
  return fit.solid_cm + rounding_cm >= length ? Lie::corner_to_corner : Lie::no_way;
}

bool fits(const Item& item, const Bag& bag) {
  const auto inner = clear_sides_cm(bag);
  if (!inner) return false;
  if (item.tube_cm) return lie_of_tube(*item.tube_cm, bag) != Lie::no_way;
  if (!item.size_cm) return true;
  if (box_fits(*item.size_cm, *inner)) return true;
  std::array<double, 3> box = *item.size_cm;
  std::sort(box.begin(), box.end());
  return longest_tube(*inner, std::hypot(box[0], box[1])).solid_cm + rounding_cm >= box[2];
}

}  // namespace skerry::kit
