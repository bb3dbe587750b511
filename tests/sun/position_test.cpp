#include "skerry/sun/position.hpp"

#include <cmath>
#include <random>

#include "check.hpp"
#include "skerry/core/units.hpp"

using namespace std::chrono;
using skerry::GeoPoint;
using skerry::UtcTime;
namespace sun = skerry::sun;

namespace {
UtcTime utc(int y, unsigned m, unsigned d, int h = 0, int min = 0, int s = 0) {
  return sys_days{year{y} / month{m} / std::chrono::day{d}} + hours{h} + minutes{min} + seconds{s};
}
}  // namespace

TEST_CASE("the worked example of a solar position report is met", "[sun][known]") {
  // NREL/TP-560-34302 (Reda and Andreas), Table A5.1: 2003-10-17 19:30:30 UT, topocentric zenith without
  // refraction 90 - 39.872046, azimuth 194.34024, equation of time 14.641503 min.
  const GeoPoint golden{39.742476, -105.1786};
  const UtcTime when = utc(2003, 10, 17, 19, 30, 30);
  // 0.007: the promised 0.005 and the parallax of 0.0024 sin(zenith) that is left out.
  CHECK_THAT(sun::zenith_deg(golden, when), WithinAbs(90.0 - 39.872046, 0.007));
  CHECK_THAT(sun::azimuth_deg(golden, when), WithinAbs(194.34024, 0.007));
  CHECK_THAT(sun::elevation_deg(golden, when), WithinAbs(39.872046, 0.007));
  // 0.02 min is 0.005 deg.
  CHECK_THAT(sun::position(when).equation_of_time_min, WithinAbs(14.641503, 0.02));
  // Geocentric declination and observer's hour angle of the same report: -9.31434 and 11.10590.
  CHECK_THAT(sun::position(when).declination_deg, WithinAbs(-9.31434, 0.003));
  CHECK_THAT(15.0 * (sun::solar_hour(golden, when) - 12.0), WithinAbs(11.10590, 0.003));
}

TEST_CASE("the worked examples of the textbook are met", "[sun][known]") {
  // Meeus, Astronomical Algorithms, from memory, all for 1992 October 13.0 TD. TD is 65 s ahead of UTC in our
  // formula; in truth it was 59 s, which moves the Sun by 0.00007 deg.
  const sun::Position p = sun::position(utc(1992, 10, 12, 23, 58, 55));
  // Example 25.b, the full theory: declination -7 deg 47' 01.74". 25.a, without perturbations, gives
  // -7.78507.
  CHECK_THAT(p.declination_deg, WithinAbs(-(7.0 + 47.0 / 60.0 + 1.74 / 3600.0), 0.002));  // as promised
  CHECK_THAT(p.declination_deg, WithinAbs(-7.78507, 0.002));
  // Example 28.a.
  CHECK_THAT(p.equation_of_time_min, WithinAbs(13.70940, 0.02));  // as promised
}

TEST_CASE("equinoxes and solstices fall when the almanacs say", "[sun][known]") {
  // US Naval Observatory, "Earth's Seasons", from memory, rounded to the minute. 0.003 deg of declination is
  // the promise; half a minute moves the Sun by 0.0001 deg.
  for (const UtcTime equinox :
       {utc(2000, 3, 20, 7, 35), utc(2018, 9, 23, 1, 54), utc(2024, 3, 20, 3, 6), utc(2024, 9, 22, 12, 44)}) {
    CHECK_THAT(sun::position(equinox).declination_deg, WithinAbs(0.0, 0.003));
  }
  // The Sun stands still too briefly to time it by its height: the days on both sides must mirror each other,
  // to within half an hour of shift (0.0003 deg of declination).
  for (const UtcTime solstice : {utc(2016, 6, 20, 22, 34), utc(2024, 6, 20, 20, 51), utc(2020, 12, 21, 10, 2),
                                 utc(2024, 12, 21, 9, 20)}) {
    const auto tilt = [](UtcTime t) {
      return std::abs(sun::position(t + days{1}).declination_deg) -
             std::abs(sun::position(t - days{1}).declination_deg);
    };
    CHECK(tilt(solstice - minutes{30}) > 0);
    CHECK(tilt(solstice + minutes{30}) < 0);
    // Obliquity 23.436 to 23.440 in these years.
    CHECK_THAT(std::abs(sun::position(solstice).declination_deg), WithinAbs(23.4365, 0.003));
  }
}

