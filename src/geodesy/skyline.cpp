#include "skerry/geodesy/skyline.hpp"

#include <algorithm>
#include <cmath>

#include "skerry/core/units.hpp"

namespace skerry::geodesy {

namespace {

/// The two points that a direction lies between, and how much of the way to the second it is. The circle is closed:
/// before the first point and after the last one they are the last and the first.
template <class Point>
struct Between {
  const Point& before;
  const Point& after;
  double share = 0;
};

template <class Point>
Between<Point> between(const std::vector<Point>& points, double azimuth_deg) {
  const double azimuth = wrap_360(azimuth_deg);
  const auto next = std::upper_bound(points.begin(), points.end(), azimuth,
                                     [](double a, const Point& p) { return a < p.azimuth_deg; });
  const Point& after = next == points.end() ? points.front() : *next;
  const Point& before = next == points.begin() ? points.back() : *std::prev(next);
  const double span = wrap_360(after.azimuth_deg - before.azimuth_deg);
  return {before, after, span > 0 ? wrap_360(azimuth - before.azimuth_deg) / span : 0};
}

}  // namespace

Skyline Horizon::towards(double azimuth_deg) const {
  if (points.empty()) return {};
  const auto [before, after, share] = between(points, azimuth_deg);
  return {std::lerp(before.skyline.deg, after.skyline.deg, share),
          std::lerp(before.skyline.km, after.skyline.km, share)};
}

double Foreground::fall_deg(double azimuth_deg) const {
  if (points.empty()) return 0;
  const auto [before, after, share] = between(points, azimuth_deg);
  return std::lerp(before.fall_deg, after.fall_deg, share);
}

}  // namespace skerry::geodesy
