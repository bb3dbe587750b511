#include "skerry/ionosphere/field.hpp"

#include <GeographicLib/SphericalHarmonic.hpp>
#include <cmath>
#include <numbers>
#include <vector>

#include "check.hpp"
#include "igrf.hpp"
#include "skerry/core/units.hpp"
#include "tables.hpp"

using namespace skerry;
using namespace skerry::ionosphere;

namespace {

Field of_model(const detail::FieldModel& model, GeoPoint p, double height_km) {
  const detail::FieldAtHeights<1> at(model, {height_km});
  const double sin_lat = sin_deg(p.lat_deg);
  const double cos_lat = cos_deg(p.lat_deg);
  const double sin_lon = sin_deg(p.lon_deg);
  const double cos_lon = cos_deg(p.lon_deg);
  Field out[1][1];
  detail::evaluate<1, 1>(at, &sin_lat, &cos_lat, &sin_lon, &cos_lon, out);
  return out[0][0];
}

// Index of (n, m) in FieldModel, counted the slow way.
std::size_t index_of(int n, int m) {
  std::size_t i = 0;
  for (int mm = 0; mm <= 13; ++mm) {
    for (int nn = std::max(mm, 1); nn <= 13; ++nn, ++i) {
      if (nn == n && mm == m) return i;
    }
  }
  return i;
}

}  // namespace

TEST_CASE("the field agrees with another implementation of the same model", "[ionosphere][field][known]") {
  // Source: Python package ppigrf 2.1.0 (IGRF-14, geocentric), table made by authorities/make_tables.py.
  double worst_nt = 0;
  const auto rows = authority_rows("field_points.csv");
  REQUIRE(rows.size() == 200);
  for (const auto& r : rows) {
    const Field f = field(GeoPoint::at_deg(r[0], r[1]), r[2], r[3]);
    worst_nt = std::max(
        {worst_nt, std::abs(f.north_nt - r[4]), std::abs(f.east_nt - r[5]), std::abs(f.down_nt - r[6])});
  }
  // The table is printed to 1e-4 nT and interpolates by whole days in double precision.
  CHECK(worst_nt < 0.001);
}

TEST_CASE("the field agrees with a library's sum of the same coefficients, everywhere and at the poles",
          "[ionosphere][field][known]") {
  // Source: GeographicLib::SphericalHarmonic, Schmidt normalisation; the coefficients are ours, so this
  // checks the sums only.
  const detail::FieldModel& model = detail::field_model(2017.25);
  std::vector<double> c(105);
  std::vector<double> s(91);
  for (int m = 0; m <= 13; ++m) {
    for (int n = std::max(m, 1); n <= 13; ++n) {
      // GeographicLib's layout: column by column, all n of one m; the sines leave out m = 0.
      const int column = m * 13 - m * (m - 1) / 2 + n;
      c[static_cast<std::size_t>(column)] = model.g_nt[index_of(n, m)];
      if (m > 0) s[static_cast<std::size_t>(column - 14)] = model.h_nt[index_of(n, m)];
    }
  }
  const double a = 6371.2;
  const GeographicLib::SphericalHarmonic library(c, s, 13, a, GeographicLib::SphericalHarmonic::SCHMIDT);
  double worst_nt = 0;
  for (double lat = -90; lat <= 90; lat += 7.5) {
    for (double lon = -180; lon < 180; lon += 30) {
      for (const double height_km : {0.0, 100.0, 300.0}) {
        const double r = a + height_km;
        const double cl = lat == -90 || lat == 90 ? 0.0 : cos_deg(lat);
        double gx = 0, gy = 0, gz = 0;
        library(r * cl * cos_deg(lon), r * cl * sin_deg(lon), r * sin_deg(lat), gx, gy, gz);
        const double bx = -a * gx;
        const double by = -a * gy;
        const double bz = -a * gz;
        const double radial = cl * (cos_deg(lon) * bx + sin_deg(lon) * by) + sin_deg(lat) * bz;
        const double north = -sin_deg(lat) * (cos_deg(lon) * bx + sin_deg(lon) * by) + cl * bz;
        const double east = -sin_deg(lon) * bx + cos_deg(lon) * by;
        const Field f = of_model(model, GeoPoint::at_deg(lat, lon), height_km);
        worst_nt = std::max({worst_nt, std::abs(f.north_nt - north), std::abs(f.east_nt - east),
                             std::abs(f.down_nt + radial)});
      }
    }
  }
  CHECK(worst_nt < 1e-5);  // rounding only; the pole's own latitude is not exact in either
}

