#include "skerry/geodesy/path.hpp"

#include <cmath>
#include <numbers>

#include "check.hpp"
#include "skerry/core/units.hpp"

using skerry::GeoPoint;
using namespace skerry::geodesy;

namespace {

double dms(double degrees, double minutes, double seconds) {
  const double value = std::abs(degrees) + minutes / 60 + seconds / 3600;
  return degrees < 0 ? -value : value;
}

/// Degrees between two directions, 0..180.
double turn_deg(double a, double b) {
  return std::abs(skerry::wrap_180(a - b));
}

/// Kilometres on a sphere of 6371 km, by the haversine formula: independent of the code under test.
double sphere_km(GeoPoint a, GeoPoint b) {
  const double dlat = skerry::sin_deg((b.lat_deg - a.lat_deg) / 2);
  const double dlon = skerry::sin_deg((b.lon_deg - a.lon_deg) / 2);
  const double h = dlat * dlat + skerry::cos_deg(a.lat_deg) * skerry::cos_deg(b.lat_deg) * dlon * dlon;
  return 2 * 6371.0 * std::asin(std::min(1.0, std::sqrt(h)));
}

bool is_finite(const Path& p) {
  bool ok = std::isfinite(p.distance_km) && std::isfinite(p.bearing_deg) &&
            std::isfinite(p.return_bearing_deg) && std::isfinite(p.from_antipode_km);
  for (const double share : {0.0, 0.25, 0.5, 0.75, 1.0}) {
    const auto at = point_at(p, share);
    ok = ok && std::isfinite(at.lat_deg) && std::isfinite(at.lon_deg) && std::isfinite(bearing_at(p, share));
    ok = ok && at.lon_deg > -180 && at.lon_deg <= 180 && std::abs(at.lat_deg) <= 90;
  }
  return ok;
}

}  // namespace

TEST_CASE("geodesics agree with published ones", "[geodesy][known]") {
  struct Row {
    const char* source;
    GeoPoint from, to;
    double km, bearing_deg, arrival_deg;
    double km_tolerance, deg_tolerance;
  };
  // Tolerance: the last digit printed by the source.
  const auto row = GENERATE(values<Row>({
      {"GeographicLib manual, GeodSolve example New York JFK - London LHR (from memory)",
       GeoPoint::at_deg(40.6, -73.8), GeoPoint::at_deg(51.6, -0.5), 5551.759400, 51.198883, 107.821777, 1e-6,
       1e-6},
      {"Geodetic datum manual of Australia, Vincenty example Flinders Peak - Buninyong, GRS80 (from memory)",
       GeoPoint::at_deg(dms(-37, 57, 3.72030), dms(144, 25, 29.52440)),
       GeoPoint::at_deg(dms(-37, 39, 10.15610), dms(143, 55, 35.38390)), 54.972271, dms(306, 52, 5.37),
       dms(127, 10, 25.07) + 180, 1e-6, 0.005 / 3600 + 1e-7},
      {"Karney, Algorithms for geodesics, J. Geod. 87 (2013), table 5: nearly antipodal (from memory)",
       GeoPoint::at_deg(-30, 0), GeoPoint::at_deg(29.9, 179.8), 19989.83282761, 161.89052473633,
       18.09073724574, 1e-8, 1e-10},
      {"WGS84 quarter meridian, 10 001.965729 km", GeoPoint::at_deg(0, 10), GeoPoint::at_deg(90, 10),
       10001.965729, 0, 0, 1e-6, 1e-9},
      {"one degree of the WGS84 equator: 6378.137 km * pi / 180", GeoPoint::at_deg(0, 179.5),
       GeoPoint::at_deg(0, -179.5), 6378.137 * std::numbers::pi / 180, 90, 90, 1e-9, 1e-9},
  }));
  CAPTURE(row.source);
  const Path path = make_path(row.from, row.to, Way::short_way);
  CHECK_THAT(path.distance_km, WithinAbs(row.km, row.km_tolerance));
  CHECK_THAT(distance_km(row.from, row.to), WithinAbs(row.km, row.km_tolerance));
  CHECK(turn_deg(path.bearing_deg, row.bearing_deg) < row.deg_tolerance);
  CHECK(turn_deg(path.return_bearing_deg, row.arrival_deg + 180) < row.deg_tolerance);
}

TEST_CASE("the direct problem agrees with a published solution", "[geodesy][known]") {
  // Karney, Algorithms for geodesics, J. Geod. 87 (2013), table 2: 40 N, azimuth 30, 10 000 km (from memory).
  const auto there = destination(GeoPoint::at_deg(40, 0), 30, 10000);
  CHECK_THAT(there.lat_deg, WithinAbs(41.79331020506, 1e-10));
  CHECK_THAT(there.lon_deg, WithinAbs(137.84490004377, 1e-10));
}

