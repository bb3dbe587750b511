#include "skerry/terrain/around.hpp"

#include <chrono>
#include <numbers>
#include <set>

#include "check.hpp"
#include "grids.hpp"
#include "skerry/core/parallel.hpp"
#include "skerry/core/units.hpp"
#include "skerry/geodesy/path.hpp"

using namespace skerry;
using namespace skerry::terrain;

namespace {

/// Elevation of a height at a distance by plane trigonometry on the enlarged sphere, without any series.
double exact_deg(double height_m, double eye_m, double distance_km) {
  const double r = effective_earth * earth_radius_km, turn = distance_km / r;
  const double up = (r + height_m / 1000) * std::cos(turn) - (r + eye_m / 1000);
  return std::atan2(up, (r + height_m / 1000) * std::sin(turn)) * deg_per_rad;
}

const auto island = GeoPoint::at_deg(-19.7, 63.4);

}  // namespace

TEST_CASE("a cone's summit stands as high as trigonometry says", "[skyline][known]") {
  // closed form: apex and distance on a sphere of 4/3 of the Earth's radius
  for (const double km : {3.0, 12.0, 40.0}) {
    const auto apex = geodesy::destination(island, 75, km);
    const auto ground = test::terrain_of(island, 52, 6, [&](GeoPoint p) {
      return std::max(20.0, 900 - 0.35 * 1000 * geodesy::distance_km(p, apex));
    });
    const auto seen = around(ground, island);
    CAPTURE(km);
    CHECK(seen.known);
    CHECK(seen.ground_m == Approx(20).margin(0.01));
    // The apex lies between four heights 185 m apart: at most 33 m are cut off it.
    const double cut = (exact_deg(900, 25, km) - exact_deg(867, 25, km));
    CHECK(seen.skyline[75].deg <= exact_deg(900, 25, km) + 0.01);
    CHECK(seen.skyline[75].deg >= exact_deg(900, 25, km) - cut - 0.01);
    CHECK(seen.skyline[75].km == Approx(km).margin(0.2));
    // Away from it the plain stands nowhere above the level.
    CHECK(seen.skyline[255].deg < 0.05);
  }
}

TEST_CASE("the outline of a cone beside its summit", "[skyline][known]") {
  // closed form of the surface along a ray; its steepest point by a fine search
  const double d0 = 10, slope = 0.25, high = 700;
  const auto apex = geodesy::destination(island, 90, d0);
  const auto ground = test::terrain_of(island, 20, 3, [&](GeoPoint p) {
    return std::max(0.0, high - slope * 1000 * geodesy::distance_km(p, apex));
  });
  View view;
  view.reach_km = 18;
  const auto seen = around(ground, island, view);
  for (const int off : {1, 3, 6, 9}) {
    double most = -90;
    for (double d = 1; d < 18; d += 0.001) {
      const double away = std::sqrt(d * d + d0 * d0 - 2 * d * d0 * cos_deg(off));
      most = std::max(most, exact_deg(std::max(0.0, high - slope * 1000 * away), 5, d));
    }
    CAPTURE(off);
    CHECK(seen.skyline[static_cast<std::size_t>(90 + off)].deg == Approx(most).margin(0.03));
    CHECK(seen.skyline[static_cast<std::size_t>(90 - off)].deg == Approx(most).margin(0.03));
  }
}

TEST_CASE("a long ridge sinks to both sides as its distance grows", "[skyline][known]") {
  // closed form: a wall along a meridian, at angle a from its foot: distance D / cos a
  const double lon = island.lon_deg + 0.05;
  const double wall_km = geodesy::distance_km(island, GeoPoint{island.lat_deg, lon});
  const auto ground = test::terrain_of(island, 30, 3, [&](GeoPoint p) {
    return std::max(0.0, 400 - 2 * 111000 * cos_deg(island.lat_deg) * std::abs(p.lon_deg - lon));
  });
  View view;
  view.reach_km = 25;
  const auto seen = around(ground, island, view);
  for (int off = -60; off <= 60; off += 15) {
    const double km = wall_km / cos_deg(off);
    const auto& s = seen.skyline[static_cast<std::size_t>(90 + off)];
    CAPTURE(off);
    CHECK(s.km == Approx(km).epsilon(0.015));
    // Two metres down in one across: at most half a cell, 44 m, is cut off the crest.
    CHECK(s.deg < exact_deg(401, 5, km));
    CHECK(s.deg > exact_deg(310, 5, km));
  }
  CHECK(seen.skyline[270].deg <= 0.01);
}

