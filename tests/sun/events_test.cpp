#include "skerry/sun/events.hpp"

#include <cmath>
#include <random>

#include "check.hpp"
#include "skerry/core/units.hpp"
#include "skerry/sun/position.hpp"

using namespace std::chrono;
using skerry::GeoPoint;
using skerry::UtcTime;
namespace sun = skerry::sun;

namespace {
skerry::Day ymd(int y, unsigned m, unsigned d) {
  return year{y} / month{m} / std::chrono::day{d};
}
UtcTime utc(int y, unsigned m, unsigned d, int h = 0, int min = 0) {
  return sys_days{ymd(y, m, d)} + hours{h} + minutes{min};
}
double off_s(const std::optional<UtcTime>& got, UtcTime want) {
  return got ? static_cast<double>((*got - want).count()) : 1e9;
}
constexpr double level_deg = -50.0 / 60.0;
}  // namespace

TEST_CASE("sunrise and sunset of well known places are met", "[sun][known]") {
  // Tables in the style of the US Naval Observatory, printed to the minute, recalled from memory. 90 s: half
  // a minute of rounding and a minute for the spot in town and the year that the recollection stands for.
  struct Row {
    const char* place;
    GeoPoint where;
    skerry::Day date;
    UtcTime rise, set;
  };
  const Row rows[] = {
      {"Greenwich, June", {51.48, 0.0}, ymd(2021, 6, 21), utc(2021, 6, 21, 3, 43), utc(2021, 6, 21, 20, 21)},
      {"Greenwich, December",
       {51.48, 0.0},
       ymd(2021, 12, 21),
       utc(2021, 12, 21, 8, 4),
       utc(2021, 12, 21, 15, 53)},
      {"Washington, June",
       {38.9, -77.03},
       ymd(2021, 6, 21),
       utc(2021, 6, 21, 9, 43),
       utc(2021, 6, 22, 0, 37)},
      {"Washington, December",
       {38.9, -77.03},
       ymd(2021, 12, 21),
       utc(2021, 12, 21, 12, 23),
       utc(2021, 12, 21, 21, 50)},
      {"Sydney, June", {-33.87, 151.21}, ymd(2021, 6, 21), utc(2021, 6, 20, 21, 0), utc(2021, 6, 21, 6, 54)},
      {"Sydney, December",
       {-33.87, 151.21},
       ymd(2021, 12, 21),
       utc(2021, 12, 20, 18, 41),
       utc(2021, 12, 21, 9, 5)},
      {"Reykjavik, December",
       {64.15, -21.95},
       ymd(2021, 12, 21),
       utc(2021, 12, 21, 11, 22),
       utc(2021, 12, 21, 15, 30)},
      {"Reykjavik, June", {64.15, -21.95}, ymd(2021, 6, 21), utc(2021, 6, 21, 2, 55), utc(2021, 6, 22, 0, 4)},
      {"Lerwick, December",
       {60.155, -1.145},
       ymd(2021, 12, 21),
       utc(2021, 12, 21, 9, 8),
       utc(2021, 12, 21, 14, 58)},
  };
  for (const Row& row : rows) {
    CAPTURE(row.place);
    const sun::Day day = sun::day(row.where, row.date);
    CHECK(day.state == sun::DayState::day_and_night);
    CHECK_THAT(off_s(day.rise, row.rise), WithinAbs(0.0, 90.0));
    CHECK_THAT(off_s(day.set, row.set), WithinAbs(0.0, 90.0));
  }
}

TEST_CASE("Fair Isle in December has six hours of Sun and all its twilights", "[sun][known]") {
  const sun::Day day = sun::day({59.53, -1.63}, ymd(2027, 12, 21));
  REQUIRE(day.rise);
  REQUIRE(day.set);
  // By hand from the sunrise equation cos H0 = (sin h0 - sin phi sin dec)/(cos phi cos dec) with h0 = -50',
  // dec = -23.436: H0 = 45.13 deg, 2 H0/15 = 6 h 1.0 min. (The same gives 5 h 49 min for Lerwick, the figure
  // quoted there.)
  const double length_min = static_cast<double>((*day.set - *day.rise).count()) / 60.0;
  CHECK_THAT(length_min, WithinAbs(6 * 60 + 1.0, 0.3));
  CHECK(day.astronomical_dawn < day.nautical_dawn);
  CHECK(day.nautical_dawn < day.civil_dawn);
  CHECK(day.civil_dawn < day.rise);
  CHECK(day.rise < day.noon);
  CHECK(day.noon < day.set);
  CHECK(day.set < day.civil_dusk);
  CHECK(day.civil_dusk < day.nautical_dusk);
  CHECK(day.nautical_dusk < day.astronomical_dusk);
  CHECK_THAT(day.noon_elevation_deg, WithinAbs(90 - 59.53 - 23.436, 0.005));  // 90 - latitude + declination
}