TEST_CASE("points and bearings along a great circle agree with a worked example", "[geodesy][known]") {
  // Aviation Formulary, Los Angeles - New York on a sphere: 0.623585 rad, course 1.150035 rad, and the
  // point at 40 % of the way 38 deg 40.167' N 101 deg 37.570' W (from memory). Tolerance: last digit.
  const Path path = make_path(GeoPoint::at_deg(dms(33, 57, 0), dms(-118, 24, 0)),
                              GeoPoint::at_deg(dms(40, 38, 0), dms(-73, 47, 0)), Way::short_way);
  CHECK_THAT(path.angle_rad, WithinAbs(0.623585, 1e-6));
  CHECK_THAT(bearing_at(path, 0) * skerry::rad_per_deg, WithinAbs(1.150035, 1e-6));
  const auto at = point_at(path, 0.4);
  CHECK_THAT(at.lat_deg, WithinAbs(dms(38, 40.167, 0), 0.001 / 60));
  CHECK_THAT(at.lon_deg, WithinAbs(dms(-101, 37.570, 0), 0.001 / 60));
}

TEST_CASE("a path and its return are one path", "[geodesy][property]") {
  const auto way = GENERATE(Way::short_way, Way::long_way);
  const auto a =
      GeoPoint::at_deg(GENERATE(take(6, random(-90.0, 90.0))), GENERATE(take(3, random(-180.0, 180.0))));
  const auto b = GeoPoint::at_deg(GENERATE(take(6, random(-90.0, 90.0))), 17.0);
  const Path out = make_path(a, b, way);
  const Path back = make_path(b, a, way);
  CHECK_THAT(out.distance_km, WithinAbs(back.distance_km, 1e-8));
  CHECK(turn_deg(out.bearing_deg, back.return_bearing_deg) < 1e-7);
  CHECK(turn_deg(out.return_bearing_deg, back.bearing_deg) < 1e-7);
  for (const double share : {0.0, 0.1, 0.3, 0.5, 0.7, 0.9, 1.0}) {
    const auto p = point_at(out, share);
    const auto q = point_at(back, 1 - share);
    CHECK(sphere_km(p, q) < 1e-6);
    CHECK(turn_deg(bearing_at(out, share), bearing_at(back, 1 - share) + 180) < 1e-6);
  }
}

TEST_CASE("both ways together go once round the Earth", "[geodesy][property]") {
  const auto a = GeoPoint::at_deg(GENERATE(take(5, random(-89.0, 89.0))), -170);
  const auto b =
      GeoPoint::at_deg(GENERATE(take(5, random(-89.0, 89.0))), GENERATE(take(5, random(-180.0, 180.0))));
  const Path near = make_path(a, b, Way::short_way);
  const Path far = make_path(a, b, Way::long_way);
  CHECK_THAT(near.distance_km + far.distance_km, WithinAbs(40030.23, 0.01));  // 2 pi * 6371.0088 km
  CHECK(turn_deg(near.bearing_deg, far.bearing_deg + 180) < 1e-9);
  CHECK(turn_deg(near.return_bearing_deg, far.return_bearing_deg + 180) < 1e-9);
  CHECK(sphere_km(point_at(far, 0), a) < 1e-6);
  CHECK(sphere_km(point_at(far, 1), b) < 1e-6);
  // The middle of the long way is the antipode of the middle of the short one.
  const auto m = point_at(near, 0.5);
  CHECK(sphere_km(point_at(far, 0.5), GeoPoint::at_deg(-m.lat_deg, m.lon_deg + 180)) < 1e-6);
}

TEST_CASE("a sphere stands for the ellipsoid within 0.6 percent", "[geodesy][property]") {
  const auto a = GeoPoint::at_deg(GENERATE(take(10, random(-90.0, 90.0))), 0);
  const auto b =
      GeoPoint::at_deg(GENERATE(take(10, random(-90.0, 90.0))), GENERATE(take(10, random(-179.0, 179.0))));
  const Path path = make_path(a, b, Way::short_way);
  CHECK(std::abs(path.angle_rad * 6371.0088 - path.distance_km) <= 0.006 * path.distance_km);
}

TEST_CASE("equal shares are equal steps, without a jump in the middle or at the date line",
          "[geodesy][property]") {
  const auto way = GENERATE(Way::short_way, Way::long_way);
  const Path path = make_path(GeoPoint::at_deg(-19.7, 63.43), GeoPoint::at_deg(61, -150), way);
  const double step_km = path.angle_rad * 6371.0 / 1000;
  for (int i = 0; i < 1000; ++i) {
    CHECK_THAT(sphere_km(point_at(path, i / 1000.0), point_at(path, (i + 1) / 1000.0)),
               WithinAbs(step_km, 1e-5));
  }
}