TEST_CASE("the sea's horizon dips and lies where the sphere of 4/3 has it", "[skyline][known]") {
  // closed form: dip sqrt(2 h / kR), distance sqrt(2 h kR); a pillar of an island, 100 m high, one cell wide
  const auto ground = test::terrain_of(
      island, 52, 3, [&](GeoPoint p) { return geodesy::distance_km(p, island) < 0.15 ? 95.0 : 0.0; });
  View view;
  view.azimuths = 36;
  const auto seen = around(ground, island, view);
  const double r_m = 1000 * effective_earth * earth_radius_km;
  for (const auto& s : seen.skyline) {
    CHECK(s.deg == Approx(-std::sqrt(2 * 100 / r_m) * deg_per_rad).margin(0.005));
    CHECK(s.km == Approx(std::sqrt(2 * 100 * r_m) / 1000).epsilon(0.06));  // a flat maximum
  }
}

TEST_CASE("what is nearer than 100 m is slope, and what is further is not", "[slope]") {
  // closed form: a plane that falls 6 degrees to the south; a hole from 150 m on does not touch it
  const double fall = std::tan(6 * rad_per_deg);
  const auto ground = test::terrain_of(island, 3, 1, [&](GeoPoint p) {
    const double north_m = (p.lat_deg - island.lat_deg) * 110660;
    return std::abs(north_m) > 160 ? 60.0 : 100 + fall * north_m;
  });
  View view;
  view.azimuths = 8;
  view.reach_km = 2;
  const auto seen = around(ground, island, view);
  CHECK(seen.fall_deg[0] == Approx(-6).margin(0.1));
  CHECK(seen.fall_deg[2] == Approx(0).margin(0.1));
  CHECK(seen.fall_deg[3] == Approx(std::atan(fall / std::numbers::sqrt2) * deg_per_rad).margin(0.1));
  CHECK(seen.fall_deg[4] == Approx(6).margin(0.1));
  for (const auto& s : seen.skyline) CHECK(s.km >= geodesy::nearest_skyline_km);
}

TEST_CASE("the sea begins at the shore, and a lagoon is none", "[shore]") {
  // closed form: a disc of land with its middle 2 km to the west of the place; a lagoon to the south
  const auto middle = geodesy::destination(island, 270, 2);
  const auto lagoon = geodesy::destination(island, 180, 1);
  const auto ground = test::terrain_of(island, 52, 6, [&](GeoPoint p) {
    if (geodesy::distance_km(p, lagoon) < 0.4) return 0.0;
    return geodesy::distance_km(p, middle) < 5 ? 30.0 : 0.0;
  });
  const auto seen = around(ground, island);
  const auto shore_km = [](double azimuth_deg) {  // of a circle of 5 km seen from 2 km off its middle
    const double along = -2 * sin_deg(azimuth_deg);
    return along + std::sqrt(along * along + 25 - 4);
  };
  for (const int azimuth : {0, 45, 90, 135, 180, 270}) {
    const auto& s = seen.shore[static_cast<std::size_t>(azimuth)];
    CAPTURE(azimuth);
    REQUIRE(s);
    CHECK(s->from_m == Approx(1000 * shore_km(azimuth)).margin(270));  // a cell and a half
    CHECK(s->open_km == Approx(50 - shore_km(azimuth)).margin(0.27));
  }
}

TEST_CASE("a strait that is shorter than the first Fresnel zone is no sea, a longer one is", "[shore]") {
  for (const double wide_km : {2.5, 3.5}) {
    const auto ground = test::terrain_of(island, 52, 6, [&](GeoPoint p) {
      const double km = geodesy::distance_km(p, island);
      return km < 1 || km > 1 + wide_km ? 10.0 : 0.0;
    });
    View view;
    view.azimuths = 12;
    for (const auto& s : around(ground, island, view).shore) {
      CHECK(s.has_value() == (wide_km > open_sea_km));
      if (s) CHECK(s->open_km == Approx(wide_km).margin(0.3));
    }
  }
}

TEST_CASE("skylines agree with a search of every other metre", "[exhaustive][property]") {
  const auto at = GeoPoint::at_deg(46.3, 8.1);
  const auto ground = test::terrain_of(at, 50, 3, test::rough(at));
  View view;
  view.azimuths = 36;
  const auto seen = around(ground, at, view);
  const double r_m = 1000 * effective_earth * earth_radius_km;
  double worst = 0;
  for (std::size_t i = 0; i < 36; ++i) {
    double most = -90;
    for (double m = 100; m <= 50000; m += std::min(2.0, m / 2000)) {
      const double h = ground.height_m(geodesy::destination(at, 10.0 * static_cast<double>(i), m / 1000));
      most = std::max(most, std::atan((h - seen.ground_m - 5) / m - m / (2 * r_m)) * deg_per_rad);
    }
    worst = std::max(worst, std::abs(seen.skyline[i].deg - most));
  }
  CAPTURE(worst);
  CHECK(worst < 0.02);  // as promised
}

