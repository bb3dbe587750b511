#include "skerry/circuit/openings.hpp"

#include <cmath>
#include <random>

#include "check.hpp"

using skerry::circuit::openings;

TEST_CASE("an opening across midnight is one event", "[circuit][known]") {
  std::array<double, 24> v{};
  v[22] = 4;
  v[23] = 8;
  v[0] = 6;
  v[1] = 2;
  const auto events = openings(v, 4);
  REQUIRE(events.size() == 1);
  CHECK_THAT(events[0].start_h, WithinAbs(22, 1e-12));
  CHECK_THAT(events[0].end_h, WithinAbs(24.5, 1e-12));  // half way between 6 at 24 and 2 at 25
  CHECK(events[0].peak_h == 23);
  CHECK(events[0].peak_value == 8);
}

TEST_CASE("two openings, none, and all day", "[circuit][edge]") {
  std::array<double, 24> v{};
  v[5] = 10;
  v[15] = 10;
  const auto two = openings(v, 5);
  REQUIRE(two.size() == 2);
  CHECK_THAT(two[0].start_h, WithinAbs(4.5, 1e-12));
  CHECK_THAT(two[1].end_h, WithinAbs(15.5, 1e-12));
  CHECK(openings(v, 11).empty());
  v.fill(6);
  const auto all = openings(v, 5);
  REQUIRE(all.size() == 1);
  CHECK(all[0].all_day);
  CHECK(all[0].end_h - all[0].start_h == 24);
}

TEST_CASE("openings begin and end on a quarter of an hour, for hourly medians say no more",
          "[circuit][property]") {
  // Source: the promise of the header; random days from a fixed seed.
  std::mt19937 random(5);
  std::uniform_real_distribution<double> days(0, 10);
  int events = 0;
  for (int round = 0; round < 200; ++round) {
    std::array<double, 24> v{};
    for (double& value : v) value = days(random);
    for (const auto& o : openings(v, 5)) {
      ++events;
      CHECK(4 * o.start_h == std::round(4 * o.start_h));
      CHECK(4 * o.end_h == std::round(4 * o.end_h));
      CHECK(o.end_h >= o.start_h);
      CHECK(o.start_h >= 0);
      CHECK(o.start_h < 24.01);
    }
  }
  CHECK(events > 500);
}

TEST_CASE("five minutes round an hour are told as that hour", "[circuit][edge]") {
  // 02:57 to 03:02 by straight lines: what hourly values cannot know.
  std::array<double, 24> v{};
  v[2] = 0;
  v[3] = 5.25;
  v[4] = -1;
  const auto events = openings(v, 5);
  REQUIRE(events.size() == 1);
  CHECK(events[0].start_h == 3);
  CHECK(events[0].end_h == 3);
}