TEST_CASE("the arctic has its day and its night, and says which", "[sun][known]") {
  const GeoPoint longyearbyen{78.22, 15.65};
  // Published dates, from memory: midnight Sun about 20 April to 23 August, the Sun away about 26 October to
  // 15 February. Two days of grace for the mountain-free horizon and the year.
  CHECK(sun::day(longyearbyen, ymd(2027, 4, 17)).state == sun::DayState::day_and_night);
  CHECK(sun::day(longyearbyen, ymd(2027, 4, 22)).state == sun::DayState::polar_day);
  CHECK(sun::day(longyearbyen, ymd(2027, 8, 20)).state == sun::DayState::polar_day);
  CHECK(sun::day(longyearbyen, ymd(2027, 8, 26)).state == sun::DayState::day_and_night);
  CHECK(sun::day(longyearbyen, ymd(2027, 10, 23)).state == sun::DayState::day_and_night);
  CHECK(sun::day(longyearbyen, ymd(2027, 10, 29)).state == sun::DayState::polar_night);
  CHECK(sun::day(longyearbyen, ymd(2027, 2, 12)).state == sun::DayState::polar_night);
  CHECK(sun::day(longyearbyen, ymd(2027, 2, 18)).state == sun::DayState::day_and_night);

  const sun::Day winter = sun::day(longyearbyen, ymd(2027, 12, 21));
  CHECK(winter.state == sun::DayState::polar_night);
  CHECK_FALSE(winter.rise);
  CHECK_FALSE(winter.set);
  CHECK_FALSE(winter.civil_dawn);  // noon Sun 11.7 deg down: nautical twilight only
  CHECK(winter.nautical_dawn);
  CHECK(winter.astronomical_dusk);
  const sun::Day summer = sun::day(longyearbyen, ymd(2027, 6, 21));
  CHECK(summer.state == sun::DayState::polar_day);
  CHECK_FALSE(summer.rise);
  CHECK_FALSE(summer.civil_dusk);
}

TEST_CASE("at the pole the Sun rises once a year, about two days before the equinox", "[sun][edge]") {
  // 50' at 0.395 deg of declination a day: 2.1 days before 2027-03-20 20:25 (almanac, from memory): late on
  // 18 March.
  int rises = 0;
  for (unsigned d = 10; d <= 28; ++d) {
    const sun::Day day = sun::day({90, 0}, ymd(2027, 3, d));
    CHECK_FALSE(day.set);
    if (day.rise) {
      ++rises;
      CHECK_THAT(off_s(day.rise, utc(2027, 3, 18, 17, 45)), WithinAbs(0.0, 3600.0));
      CHECK(day.state == sun::DayState::day_and_night);
    } else {
      CHECK(day.state == (d < 18 ? sun::DayState::polar_night : sun::DayState::polar_day));
    }
  }
  CHECK(rises == 1);
}

TEST_CASE("a Sun that shows itself for minutes is not missed", "[sun][edge]") {
  // Walking north in steps of 0.001 deg past the last latitude with a sunrise: rise and set must both be
  // there exactly while the noon Sun reaches the level. Within 0.0005 deg of it the peak, a minute off noon,
  // may decide.
  const skerry::Day date = ymd(2027, 12, 10);
  int shortest_s = 1 << 30;
  for (int i = 0; i < 200; ++i) {
    const GeoPoint where{67.8 + 0.001 * i, 20.0};
    const sun::Day day = sun::day(where, date);
    const double over_deg = day.noon_elevation_deg - level_deg;
    CAPTURE(where.lat_deg, over_deg);
    CHECK(day.rise.has_value() == day.set.has_value());
    if (over_deg > 0.0) CHECK(day.rise.has_value());
    if (over_deg < -0.0005) CHECK_FALSE(day.rise.has_value());
    if (day.rise && day.set)
      shortest_s = std::min(shortest_s, static_cast<int>((*day.set - *day.rise).count()));
  }
  CHECK(shortest_s < 600);
}

