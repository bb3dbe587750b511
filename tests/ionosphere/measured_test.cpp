// What a reading of foF2 does to the maps around it.
#include "skerry/ionosphere/measured.hpp"

#include <cmath>

#include "check.hpp"
#include "skerry/geodesy/path.hpp"
#include "skerry/ionosphere/sky.hpp"

namespace {

using namespace skerry;
using namespace skerry::ionosphere;
using std::chrono::year;

Climate climate_with(std::vector<MeasuredFof2> readings) {
  Climate c;
  c.day = year{2027} / 2 / 15;
  c.r12 = ionosphere::R12(60);
  c.measured = std::move(readings);
  return c;
}

const GeoPoint here = GeoPoint::at_deg(-20.1, 57.5);

double fof2(GeoPoint at, int hour, const Climate& climate) {
  const std::vector<GeoPoint> places{at};
  return sky(places, climate).fof2_mhz(0, hour);
}

}  // namespace

TEST_CASE("at its own place and hour a reading is what the map then says", "[ionosphere][property]") {
  const auto c = climate_with({{6.2, here, 14}});
  CHECK(fof2(here, 14, c) == Approx(6.2).epsilon(1e-9));
  // Between two hours the map is a straight line, so that a reading of its own value changes nothing.
  const auto bare = climate_with({});
  const double middle = 0.5 * (fof2(here, 14, bare) + fof2(here, 15, bare));
  CHECK(measured_ratios(climate_with({{middle, here, 14.5}})).front() == Approx(1).epsilon(1e-12));
}

TEST_CASE("half of the correction is left at the stated distance and time", "[ionosphere][property]") {
  const auto bare = climate_with({});
  const auto c = climate_with({{1.5 * fof2(here, 14, bare), here, 14}});
  const auto gain = [&](GeoPoint at, int hour) { return std::log(fof2(at, hour, c) / fof2(at, hour, bare)); };
  const double full = std::log(1.5);
  for (const double bearing : {0.0, 77.0, 200.0}) {
    // WGS84 against the sphere: 0.6 % of distance.
    CHECK(gain(geodesy::destination(here, bearing, 1000), 14) == Approx(full / 2).epsilon(0.01));
    CHECK(gain(geodesy::destination(here, bearing, 2000), 14) == Approx(full / 16).epsilon(0.04));
  }
  CHECK(gain(here, 18) == Approx(full / 2).epsilon(1e-9));
  CHECK(gain(here, 10) == Approx(full / 2).epsilon(1e-9));
  CHECK(gain(here, 2) == Approx(full / 512).epsilon(1e-6));
  CHECK(gain(geodesy::destination(here, 0, 6000), 14) == Approx(0).margin(1e-9));
  // M(3000)F2, foE and the Sun stay.
  const std::vector<GeoPoint> places{here};
  const auto a = sky(places, bare), b = sky(places, c);
  CHECK((a.m3000f2 == b.m3000f2).all());
  CHECK((a.foe_mhz == b.foe_mhz).all());
}

TEST_CASE("two readings side by side count about once, and contradictions are averaged",
          "[ionosphere][property]") {
  const auto bare = climate_with({});
  const double map = fof2(here, 14, bare);
  const auto twice = climate_with({{1.3 * map, here, 14}, {1.3 * map, here, 14}});
  CHECK(fof2(here, 14, twice) / map == Approx(1.3).epsilon(0.01));
  const auto against = climate_with({{1.3 * map, here, 14}, {map / 1.3, here, 14}});
  CHECK(fof2(here, 14, against) / map == Approx(1).epsilon(1e-9));
  // Far apart they do not know of each other.
  const auto there = GeoPoint::at_deg(50, 10);
  const double far_map = fof2(there, 14, bare);
  const auto apart = climate_with({{1.3 * map, here, 14}, {0.8 * far_map, there, 14}});
  CHECK(fof2(here, 14, apart) / map == Approx(1.3).epsilon(0.015));
  CHECK(fof2(there, 14, apart) / far_map == Approx(0.8).epsilon(0.015));
}

TEST_CASE("a reading is typed as MHz, place and time", "[ionosphere][edge]") {
  const auto m = parse_measured("6.2@-20.1,57.5@14:30", std::nullopt, {"--fof2"});
  REQUIRE(m);
  CHECK(m->mhz == 6.2);
  CHECK(m->at == here);
  CHECK(m->utc_hour == 14.5);
  CHECK(parse_measured(" 6.2 @ LG89 ", 3.25, {})->utc_hour == 3.25);
  CHECK_FALSE(parse_measured("6.2@LG89", std::nullopt, {}));
  for (const char* text :
       {"", "6.2", "@LG89@12:00", "62@LG89@12:00", "0.1@LG89@12:00", "6.2@ZZ99@12:00", "6.2@LG89@24:00",
        "6.2@LG89@12:60", "6.2@LG89@noon", "nan@LG89@12:00", "6.2@LG89@1:00", "6.2@LG89@12:00@"}) {
    CAPTURE(text);
    const auto wrong = parse_measured(text, 0, {"--fof2"});
    REQUIRE_FALSE(wrong);
    CHECK(wrong.error().where.file == "--fof2");
  }
}
