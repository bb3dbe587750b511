// A region made ready for many questions.
// Layer: geodesy. Sees core only. Only for .cpp files: brings in Boost.Geometry.
#pragma once

#include <boost/geometry.hpp>
#include <boost/geometry/geometries/box.hpp>
#include <boost/geometry/geometries/point_xy.hpp>
#include <boost/geometry/geometries/ring.hpp>
#include <span>
#include <vector>

#include "skerry/geodesy/region.hpp"

namespace skerry::geodesy {

namespace bg = boost::geometry;
using PlanePoint = bg::model::d2::point_xy<double>;
using PlaneBox = bg::model::box<PlanePoint>;
/// Clockwise and open, in plane degrees, x = longitude.
using PlaneRing = bg::model::ring<PlanePoint, true, false>;

/// The ring with longitudes unwrapped: each step goes the shorter way round. Edges are straight in latitude
/// and longitude (RFC 7946, section 3.1.1). `turn_deg`, if given, gets the longitude gained on the way round:
/// 0, or +-360 about a pole.
[[nodiscard]] PlaneRing unwrapped(std::span<const GeoPoint> ring, double* turn_deg = nullptr);

class Shape {
 public:
  explicit Shape(const Region& region);
  [[nodiscard]] bool contains(GeoPoint where) const;
  /// A place inside: the centroid of the largest ring in plane degrees; where that lies outside or in a hole,
  /// the middle of the widest stretch of the ring on one of a few parallels.
  [[nodiscard]] GeoPoint middle() const;
  /// Of all rings less their holes, on the sphere, to a percent: for spacing only.
  [[nodiscard]] double area_km2() const;

 private:
  struct Part {
    PlaneRing ring;
    PlaneBox box;
    std::vector<PlaneRing> holes = {};
  };
  std::vector<Part> parts_;
};

}  // namespace skerry::geodesy