TEST_CASE("astronomical night vanishes at Greenwich in June", "[sun][known]") {
  // Midnight Sun at phi + dec - 90: deeper than 18 deg only while dec < 90 - 18 - 51.48 = 20.52 deg
  // (geometry).
  int without = 0;
  for (sys_days d = sys_days{ymd(2027, 1, 1)}; d < sys_days{ymd(2028, 1, 1)}; d += days{1}) {
    const sun::Day day = sun::day({51.48, 0.0}, skerry::Day{d});
    const double dec = sun::position(*day.set + (*day.set - day.noon) / 2).declination_deg;
    if (std::abs(dec - 20.52) > 0.15) CHECK(day.astronomical_dusk.has_value() == (dec < 20.52));
    if (!day.astronomical_dusk) ++without;
  }
  CHECK(without > 50);
  CHECK(without < 70);
}

TEST_CASE("at the date line the day is the one nearest local mean noon", "[sun][edge]") {
  const sun::Day east = sun::day({0, 180.0}, ymd(2027, 3, 21));
  CHECK_THAT(off_s(east.noon, utc(2027, 3, 21, 0, 7)), WithinAbs(0.0, 60.0));  // equation of time -7.3 min
  CHECK_THAT(off_s(east.rise, utc(2027, 3, 20, 18, 4)), WithinAbs(0.0, 90.0));
  CHECK_THAT(off_s(east.set, utc(2027, 3, 21, 6, 11)), WithinAbs(0.0, 90.0));
  const sun::Day west = sun::day({0, -179.99}, ymd(2027, 3, 21));
  CHECK_THAT(off_s(west.noon, utc(2027, 3, 22, 0, 7)), WithinAbs(0.0, 60.0));
}

TEST_CASE("the leap day stands between its neighbours", "[sun][edge]") {
  const GeoPoint where{59.53, -1.63};
  const auto rise = [&](skerry::Day d) { return *sun::day(where, d).rise; };
  const auto a = rise(ymd(2028, 2, 28));
  const auto b = rise(ymd(2028, 2, 29));
  const auto c = rise(ymd(2028, 3, 1));
  CHECK(b - a < hours{24});
  CHECK(b - a > hours{24} - minutes{4});
  CHECK(c - b < hours{24});
  CHECK(floor<days>(b) == sys_days{ymd(2028, 2, 29)});
}

TEST_CASE("from a height the Sun rises earlier by the dip of the horizon", "[sun][known]") {
  const skerry::Day date = ymd(2027, 3, 20);
  const double earlier_s =
      static_cast<double>((*sun::day({0, 0}, date).rise - *sun::day({0, 0}, date, 1000.0).rise).count());
  const double dip_deg = earlier_s / 240.0;
  // Geometry: acos(R/(R+1 km)) = 1.015 deg; refraction along the longer way adds up to a sixth (navigation
  // tables).
  CHECK(dip_deg > 1.015);
  CHECK(dip_deg < 1.015 * 7.0 / 6.0);
  CHECK_THAT(dip_deg, WithinAbs(0.0347 * std::sqrt(1000.0), 0.006));  // one second of rounding each
}

TEST_CASE("a ridge in the west takes the Sun away before the sea does", "[sun][known]") {
  // Source: geometry. On the equator at an equinox the Sun sinks straight down, 15 degrees an hour, in the west.
  const GeoPoint where = GeoPoint::at_deg(0, 0);
  const auto day = sun::day(where, ymd(2027, 3, 20));
  REQUIRE(day.set);
  const auto seen = [&](double ridge_deg, double from_deg, double to_deg) {
    return sun::last_seen(where, day.noon, *day.set, [&](double azimuth_deg) {
      return azimuth_deg >= from_deg && azimuth_deg <= to_deg ? ridge_deg : 0;
    });
  };
  CHECK(seen(0, 0, 360) == *day.set);
  CHECK(seen(10, 0, 180) == *day.set);
  // 5 degrees: 20 minutes, and 24' less refraction than on the horizon (34' and 10', Bennett): 1.6 more.
  const double early_min = static_cast<double>((*day.set - seen(5, 200, 340)).count()) / 60;
  CHECK_THAT(early_min, WithinAbs(21.6, 0.3));
  // A gorge under a Sun that stands 70 degrees high at noon: never seen after it.
  const GeoPoint north = GeoPoint::at_deg(20, 0);
  const auto there = sun::day(north, ymd(2027, 3, 20));
  CHECK(sun::last_seen(north, there.noon, *there.set, [](double) { return 75.0; }) == there.noon);
}