TEST_CASE("the equation of time has its four well known extremes", "[sun][known]") {
  // Handbook values, from memory, to 0.1 min: 11 Feb -14.2, 14 May +3.7, 26 Jul -6.5, 3 Nov +16.4.
  CHECK_THAT(sun::position(utc(2027, 2, 11, 12)).equation_of_time_min, WithinAbs(-14.2, 0.1));
  CHECK_THAT(sun::position(utc(2027, 5, 14, 12)).equation_of_time_min, WithinAbs(3.7, 0.1));
  CHECK_THAT(sun::position(utc(2027, 7, 26, 12)).equation_of_time_min, WithinAbs(-6.5, 0.1));
  CHECK_THAT(sun::position(utc(2027, 11, 3, 12)).equation_of_time_min, WithinAbs(16.4, 0.1));
}

TEST_CASE("overhead here is underfoot at the antipode, and the azimuth is opposite", "[sun][property]") {
  std::mt19937 rng(2);
  std::uniform_real_distribution<double> lat(-89.9, 89.9);
  std::uniform_real_distribution<double> lon(-180.0, 0.0);
  std::uniform_int_distribution<int> hour(0, 24 * 36500);
  for (int i = 0; i < 500; ++i) {
    const GeoPoint here{lat(rng), lon(rng)};
    const GeoPoint there{-here.lat_deg, here.lon_deg + 180.0};
    const UtcTime when = utc(1950, 1, 1) + hours{hour(rng)};
    CAPTURE(here.lat_deg, here.lon_deg, skerry::to_iso(when));
    CHECK_THAT(sun::zenith_deg(here, when) + sun::zenith_deg(there, when),
               WithinAbs(180.0, 1e-9));  // rounding
    const double a = sun::azimuth_deg(here, when);
    CHECK(a >= 0);
    CHECK(a < 360);
    // North there is the same direction in space, east the opposite one: the azimuths mirror about the
    // meridian.
    CHECK_THAT(skerry::wrap_180(a + sun::azimuth_deg(there, when)), WithinAbs(0.0, 1e-7));
    const double h = sun::solar_hour(here, when);
    CHECK(h >= 0);
    CHECK(h < 24);
  }
}

TEST_CASE("under the subsolar point the Sun is overhead and it is noon", "[sun][property]") {
  for (int i = 0; i < 100; ++i) {
    const UtcTime when = utc(1950, 1, 1) + hours{i * 8765};
    const sun::Position p = sun::position(when);
    CHECK_THAT(sun::zenith_deg(p.subsolar, when), WithinAbs(0.0, 2e-6));  // acos near 1
    CHECK_THAT(sun::solar_hour(p.subsolar, when), WithinAbs(12.0, 1e-9));
    CHECK(p.subsolar.lon_deg > -180.0);
    CHECK(p.subsolar.lon_deg <= 180.0);
    CHECK_THAT(sun::zenith_deg({10, 20}, when), WithinAbs(sun::zenith_deg({10, 20}, p), 0.0));
  }
}

TEST_CASE("poles and the date line give numbers", "[sun][edge]") {
  const UtcTime when = utc(2027, 6, 21, 5);
  const double dec = sun::position(when).declination_deg;
  for (const double lon : {-179.999, 0.0, 90.0, 180.0}) {
    CHECK_THAT(sun::elevation_deg({90, lon}, when), WithinAbs(dec, 1e-9));
    CHECK_THAT(sun::elevation_deg({-90, lon}, when), WithinAbs(-dec, 1e-9));
    CHECK(std::isfinite(sun::azimuth_deg({90, lon}, when)));
  }
  CHECK_THAT(sun::zenith_deg({-17, 180.0}, when), WithinAbs(sun::zenith_deg({-17, -180.0}, when), 1e-9));
  // Morning in the east, evening in the west.
  CHECK(sun::azimuth_deg({0, 0}, utc(2027, 3, 21, 8)) < 180.0);
  CHECK(sun::azimuth_deg({0, 0}, utc(2027, 3, 21, 16)) > 180.0);
}