TEST_CASE("cut at degree 8 the field has the values of a third implementation",
          "[ionosphere][field][known]") {
  // Source: the sums of IGRF-13, 2020.0, degree 8, written out independently of this program.
  detail::FieldModel model = detail::field_model(2020.0);
  for (int n = 9; n <= 13; ++n) {
    for (int m = 0; m <= n; ++m) model.g_nt[index_of(n, m)] = model.h_nt[index_of(n, m)] = 0;
  }
  struct Row {
    double lat, lon, total_nt, dip_deg;
  };
  // 5 nT and 0.01 deg: IGRF-14 corrected the 2020 set of IGRF-13 by a few nT.
  for (const Row& r : {Row{60, -1, 44716.6, 72.556}, Row{0, -150, 27601.6, 2.751},
                       Row{-37.1, -12.3, 21803.2, -62.950}, Row{35.7, 139.7, 40436.0, 49.887}}) {
    const Field f = of_model(model, GeoPoint::at_deg(r.lat, r.lon), 300);
    CAPTURE(r.lat, r.lon);
    CHECK_THAT(f.total_nt(), WithinAbs(r.total_nt, 5.0));
    CHECK_THAT(f.dip_deg(), WithinAbs(r.dip_deg, 0.01));
  }
  const Field lerwick = of_model(model, GeoPoint::at_deg(60, -1), 300);
  CHECK_THAT(lerwick.north_nt, WithinAbs(13398.4, 5.0));
  CHECK_THAT(lerwick.east_nt, WithinAbs(-405.4, 5.0));
  CHECK_THAT(lerwick.down_nt, WithinAbs(42660.2, 5.0));
}

TEST_CASE("modified dip has the values of two epochs computed elsewhere", "[ionosphere][field][known]") {
  // Source: the same independent sums (degree 8, 300 km), which differ from degree 13 by up to 0.17 deg of
  // dip.
  struct Row {
    double lat, lon, in_1960, in_2020;
  };
  for (const Row& r : {Row{60.15, -1.15, 60.87, 60.84}, Row{40, -30, 50.43, 48.09},
                       Row{-37.1, -12.3, -46.95, -50.97}, Row{35.7, 139.7, 43.50, 44.04}}) {
    CAPTURE(r.lat, r.lon);
    CHECK_THAT(modip_deg(GeoPoint::at_deg(r.lat, r.lon), 1960), WithinAbs(r.in_1960, 0.15));
    CHECK_THAT(modip_deg(GeoPoint::at_deg(r.lat, r.lon), 2020), WithinAbs(r.in_2020, 0.15));
  }
}

TEST_CASE("the gyrofrequency is the electron's in that field", "[ionosphere][field][known]") {
  // Source: e B / (2 pi m), CODATA 2018: 1.602176634e-19 C, 9.1093837015e-31 kg.
  const Field f{30000, 0, 40000};
  CHECK_THAT(f.gyro_mhz(),
             WithinAbs(1.602176634e-19 * 50000e-9 / (2 * std::numbers::pi * 9.1093837015e-31) * 1e-6, 1e-6));
  CHECK_THAT(f.dip_deg(), WithinAbs(deg_per_rad * std::atan2(4.0, 3.0), 1e-12));
}