TEST_CASE("the answer does not depend on the threads", "[property]") {
  const auto at = GeoPoint::at_deg(46.3, 8.1);
  const auto ground = test::terrain_of(at, 20, 3, test::rough(at));
  View view;
  view.reach_km = 20;
  set_thread_count(1);
  const auto one = around(ground, at, view);
  set_thread_count(4);
  const auto four = around(ground, at, view);
  set_thread_count(0);
  for (std::size_t i = 0; i < one.skyline.size(); ++i) {
    CHECK(one.skyline[i].deg == four.skyline[i].deg);
    CHECK(one.fall_deg[i] == four.fall_deg[i]);
  }
}

TEST_CASE("near the pole and on the date line it is the same hill", "[edge]") {
  for (const auto at :
       {GeoPoint::at_deg(81, 10), GeoPoint::at_deg(-44, 179.99), GeoPoint::at_deg(-44, -179.99)}) {
    const auto apex = geodesy::destination(at, 60, 4);
    const auto ground = test::terrain_of(
        at, 8, 9, [&](GeoPoint p) { return std::max(0.0, 800 - 400 * geodesy::distance_km(p, apex)); });
    View view;
    view.reach_km = 7;
    const auto seen = around(ground, at, view);
    const auto highest = std::ranges::max_element(seen.skyline, {}, [](const auto& s) { return s.deg; });
    CAPTURE(at.lat_deg, at.lon_deg);
    CHECK(highest - seen.skyline.begin() == Approx(60).margin(1));
    CHECK(highest->deg == Approx(exact_deg(800, 5, 4)).margin(0.9));
  }
}

TEST_CASE("a place in no file stands at the sea and is not known", "[edge]") {
  const auto ground = test::terrain_of(island, 5, 3, [](GeoPoint) { return 30.0; });
  const auto seen = around(ground, GeoPoint::at_deg(-19.7, 64), View{});
  CHECK_FALSE(seen.known);
  CHECK(seen.ground_m == 0);
  CHECK(seen.shore[90]);
}

TEST_CASE("few numbers hold what many said", "[few][property]") {
  const auto at = GeoPoint::at_deg(46.3, 8.1);
  const auto ground = test::terrain_of(at, 50, 3, test::rough(at));
  const auto seen = around(ground, at);
  const auto few = in_few_numbers(seen);
  CAPTURE(few.horizon.points.size(), few.foreground.points.size(), few.shore.sectors.size());
  CHECK(few.altitude_m == std::round(seen.ground_m));
  CHECK(few.horizon.points.size() < 150);
  std::set<std::pair<double, double>> pairs;
  for (std::size_t i = 0; i < 360; ++i) {
    const auto told = few.horizon.towards(static_cast<double>(i));
    CAPTURE(i);
    CHECK(told.deg == Approx(seen.skyline[i].deg).margin(0.3));
    if (seen.skyline[i].deg > 0.3) {
      CHECK(told.km < 2.1 * seen.skyline[i].km + 0.1);
      CHECK(told.km > seen.skyline[i].km / 2.1 - 0.1);
    }
    const double fall = std::max(seen.fall_deg[i], -std::max(0.0, seen.skyline[i].deg));
    CHECK(few.foreground.fall_deg(static_cast<double>(i)) == Approx(fall).margin(0.65 * 12));
    pairs.emplace(few.foreground.fall_deg(static_cast<double>(i)), few.shore.from_m(static_cast<double>(i)));
    const double sea = few.shore.from_m(static_cast<double>(i));
    CHECK((sea > 0) == seen.shore[i].has_value());
    if (seen.shore[i] && seen.shore[i]->from_m >= 10)
      CHECK(sea == Approx(seen.shore[i]->from_m).epsilon(0.6));
  }
  CHECK(pairs.size() <= 20);
}

TEST_CASE("a gentle slope is told within three degrees, in steps", "[few]") {
  const double fall = std::tan(7 * rad_per_deg);
  const auto ground = test::terrain_of(island, 3, 1, [&](GeoPoint p) {
    return 400 + fall * (p.lat_deg - island.lat_deg) * 110660;  // closed form: 7 degrees down to the south
  });
  View view;
  view.reach_km = 2;
  view.eye_m = 0;  // else the plane itself stands a little lower than it rises
  const auto seen = around(ground, island, view);
  const auto few = in_few_numbers(seen);
  std::set<double> steps;
  for (std::size_t i = 0; i < 360; ++i) {
    const double told = few.foreground.fall_deg(static_cast<double>(i));
    steps.insert(told);
    CHECK(told == Approx(7 * -cos_deg(static_cast<double>(i))).margin(2.7));
  }
  CHECK(steps.size() <= 5);
}

TEST_CASE("a plain by the open sea is told in a point or two", "[few]") {
  const auto ground = test::terrain_of(
      island, 52, 6, [&](GeoPoint p) { return geodesy::distance_km(p, island) < 2 ? 30.0 : 0.0; });
  const auto few = in_few_numbers(around(ground, island));
  CHECK(few.horizon.points.size() == 1);
  CHECK(few.foreground.points.empty());
  REQUIRE(few.shore.sectors.size() == 1);
  CHECK(few.shore.sectors[0].from_m == 2000);
}
