// Which way and how far between two places, both ways round, and where the way passes.
// Layer: geodesy. Sees core only.
#pragma once

#include <array>

#include "skerry/geodesy/point.hpp"

namespace skerry::geodesy {

enum class Way { short_way, long_way };

/// Great-circle path. Distance and bearings of the short way are geodesics of WGS84 (Karney 2013, by
/// GeographicLib, error nanometres). Positions along the path, and the whole long way, are taken on a sphere:
/// the long way is 2*pi*6371.0088 km minus the short one, bearings reversed. Sphere against ellipsoid: at
/// most 0.6 % of distance.
struct Path {
  GeoPoint from;
  GeoPoint to;
  Way way = Way::short_way;
  double distance_km = 0;         ///< >= 0
  double bearing_deg = 0;         ///< at `from`, towards the path, 0..360
  double return_bearing_deg = 0;  ///< at `to`, pointing back along the same path, 0..360
  /// Distance of `to` from the antipode of `from`, on the sphere; below about 600 bearings are unstable.
  double from_antipode_km = 0;

  // Sphere geometry for `point_at`: unit vectors at each end, unit tangents there pointing into the path,
  // and the angle between the ends along this way (0..2*pi).
  std::array<double, 3> from_vec{}, from_tangent{}, to_vec{}, to_tangent{};
  double angle_rad = 0;
};

/// Same point twice gives distance 0, bearing 0; exact antipodes give the meridian over the North Pole, from
/// either end, so that A-B and B-A stay one path. Both rules reach 6 micrometres. The long way is the other
/// half of the same circle. Never NaN, for any two places. About 1 us. On the sphere latitudes are taken as
/// they stand (geodetic), so `bearing_deg` differs from bearing_at(path, 0). Measured, three million pairs:
/// at most 0.3 degrees while `to` is over 5000 km from the antipode, 0.6 over 2500 km, 1.8 over 1000 km, 3
/// over 600 km, and any amount nearer.
[[nodiscard]] Path make_path(GeoPoint from, GeoPoint to, Way way);

/// For a far end near the antipode, where every bearing leads: the half circle from `from` at `bearing_deg`
/// to the antipode, taken to end at `to`. Positions along it are off by up to the distance of `to` from the
/// antipode.
[[nodiscard]] Path path_by_bearing(GeoPoint from, GeoPoint to, double bearing_deg);

/// Place at a share of the way, 0 = from, 1 = to (asserted), in equal steps along the sphere; about 35 ns.
/// Measured from the nearer end, so that point_at(path, t) of A-B and point_at(path, 1-t) of B-A agree to
/// rounding.
[[nodiscard]] GeoPoint point_at(const Path& path, double share);

/// Place at a distance and bearing from a place, along a WGS84 geodesic. Any finite numbers; negative goes
/// backwards.
[[nodiscard]] GeoPoint destination(GeoPoint from, double bearing_deg, double distance_km);

/// Short-way geodesic distance.
[[nodiscard]] double distance_km(GeoPoint a, GeoPoint b);

/// Bearing along the path's great circle at a share of the way (direction of travel from -> to), 0..360. On a
/// pole itself north is the meridian of Greenwich.
[[nodiscard]] double bearing_at(const Path& path, double share);

}  // namespace skerry::geodesy
