#include "skerry/geodesy/path.hpp"

#include <GeographicLib/Geodesic.hpp>
#include <cassert>
#include <cmath>
#include <numbers>

#include "vec.hpp"

namespace skerry::geodesy {

namespace {

/// Judgement: closer than this to the same place or to the antipode (6 micrometres), a direction between the
/// two is rounding noise, and the fixed rule of the header decides.
constexpr double degenerate_sine = 1e-12;

Vec north_at(GeoPoint p) {
  const double sin_lat = sin_deg(p.lat_deg);
  return {-sin_lat * cos_deg(p.lon_deg), -sin_lat * sin_deg(p.lon_deg), cos_deg(p.lat_deg)};
}

/// Fills the sphere part of a short-way path; true when the two places are the same or antipodes.
bool lay_on_sphere(Path& path) {
  const Vec a = unit_vector(path.from);
  const Vec b = unit_vector(path.to);
  path.from_vec = a;
  path.to_vec = b;
  // Twice the half angle, and a x b as (a - b) x (a + b) / 2: no digits lost for close or nearly opposite
  // places. Source: W. Kahan, "How futile are mindless assessments of roundoff", 2006, section 12 (from
  // memory).
  const Vec difference = minus(a, b);
  const Vec sum = plus(a, b);
  path.angle_rad = 2 * std::atan2(length(difference), length(sum));
  const Vec normal = scaled(cross(difference, sum), 0.5);
  const double sine = length(normal);
  if (sine > degenerate_sine) {
    path.from_tangent = scaled(cross(normal, a), 1 / sine);
    path.to_tangent = scaled(cross(b, normal), 1 / sine);
    return false;
  }
  const bool same = path.angle_rad < 1;
  path.angle_rad = same ? 0.0 : std::numbers::pi;
  path.from_tangent = north_at(path.from);
  path.to_tangent = same ? scaled(north_at(path.to), -1) : north_at(path.to);
  return true;
}

struct Spot {
  Vec at;
  Vec ahead;  ///< unit tangent, direction of travel from -> to
};

Spot spot_at(const Path& path, double share) {
  assert(share >= 0 && share <= 1);
  const bool near_from = share <= 0.5;
  const double turn = (near_from ? share : 1 - share) * path.angle_rad;
  const double c = std::cos(turn);
  const double s = std::sin(turn);
  const Vec& v = near_from ? path.from_vec : path.to_vec;
  const Vec& t = near_from ? path.from_tangent : path.to_tangent;
  const double sign = near_from ? 1.0 : -1.0;
  return {plus(scaled(v, c), scaled(t, s)), scaled(minus(scaled(t, c), scaled(v, s)), sign)};
}

}  // namespace

Path make_path(GeoPoint from, GeoPoint to, Way way) {
  Path path;
  path.from = from;
  path.to = to;
  path.way = way;
  const bool degenerate = lay_on_sphere(path);
  double metres = 0;
  double azimuth = 0;
  double azimuth_at_end = 0;
  GeographicLib::Geodesic::WGS84().Inverse(from.lat_deg, from.lon_deg, to.lat_deg, to.lon_deg, metres,
                                           azimuth, azimuth_at_end);
  path.distance_km = metres / 1000;
  if (degenerate) {
    azimuth = 0;
    azimuth_at_end = path.angle_rad > 0 ? 180 : 0;
    if (path.angle_rad == 0) path.distance_km = 0;
  }
  path.bearing_deg = wrap_360(azimuth);
  path.return_bearing_deg = wrap_360(azimuth_at_end + 180);
  path.from_antipode_km = (std::numbers::pi - path.angle_rad) * mean_radius_km;
  if (way == Way::long_way) {
    path.distance_km = 2 * std::numbers::pi * mean_radius_km - path.distance_km;
    path.bearing_deg = wrap_360(path.bearing_deg + 180);
    path.return_bearing_deg = wrap_360(path.return_bearing_deg + 180);
    path.angle_rad = 2 * std::numbers::pi - path.angle_rad;
    path.from_tangent = scaled(path.from_tangent, -1);
    path.to_tangent = scaled(path.to_tangent, -1);
  }
  return path;
}

Path path_by_bearing(GeoPoint from, GeoPoint to, double bearing_deg) {
  Path path = make_path(from, to, Way::short_way);
  const Vec north = north_at(from);
  const Vec up = unit_vector(from);
  const Vec east = cross(north, up);
  path.from_tangent = plus(scaled(north, cos_deg(bearing_deg)), scaled(east, sin_deg(bearing_deg)));
  path.from_vec = up;
  path.to_vec = scaled(up, -1);
  path.to_tangent = path.from_tangent;  // half way round, the direction of travel has turned over
  path.angle_rad = std::numbers::pi;
  path.distance_km = std::numbers::pi * mean_radius_km;
  path.bearing_deg = wrap_360(bearing_deg);
  // Meridians run together at the antipode: what left at b comes in from the mirrored side.
  path.return_bearing_deg = wrap_360(180 - bearing_deg + 180);
  return path;
}

GeoPoint point_at(const Path& path, double share) {
  assert(share >= 0 && share <= 1);
  const bool near_from = share <= 0.5;
  const double turn = (near_from ? share : 1 - share) * path.angle_rad;
  const double c = std::cos(turn);
  const double s = std::sin(turn);
  const Vec& v = near_from ? path.from_vec : path.to_vec;
  const Vec& t = near_from ? path.from_tangent : path.to_tangent;
  return place_of({v[0] * c + t[0] * s, v[1] * c + t[1] * s, v[2] * c + t[2] * s});
}

double bearing_at(const Path& path, double share) {
  const Spot spot = spot_at(path, share);
  const Vec& p = spot.at;
  const double radius = std::sqrt(p[0] * p[0] + p[1] * p[1]);
  // On a pole, the meridian of Greenwich serves as north.
  const double cos_lon = radius > 0 ? p[0] / radius : 1.0;
  const double sin_lon = radius > 0 ? p[1] / radius : 0.0;
  const double east = -sin_lon * spot.ahead[0] + cos_lon * spot.ahead[1];
  const double north = -p[2] * (cos_lon * spot.ahead[0] + sin_lon * spot.ahead[1]) + radius * spot.ahead[2];
  return wrap_360(std::atan2(east, north) * deg_per_rad);
}

GeoPoint destination(GeoPoint from, double bearing_deg, double distance_km) {
  assert(std::isfinite(bearing_deg) && std::isfinite(distance_km));
  double lat = 0;
  double lon = 0;
  GeographicLib::Geodesic::WGS84().Direct(from.lat_deg, from.lon_deg, bearing_deg, distance_km * 1000, lat,
                                          lon);
  return GeoPoint::at_deg(lat, lon);
}

double distance_km(GeoPoint a, GeoPoint b) {
  double metres = 0;
  GeographicLib::Geodesic::WGS84().Inverse(a.lat_deg, a.lon_deg, b.lat_deg, b.lon_deg, metres);
  return metres / 1000;
}

}  // namespace skerry::geodesy
