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

sun::Zone hours_east(int hours) {
  return sun::Zone::fixed(hours * 3600, "");
}

}  // namespace

TEST_CASE("partners are awake by their legal time, summer time and all", "[people][known]") {
  // Source: the tz database: Western Europe's summer time begins 2027-03-28 (a Sunday) at 01:00 UTC.
  auto t = small_trip();
  kit::Target madrid;
  madrid.people = {{GeoPoint::at_deg(38.7, -9.14), 0.2, "Lisbon"},
                   {GeoPoint::at_deg(40.42, -3.70), 0.8, "Madrid"}};
  const auto clock = clock_of(madrid);
  CHECK(clock.name() == "Europe/Madrid");  // of the largest group, whichever stands first
  const auto table = listeners_of(t);
  const UtcTime winter = sys_days{2027y / March / 26} + 19h, summer = sys_days{2027y / April / 2} + 18h;
  // By longitude it would be 19 h and 18 h there: 0.85 and 0.7 or so.
  CHECK_THAT(table.at(winter, clock), WithinAbs(1.0, 1e-12));  // Friday, 20 h
  CHECK_THAT(table.at(summer, clock), WithinAbs(1.0, 1e-12));
  CHECK(clock.labelled_clock(summer) == "20:00 CEST");
}

// Source of the calendar: 2027-03-12 is a Friday, 2027-03-13 a Saturday (any almanac; ISO week 10 of 2027).
// Source of the shares: the table of data/people, read by eye; the judgement itself has no authority.
TEST_CASE("an hour counts by the clock and the weekday of the other end", "[people][known]") {
  const auto table = listeners_of(small_trip());
  CHECK_THAT(table.at(at(12, 20), hours_east(0)), WithinAbs(1.0, 1e-12));  // Friday evening in Greenwich
  CHECK_THAT(table.at(at(13, 20), hours_east(0)), WithinAbs(0.9, 1e-12));  // Saturday evening
  CHECK_THAT(table.at(at(12, 3), hours_east(0)), WithinAbs(0.05, 1e-12));  // Friday, asleep
  CHECK_THAT(table.at(at(12, 19), hours_east(1)), WithinAbs(1.0, 1e-12));  // an hour on in the east
  CHECK_THAT(table.at(at(13, 1), hours_east(-5)), WithinAbs(1.0, 1e-12));  // still Friday, 20 h, in the west
  CHECK_THAT(table.at(at(12, 22), hours_east(11)),
             WithinAbs(0.8, 1e-12));  // Saturday 09 h already in the far east
  // Half of the hour around 19 h belongs to 18 to 19 (0.7), half to 19 to 20 (1.0).
  CHECK_THAT(table.at(at(12, 19), hours_east(0)), WithinAbs(0.85, 1e-12));
}

TEST_CASE("the user's own table replaces ours, or none is used", "[people][edge]") {
  auto t = small_trip();
  t.listeners.weekday = std::array<double, 24>{};
  (*t.listeners.weekday)[8] = 0.5;
  (*t.listeners.weekday)[9] = 0.5;
  auto table = listeners_of(t);
  CHECK_THAT(table.at(at(12, 9), hours_east(0)), WithinAbs(0.5, 1e-12));
  CHECK_THAT(table.at(at(12, 20), hours_east(0)), WithinAbs(0, 1e-12));
  CHECK_THAT(table.at(at(13, 20), hours_east(0)), WithinAbs(0.9, 1e-12));  // the weekend stays
  t.listeners.used = false;
  table = listeners_of(t);
  for (int h = 0; h < 24; ++h) CHECK(table.at(at(12, h), hours_east(0)) == 1);
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

// Source of the calendar: as above; 2027-03-16 is a Tuesday.
TEST_CASE("a Tuesday at 13 UTC has fewer likely contacts than a Saturday", "[people][known]") {
  auto t = small_trip();
  t.targets.resize(1);  // central Europe: 14 h there
  t.sessions[0].start_minute = 12 * 60 + 30;
  t.sessions[0].end_minute = 13 * 60 + 30;
  t.last_day = 2027y / March / 16;
  AdviceOptions o;
  o.openings = o.uncertainty = o.frontier = o.variants = false;
  const auto a = advise(t, o);
  const auto& c = a.contacts;
  REQUIRE(c.days.size() == 5);
  const auto on = [&](Day day) {
    for (const auto& part : c.days) {
      if (part.day == day) return part.expected;
    }
    return -1.0;
  };
  REQUIRE(on(2027y / March / 13) > 0);
  // The sky is the same on both; the table says 0.3 for the weekday's 14 h and 0.8 for Saturday's.
  CHECK_THAT(on(2027y / March / 16) / on(2027y / March / 13), WithinAbs(0.3 / 0.8, 1e-9));
  // By hand: an hour of 30 contacts (data/people/yield.toml), times what works, times who is there.
  CHECK_THAT(on(2027y / March / 13), WithinAbs(30 * a.kit.reach * 0.8, 1e-3));
  CHECK(c.per_hour == 30);
  CHECK_FALSE(c.learned);
  double sum = 0;
  for (const auto& part : c.days) {
    CHECK_THAT(part.hours, WithinAbs(1, 1e-9));
    sum += part.expected;
  }
  CHECK_THAT(sum, WithinAbs(c.expected, 1e-9));
  CHECK(c.low < c.expected);
  CHECK(c.high > c.expected);
}

TEST_CASE("the span of likely contacts is the yield's own and no narrower than counting",
          "[people][property]") {
  auto t = small_trip();
  AdviceOptions o;
  o.openings = o.uncertainty = o.frontier = o.variants = false;
  double last = 1e9;
  for (const double yield : {0.5, 5.0, 50.0, 500.0}) {
    t.learned.contacts_per_hour = yield;
    const auto c = advise(t, o).contacts;
    CHECK(c.learned);
    CHECK(c.per_hour == yield);
    const double wide = c.high / c.expected;
    CHECK_THAT(c.expected / c.low, WithinAbs(wide, 1e-9));
    CHECK(wide > 2);  // the factor that data/people leaves when a log has told the yield
    CHECK(wide < last);
    last = wide;
  }
  CHECK(last < 2.05);  // with a hundred and more contacts counting is no matter
  // Modes by their shares, data slots being slower.
  t.learned.contacts_per_hour.reset();
  t.modes.push_back(*noise::find_mode("ft8", {}));
  t.mode_shares = {0.5, 0.5};
  CHECK(advise(t, o).contacts.per_hour == 25);
  t.sessions[0].days = {2027y / March / 12};
  t.listeners.weekday = std::array<double, 24>{};
  const auto nobody = advise(t, o).contacts;
  CHECK(nobody.expected == 0);
  CHECK(nobody.high == 0);
}