TEST_CASE("places that have no bearing still have a path", "[geodesy][edge]") {
  const auto way = GENERATE(Way::short_way, Way::long_way);
  const auto a = GENERATE(
      values<GeoPoint>({{0, 0}, {90, 0}, {-90, 45}, {12.3, 180}, {-45, -170}, {89.9999999, 5}, {0, 180}}));
  const auto b = GENERATE(
      values<GeoPoint>({{0, 0}, {90, 0}, {-90, 45}, {90, 120}, {-12.3, 0}, {45, 10}, {0, 180}, {1e-13, 0}}));
  CAPTURE(a.lat_deg, a.lon_deg, b.lat_deg, b.lon_deg);
  CHECK(is_finite(make_path(a, b, way)));
  CHECK(is_finite(make_path(a, a, way)));
  CHECK(is_finite(make_path(a, GeoPoint::at_deg(-a.lat_deg, a.lon_deg + 180), way)));
  CHECK(is_finite(make_path(a, GeoPoint::at_deg(-a.lat_deg, a.lon_deg + 180 + 1e-9), way)));
}

TEST_CASE("the same place twice is no distance, north by rule", "[geodesy][edge]") {
  const auto a = GeoPoint::at_deg(-19.7, 63.43);
  const Path path = make_path(a, a, Way::short_way);
  CHECK(path.distance_km == 0.0);
  CHECK(path.bearing_deg == 0.0);
  CHECK(sphere_km(point_at(path, 0.7), a) < 1e-9);
  const Path round = make_path(a, a, Way::long_way);
  CHECK_THAT(round.distance_km, WithinAbs(40030.23, 0.01));
  // Southward from 19.7 S, a quarter turn ends 19.7 degrees beyond the pole, at 70.3 S on the other side.
  CHECK(sphere_km(point_at(round, 0.25), GeoPoint::at_deg(-70.3, 63.43 - 180)) < 1e-6);
}

TEST_CASE("exact antipodes are joined over the North Pole, from either end", "[geodesy][edge]") {
  const auto a = GeoPoint::at_deg(-19.7, 63.43);
  const auto b = GeoPoint::at_deg(19.7, 63.43 - 180);
  const Path path = make_path(a, b, Way::short_way);
  CHECK(path.bearing_deg == 0.0);
  CHECK(path.return_bearing_deg == 0.0);
  CHECK_THAT(path.from_antipode_km, WithinAbs(0.0, 1e-3));
  CHECK_THAT(path.distance_km, WithinAbs(20003.931, 0.001));  // half a WGS84 meridian: 2 * 10 001.9657 km
  CHECK_THAT(point_at(path, (90 + 19.7) / 180).lat_deg, WithinAbs(90.0, 1e-6));
  CHECK_THAT(point_at(make_path(b, a, Way::short_way), (90 - 19.7) / 180).lat_deg, WithinAbs(90.0, 1e-6));
}

TEST_CASE("away from the antipode the circle's bearing is the geodesic's within 0.3 degrees",
          "[geodesy][property]") {
  const auto a = GeoPoint::at_deg(GENERATE(take(20, random(-89.0, 89.0))), 0);
  const auto b =
      GeoPoint::at_deg(GENERATE(take(20, random(-89.0, 89.0))), GENERATE(take(5, random(-180.0, 180.0))));
  const Path path = make_path(a, b, Way::short_way);
  const double parted_deg = turn_deg(path.bearing_deg, bearing_at(path, 0));
  CAPTURE(path.from_antipode_km, path.distance_km);
  // Bounds: as the header promises.
  if (path.from_antipode_km > 5000) CHECK(parted_deg < 0.3);
  if (path.from_antipode_km > 1000) CHECK(parted_deg < 1.8);
}

TEST_CASE("half circles by bearing all run from the place to its antipode", "[geodesy][property]") {
  const auto a = GeoPoint::at_deg(GENERATE(-19.7, 48.0, 0.0, 89.0), 63.43);
  const auto opposite = GeoPoint::at_deg(-a.lat_deg, a.lon_deg + 180);
  const auto b = GeoPoint::at_deg(-a.lat_deg, a.lon_deg + 178);
  const double bearing = GENERATE(0.0, 37.0, 90.0, 181.0, 300.0);
  const Path path = path_by_bearing(a, b, bearing);
  CHECK(sphere_km(point_at(path, 0), a) < 1e-6);
  CHECK(sphere_km(point_at(path, 1), opposite) < 1e-6);
  CHECK(turn_deg(path.bearing_deg, bearing) < 1e-9);
  CHECK(turn_deg(bearing_at(path, 0), bearing) < 1e-6);
  CHECK(turn_deg(bearing_at(path, 1) + 180, path.return_bearing_deg) < 1e-6);
  CHECK_THAT(path.distance_km, WithinAbs(40030.23 / 2, 0.01));
  // A geodesic of a sixth of the way ends near the same place; sphere and ellipsoid part by at most 0.6 % of
  // 3336 km.
  CHECK(sphere_km(point_at(path, 1.0 / 6), destination(a, bearing, path.distance_km / 6)) < 20);
}
