#include "skerry/ionosphere/field.hpp"

#include <cassert>
#include <cmath>

#include "igrf.hpp"
#include "skerry/core/units.hpp"

namespace skerry::ionosphere {

namespace {
// Source: SI values of e and the electron's mass (CODATA 2018): e / (2 pi m) = 2.799249e10 Hz per tesla.
constexpr double gyro_mhz_per_nt = 2.799249e-5;
// Source: Rawer's modified dip is taken at 300 km (common practice of the maps' users).
constexpr double modip_height_km = 300.0;
// Source: ITU-R P.533 section 5.3 (from memory): pole of the centred dipole behind the auroral table.
constexpr double pole_lat_deg = 78.5;
constexpr double pole_lon_deg = -68.2;
}  // namespace

double Field::total_nt() const {
  return std::sqrt(north_nt * north_nt + east_nt * east_nt + down_nt * down_nt);
}

double Field::dip_deg() const {
  return deg_per_rad * std::atan2(down_nt, std::hypot(north_nt, east_nt));
}

double Field::gyro_mhz() const {
  return gyro_mhz_per_nt * total_nt();
}

Field field(GeoPoint where, double height_km, double epoch) {
  assert(std::isfinite(height_km) && height_km > -1000.0);
  const detail::FieldAtHeights<1> model(detail::field_model(epoch), {height_km});
  const double sin_lat = sin_deg(where.lat_deg);
  const double cos_lat = std::max(0.0, cos_deg(where.lat_deg));
  const double sin_lon = sin_deg(where.lon_deg);
  const double cos_lon = cos_deg(where.lon_deg);
  Field out[1][1];
  detail::evaluate<1, 1>(model, &sin_lat, &cos_lat, &sin_lon, &cos_lon, out);
  return out[0][0];
}

double modip_deg(GeoPoint where, double epoch) {
  const double cos_lat = std::abs(where.lat_deg) == 90.0 ? 0.0 : cos_deg(where.lat_deg);
  return deg_per_rad * detail::modip_rad(field(where, modip_height_km, epoch), cos_lat);
}

double geomagnetic_lat_deg(GeoPoint where) {
  return asin_deg(sin_deg(where.lat_deg) * sin_deg(pole_lat_deg) +
                  cos_deg(where.lat_deg) * cos_deg(pole_lat_deg) * cos_deg(where.lon_deg - pole_lon_deg));
}

}  // namespace skerry::ionosphere
