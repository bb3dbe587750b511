#include "skerry/advice/people.hpp"

#include <chrono>

#include "check.hpp"
#include "skerry/advice/advise.hpp"
#include "small_trip.hpp"

using namespace skerry;
using namespace skerry::advice;
using namespace std::chrono;

namespace {

UtcTime at(int day, int hour) {
  return sys_days{2027y / March / day} + hours{hour};
}

}  // namespace

// Source of the calendar: 2027-03-12 is a Friday, 2027-03-13 a Saturday (any almanac; ISO week 10 of 2027).
// Source of the shares: the table of data/people, read by eye; the judgement itself has no authority.
TEST_CASE("an hour counts by the clock and the weekday of the other end", "[people][known]") {
  const auto table = listeners_of(small_trip());
  CHECK_THAT(table.at(at(12, 20), 0), WithinAbs(1.0, 1e-12));    // Friday evening in Greenwich
  CHECK_THAT(table.at(at(13, 20), 0), WithinAbs(0.9, 1e-12));    // Saturday evening
  CHECK_THAT(table.at(at(12, 3), 0), WithinAbs(0.05, 1e-12));    // Friday, asleep
  CHECK_THAT(table.at(at(12, 19), 15), WithinAbs(1.0, 1e-12));   // an hour on in the east
  CHECK_THAT(table.at(at(13, 1), -75), WithinAbs(1.0, 1e-12));   // still Friday, 20 h, in the west
  CHECK_THAT(table.at(at(12, 22), 165), WithinAbs(0.8, 1e-12));  // Saturday 09 h already in the far east
  // Half of the hour around 19 h belongs to 18 to 19 (0.7), half to 19 to 20 (1.0).
  CHECK_THAT(table.at(at(12, 19), 0), WithinAbs(0.85, 1e-12));
}

TEST_CASE("the user's own table replaces ours, or none is used", "[people][edge]") {
  auto t = small_trip();
  t.listeners.weekday = std::array<double, 24>{};
  (*t.listeners.weekday)[8] = 0.5;
  (*t.listeners.weekday)[9] = 0.5;
  auto table = listeners_of(t);
  CHECK_THAT(table.at(at(12, 9), 0), WithinAbs(0.5, 1e-12));
  CHECK_THAT(table.at(at(12, 20), 0), WithinAbs(0, 1e-12));
  CHECK_THAT(table.at(at(13, 20), 0), WithinAbs(0.9, 1e-12));  // the weekend stays
  t.listeners.used = false;
  table = listeners_of(t);
  for (int h = 0; h < 24; ++h) CHECK(table.at(at(12, h), 0) == 1);
}

TEST_CASE("reach with people is what each cell's own hours say", "[people][known]") {
  // Worked example by hand: 08:00 to 11:30 UTC on Friday 12, Saturday 13 and Sunday 14 March; the UTC hours 8
  // and 11 hold 30 and 60 minutes a day, 9 and 10 sixty.
  auto t = small_trip();
  AdviceOptions o;
  o.openings = o.uncertainty = o.frontier = o.variants = false;
  const auto a = advise(t, o);
  // Central Europe (11 E) is an hour ahead: UTC 9 is the hour around 10 h: 0.25 on Friday, 0.8 twice.
  for (const auto& cell : a.cells) {
    if (cell.target != 0 || cell.utc_hour != 9) continue;
    CHECK_THAT(cell.weight, WithinAbs(3 * 60 * 2, 1e-9));
    CHECK_THAT(cell.people_weight, WithinAbs(60 * 2 * (0.25 + 0.8 + 0.8), 1e-9));
  }
  CHECK_THAT(a.reach, WithinAbs(a.kit.reach, 1e-7));
  CHECK_FALSE(a.people_counted);

  t.listeners.count = true;
  const auto b = advise(t, o);
  CHECK(b.people_counted);
  CHECK_THAT(b.reach_with_people, WithinAbs(b.kit.reach, 1e-7));
  CHECK(b.reach_with_people >= a.reach_with_people - 1e-12);  // it is chosen for that
  CHECK(a.reach >= b.reach - 1e-12);

  t.listeners.count = false;
  t.listeners.used = false;
  const auto c = advise(t, o);
  CHECK_THAT(c.reach_with_people, WithinAbs(c.reach, 1e-12));
  CHECK(c.kit.items == a.kit.items);
}
