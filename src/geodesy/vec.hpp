// Unit vectors of places on the sphere, for the inside of the room.
// Layer: geodesy. Sees core only.
#pragma once

#include <array>
#include <cmath>

#include "skerry/core/units.hpp"
#include "skerry/geodesy/point.hpp"

namespace skerry::geodesy {

using Vec = std::array<double, 3>;

inline Vec plus(const Vec& a, const Vec& b) {
  return {a[0] + b[0], a[1] + b[1], a[2] + b[2]};
}
inline Vec minus(const Vec& a, const Vec& b) {
  return {a[0] - b[0], a[1] - b[1], a[2] - b[2]};
}
inline Vec scaled(const Vec& a, double k) {
  return {a[0] * k, a[1] * k, a[2] * k};
}
inline double dot(const Vec& a, const Vec& b) {
  return a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
}
inline Vec cross(const Vec& a, const Vec& b) {
  return {a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]};
}
inline double length(const Vec& a) {
  return std::sqrt(dot(a, a));
}

inline Vec unit_vector(GeoPoint p) {
  const double cos_lat = cos_deg(p.lat_deg);
  return {cos_lat * cos_deg(p.lon_deg), cos_lat * sin_deg(p.lon_deg), sin_deg(p.lat_deg)};
}

/// Longitude of -180 becomes 180, as GeoPoint wants it. `v` need not have unit length.
inline GeoPoint place_of(const Vec& v) {
  const double lon = std::atan2(v[1], v[0]) * deg_per_rad;
  return {std::atan2(v[2], std::sqrt(v[0] * v[0] + v[1] * v[1])) * deg_per_rad, lon <= -180.0 ? 180.0 : lon};
}

/// Mean radius (2a + b) / 3 of the WGS84 ellipsoid. Source: IUGG R1 with WGS84 axes: 6371.0088 km.
inline constexpr double mean_radius_km = 6371.0088;

}  // namespace skerry::geodesy
