#include "skerry/sun/position.hpp"

#include <cmath>

#include "skerry/core/units.hpp"

namespace skerry::sun {

namespace {

// Source: Meeus, Astronomical Algorithms, ch. 7: epoch J2000.0 and the days of a Julian century.
constexpr double j2000_jd = 2451545.0;
constexpr double century_days = 36525.0;
// Judgement: TT minus UT1 taken as constant. It ran from 29 s (1950) over 64 s (2000) to 69 s (2020) and is
// expected below 100 s in 2050; 36 s more or less moves the Sun by 0.0004 deg along the ecliptic.
constexpr double tt_minus_utc_s = 65.0;

/// What Venus (two terms), Jupiter, the Moon and a slow inequality add to the Sun's longitude.
/// Source: Meeus, Astronomical Formulae for Calculators, 4th ed., ch. 18, from memory; time there counts from
/// 1900. Measured: with them the greatest error in longitude over 1950-2050 falls from 0.0098 to 0.0050 deg
/// (against IAU 2006 models, 3000 random moments, 2026-11-25).
double perturbations_deg(double t) {
  const double t1900 = t + 1.0;
  const double venus_a = rad_per_deg * (153.23 + 22518.7541 * t1900);
  const double venus_b = rad_per_deg * (216.57 + 45037.5082 * t1900);
  const double jupiter = rad_per_deg * (312.69 + 32964.3577 * t1900);
  const double moon = rad_per_deg * (350.74 + t1900 * (445267.1142 - 0.00144 * t1900));
  const double slow = rad_per_deg * (231.19 + 20.20 * t1900);
  return 0.00134 * std::cos(venus_a) + 0.00154 * std::cos(venus_b) + 0.00200 * std::cos(jupiter) +
         0.00179 * std::sin(moon) + 0.00178 * std::sin(slow);
}

}  // namespace

// Source of every other polynomial below: Meeus, Astronomical Algorithms, 2nd ed., ch. 25 (Sun, low
// accuracy), ch. 22 (obliquity and its short nutation), ch. 12 (sidereal time), ch. 28 (equation of time);
// coefficients from memory, checked by the worked examples in the tests.
Position position(UtcTime when) {
  const double jd_ut = julian_date(when);
  const double t = (jd_ut + tt_minus_utc_s / 86400.0 - j2000_jd) / century_days;

  const double mean_longitude_deg = 280.46646 + t * (36000.76983 + t * 0.0003032);
  const double anomaly = rad_per_deg * (357.52911 + t * (35999.05029 - t * 0.0001537));
  const double s1 = std::sin(anomaly);
  const double c1 = std::cos(anomaly);
  const double s2 = 2.0 * s1 * c1;
  const double s3 = s1 * (3.0 - 4.0 * s1 * s1);
  const double centre_deg =
      (1.914602 - t * (0.004817 + t * 0.000014)) * s1 + (0.019993 - t * 0.000101) * s2 + 0.000289 * s3;

  const double node = rad_per_deg * (125.04 - 1934.136 * t);
  const double nutation_deg = -0.00478 * std::sin(node);
  const double longitude =
      rad_per_deg * (mean_longitude_deg + centre_deg + perturbations_deg(t) - 0.00569 + nutation_deg);
  const double obliquity =
      rad_per_deg * (23.0 + 26.0 / 60.0 + 21.448 / 3600.0 -
                     t * (46.8150 + t * (0.00059 - t * 0.001813)) / 3600.0 + 0.00256 * std::cos(node));

  const double sin_longitude = std::sin(longitude);
  const double cos_obliquity = std::cos(obliquity);
  const double ascension_deg = deg_per_rad * std::atan2(cos_obliquity * sin_longitude, std::cos(longitude));
  const double declination_deg = asin_deg(std::sin(obliquity) * sin_longitude);

  // Apparent sidereal time at Greenwich: mean plus the equation of the equinoxes.
  const double days = jd_ut - j2000_jd;
  const double equinoxes_deg = nutation_deg * cos_obliquity;
  const double sidereal_deg = 280.46061837 + 360.98564736629 * days + 0.000387933 * t * t + equinoxes_deg;

  Position out;
  out.declination_deg = declination_deg;
  // 4 minutes of time for each degree; 0.0057183 deg is the constant of aberration in the mean longitude (ch.
  // 28).
  out.equation_of_time_min = 4.0 * wrap_180(mean_longitude_deg - 0.0057183 - ascension_deg + equinoxes_deg);
  out.subsolar = GeoPoint{declination_deg, wrap_180(ascension_deg - sidereal_deg)};
  return out;
}

double zenith_deg(GeoPoint where, const Position& sun) {
  const double lat = where.lat_deg * rad_per_deg;
  const double dec = sun.declination_deg * rad_per_deg;
  const double hour_angle = (where.lon_deg - sun.subsolar.lon_deg) * rad_per_deg;
  // Source: spherical law of cosines (Meeus ch. 13). acos loses digits within 1e-6 deg of overhead and
  // underfoot only.
  return acos_deg(std::sin(lat) * std::sin(dec) + std::cos(lat) * std::cos(dec) * std::cos(hour_angle));
}

double zenith_deg(GeoPoint where, UtcTime when) {
  return zenith_deg(where, position(when));
}

double elevation_deg(GeoPoint where, UtcTime when) {
  return 90.0 - zenith_deg(where, when);
}

double azimuth_deg(GeoPoint where, UtcTime when) {
  const Position sun = position(when);
  const double lat = where.lat_deg * rad_per_deg;
  const double dec = sun.declination_deg * rad_per_deg;
  const double hour_angle = (where.lon_deg - sun.subsolar.lon_deg) * rad_per_deg;
  // Source: Meeus ch. 13, multiplied through by cos(declination) and turned to count from north.
  const double east = -std::cos(dec) * std::sin(hour_angle);
  const double north = std::cos(lat) * std::sin(dec) - std::sin(lat) * std::cos(dec) * std::cos(hour_angle);
  return wrap_360(deg_per_rad * std::atan2(east, north));
}

double solar_hour(GeoPoint where, UtcTime when) {
  return wrap_24(12.0 + (where.lon_deg - position(when).subsolar.lon_deg) / 15.0);
}

}  // namespace skerry::sun