TEST_CASE("the field at a pole does not depend on how the pole is approached", "[ionosphere][field][edge]") {
  for (const double pole : {90.0, -90.0}) {
    const Field at0 = field(GeoPoint::at_deg(pole, 0), 100, 2020);
    for (const double lon : {0.0, 45.0, 90.0, 180.0, -120.0}) {
      const Field at = field(GeoPoint::at_deg(pole, lon), 100, 2020);
      const Field near = field(GeoPoint::at_deg(pole * (1 - 1e-7), lon), 100, 2020);
      CAPTURE(pole, lon);
      CHECK_THAT(at.total_nt(), WithinAbs(at0.total_nt(), 1e-6));
      CHECK_THAT(at.down_nt, WithinAbs(at0.down_nt, 1e-6));
      // 9e-6 deg, a metre: the field changes by under 0.01 nT/m
      CHECK_THAT(at.north_nt, WithinAbs(near.north_nt, 0.05));
      CHECK_THAT(at.east_nt, WithinAbs(near.east_nt, 0.05));
      CHECK(modip_deg(GeoPoint::at_deg(pole, lon), 2020) == pole);
    }
  }
}

TEST_CASE("the date line is no border for the field, and epochs join", "[ionosphere][field][property]") {
  for (double lat = -89; lat <= 89; lat += 8.9) {
    const Field west = field(GeoPoint::at_deg(lat, 180), 300, 2020);
    const Field east = field(GeoPoint::at_deg(lat, -179.9999999), 300, 2020);
    CHECK_THAT(west.total_nt(), WithinAbs(east.total_nt(), 0.001));
    for (const double year : {1905.0, 1960.0, 2025.0}) {
      CHECK_THAT(modip_deg(GeoPoint::at_deg(lat, 20), year - 1e-6),
                 WithinAbs(modip_deg(GeoPoint::at_deg(lat, 20), year + 1e-6), 1e-5));
    }
  }
}

TEST_CASE("the first and last epochs are within reach", "[ionosphere][field][edge]") {
  // Source: IGRF-14 table: g(1,0) -31543 nT in 1900 and -29350.0 + 5 x 12.6 = -29287.0 in 2030.
  CHECK(detail::field_model(1900).g_nt[0] == -31543.0);
  CHECK_THAT(detail::field_model(2030).g_nt[0], WithinAbs(-29287.0, 1e-9));
}

TEST_CASE("what latitude taken as geocentric costs is as the header says", "[ionosphere][field][property]") {
  // The geocentric latitude of a geodetic one: tan = (1 - e^2) tan. Source: WGS84, e^2 = 0.00669438.
  double worst_dip_deg = 0;
  double worst_share = 0;
  for (double lat = -85; lat <= 85; lat += 5) {
    for (double lon = -180; lon < 180; lon += 10) {
      const double centric = deg_per_rad * std::atan((1 - 0.00669438) * tan_deg(lat));
      const double radius_km = 6378.137 - 21.385 * sin_deg(lat) * sin_deg(lat);
      const Field a = field(GeoPoint::at_deg(lat, lon), 300, 2020);
      const Field b = field(GeoPoint::at_deg(centric, lon), 300 + radius_km - 6371.2, 2020);
      // The vertical of the ellipsoid leans by the difference of the latitudes, too.
      const double lean = (lat - centric) * rad_per_deg;
      const Field turned{b.north_nt * std::cos(lean) - b.down_nt * std::sin(lean), b.east_nt,
                         b.down_nt * std::cos(lean) + b.north_nt * std::sin(lean)};
      worst_dip_deg = std::max(worst_dip_deg, std::abs(a.dip_deg() - turned.dip_deg()));
      worst_share = std::max(worst_share, std::abs(a.total_nt() / b.total_nt() - 1));
    }
  }
  CAPTURE(worst_dip_deg, worst_share);
  CHECK(worst_dip_deg < 0.25);
  CHECK(worst_share < 0.0075);
}

TEST_CASE("dipole latitude is 90 at its pole, 0 on its equator", "[ionosphere][field][known]") {
  // Source: geometry.
  CHECK_THAT(geomagnetic_lat_deg(GeoPoint::at_deg(78.5, -68.2)), WithinAbs(90.0, 1e-5));
  CHECK_THAT(geomagnetic_lat_deg(GeoPoint::at_deg(-78.5, 111.8)), WithinAbs(-90.0, 1e-5));
  CHECK_THAT(geomagnetic_lat_deg(GeoPoint::at_deg(0, 21.8)), WithinAbs(0.0, 1e-9));
  CHECK_THAT(geomagnetic_lat_deg(GeoPoint::at_deg(90, 12)), WithinAbs(78.5, 1e-9));
}
