#include "shape.hpp"

#include <algorithm>
#include <cmath>

#include "skerry/core/units.hpp"
#include "vec.hpp"

namespace skerry::geodesy {

PlaneRing unwrapped(std::span<const GeoPoint> ring, double* turn_deg) {
  PlaneRing out;
  out.reserve(ring.size());
  double last = ring.empty() ? 0.0 : ring.front().lon_deg;
  for (const GeoPoint& p : ring) {
    last += wrap_180(p.lon_deg - last);
    out.emplace_back(last, p.lat_deg);
  }
  if (turn_deg != nullptr) {
    *turn_deg = ring.empty() ? 0.0 : last + wrap_180(ring.front().lon_deg - last) - ring.front().lon_deg;
  }
  return out;
}

Shape::Shape(const Region& region) {
  for (const auto& points : region.rings) {
    Part part{unwrapped(points), {}};
    bg::correct(part.ring);
    bg::envelope(part.ring, part.box);
    parts_.push_back(std::move(part));
  }
}

bool Shape::contains(GeoPoint where) const {
  for (const Part& part : parts_) {
    const PlanePoint& low = part.box.min_corner();
    const PlanePoint& high = part.box.max_corner();
    if (where.lat_deg < low.y() || where.lat_deg > high.y()) continue;
    // An unwrapped ring may stand a whole turn east or west of the point.
    for (const double turn : {-360.0, 0.0, 360.0}) {
      const double lon_deg = where.lon_deg + turn;
      if (lon_deg < low.x() || lon_deg > high.x()) continue;
      if (bg::covered_by(PlanePoint(lon_deg, where.lat_deg), part.ring)) return true;
    }
  }
  return false;
}

GeoPoint Shape::centroid() const {
  const auto largest = std::max_element(parts_.begin(), parts_.end(), [](const Part& a, const Part& b) {
    return bg::area(a.ring) < bg::area(b.ring);
  });
  if (largest == parts_.end()) return {};
  PlanePoint middle(0, 0);
  bg::centroid(largest->ring, middle);
  return GeoPoint::at_deg(std::clamp(middle.y(), -90.0, 90.0), middle.x());
}

double Shape::area_km2() const {
  double sum = 0;
  for (const Part& part : parts_) {
    // Green's theorem on the cylinder of equal area: the sphere's area under each edge is dlon * sin(lat).
    double ring = 0;
    const std::size_t n = part.ring.size();
    for (std::size_t i = 0; i < n; ++i) {
      const PlanePoint& a = part.ring[i];
      const PlanePoint& b = part.ring[(i + 1) % n];
      ring += (b.x() - a.x()) * rad_per_deg * (sin_deg(a.y()) + sin_deg(b.y())) / 2;
    }
    sum += std::abs(ring);
  }
  return sum * mean_radius_km * mean_radius_km;
}

}  // namespace skerry::geodesy
