// How long batteries last, against the worked examples of operators' practice.
#include "skerry/kit/energy.hpp"

#include "check.hpp"

namespace {

using namespace skerry;
using namespace skerry::kit;
using std::chrono::April;
using std::chrono::year;

Rig rig(double watts, double receive_a, double transmit_a) {
  Rig r;
  r.power_w = watts;
  r.receive_a = receive_a;
  r.transmit_a = transmit_a;
  return r;
}

noise::Mode mode(double duty, double share) {
  noise::Mode m;
  m.duty = duty;
  m.tx_share = share;
  return m;
}

Battery pack(double amp_hours) {
  Battery b;
  b.amp_hours = amp_hours;
  b.usable = 0.8;
  return b;
}

Trip lord_howe() {
  Trip trip;
  trip.first_day = year{2027} / April / 3;
  trip.last_day = year{2027} / April / 4;
  Site site;
  site.id = "beach";
  site.zone = sun::Zone::find("Australia/Lord_Howe", {}).value();
  trip.sites.push_back(site);
  return trip;
}

}  // namespace

// Source: common practice, I = x [d Itx + (1-d) Irx] + (1-x) Irx and hours = 0.8 Ah / I, worked by hand to
// the digits shown.
TEST_CASE("mean current and hours on a pack agree with the worked examples", "[kit][known]") {
  struct Row {
    double watts, receive_a, transmit_a, duty, share, amp_hours, mean_a, hours;
  };
  const auto row = GENERATE(values<Row>({
      {10, 0.3, 2.2, 0.45, 0.35, 3, 0.60, 4.0},
      {10, 0.3, 2.2, 1.0, 0.5, 3, 1.25, 1.9},
      {5, 0.15, 1.0, 0.45, 0.35, 3, 0.28, 8.5},
      {20, 0.4, 4.0, 0.25, 0.4, 6, 0.76, 6.3},
  }));
  const auto r = rig(row.watts, row.receive_a, row.transmit_a);
  const auto m = mode(row.duty, row.share);
  CAPTURE(row.watts, row.duty);
  CHECK_THAT(mean_current_a(r, m), WithinAbs(row.mean_a, 0.005));  // two decimals are printed
  auto battery = pack(row.amp_hours);
  battery.volts = r.volts;  // the rule in ampere-hours takes them to be the same
  CHECK_THAT(hours_on(battery, mean_current_a(r, m)), WithinAbs(row.hours, 0.05));  // one decimal is printed
}

TEST_CASE("a rig that only listens draws its receive current", "[kit][property]") {
  CHECK_THAT(mean_current_a(rig(10, 0.3, 2.2), mode(1, 0)), WithinAbs(0.3, 1e-12));
  CHECK_THAT(mean_current_a(rig(10, 0.3, 2.2), mode(1, 1)), WithinAbs(2.2, 1e-12));
}

TEST_CASE("energy is volts times ampere-hours", "[kit][known]") {
  // 0.5 A at 12 V for 4 h: 24 Wh, by definition of the watt-hour.
  auto r = rig(5, 0.5, 1.0);
  r.volts = 12;
  CHECK_THAT(energy_wh(r, mean_current_a(r, mode(1, 0)), 4), WithinAbs(24.0, 1e-9));
  CHECK(energy_wh(r, 0.5, 0) == 0);
}

TEST_CASE("packs suit a 13.8 V set as operators say", "[kit][known]") {
  // Common practice: 3 lithium-ion cells (11.1 V) are the least, 4 (14.8 V) the most; a 5 V USB bank does not
  // do, nor 24 V.
  const auto r = rig(10, 0.3, 2.2);
  const auto row = GENERATE(values<std::pair<double, bool>>(
      {{5, false}, {7.4, false}, {11.1, true}, {12, true}, {12.8, true}, {14.8, true}, {24, false}}));
  Battery b;
  b.volts = row.first;
  CHECK(suits(b, r) == row.second);
}

// One 10 W set of 0.35 and 2.4 A on 99.9 Wh at 11.1 V and on 100.6 Wh at 14.8 V, 80 % usable, CW (45 % of 35 %), by
// hand. At 13.8 V: 0.35 + 0.1575 x 2.05 = 0.6729 A.
//   linear     11.1/13.8 = 0.8043: sends 10 x 0.8043^2 = 6.47 W, draws 0.35 + 0.8043 x 0.3229 = 0.6097 A;
//              0.8 x 9 / 0.6097 = 11.81 h. At 14.8 V all 10 W and 0.6729 A: 0.8 x 6.8 / 0.6729 = 8.08 h.
//   switching  13.8 x 0.6729 = 9.286 W from either: 79.92 / 9.286 = 8.61 h, 80.51 / 9.286 = 8.67 h, 10 W.
TEST_CASE("a linear set draws amperes and sends less at low voltage, a switching one draws watts",
          "[kit][known]") {
  auto r = rig(10, 0.35, 2.4);
  r.switching = false;
  const auto cw = mode(0.45, 0.35);
  auto low = pack(9), high = pack(6.8);
  low.volts = 11.1;
  high.volts = 14.8;
  const auto hours = [&](const Battery& b) { return hours_on(b, mean_current_a(r, cw, b.volts)); };
  CHECK_THAT(mean_current_a(r, cw), WithinAbs(0.6729, 1e-4));
  CHECK_THAT(output_w(r, 11.1), WithinAbs(6.470, 1e-3));
  CHECK_THAT(mean_current_a(r, cw, 11.1), WithinAbs(0.6097, 1e-4));
  CHECK_THAT(hours(low), WithinAbs(11.81, 0.005));
  CHECK(output_w(r, 14.8) == 10);
  CHECK_THAT(hours(high), WithinAbs(8.08, 0.005));
  r.switching = true;
  CHECK(output_w(r, 11.1) == 10);
  CHECK_THAT(hours(low), WithinAbs(8.61, 0.005));
  CHECK_THAT(hours(high), WithinAbs(8.67, 0.005));
}

TEST_CASE("output falls evenly in amplitude to what is told of the least voltage", "[kit][known]") {
  // 10 W at 13.8 V, 5 W at 11 V: amplitudes 3.1623 and 2.2361; half way, at 12.4 V, 2.6992, which is 7.286 W.
  auto r = rig(10, 0.3, 2.2);
  r.switching = false;
  r.min_volts = 11;
  r.low_power_w = 5;
  CHECK_THAT(output_w(r, 12.4), WithinAbs(7.286, 0.001));
  CHECK_THAT(output_w(r, 11), WithinAbs(5, 1e-9));
  CHECK(output_w(r, 15) == 10);
  // The final's 1.9 A go with it: 0.3 + 0.1575 x 1.9 x 2.6992 / 3.1623 = 0.5554 A.
  CHECK_THAT(mean_current_a(r, mode(0.45, 0.35), 12.4), WithinAbs(0.5554, 1e-4));
}

TEST_CASE("a pack outside of what a rig is told to take does not suit it", "[kit][edge]") {
  auto r = rig(5, 0.1, 1);
  r.volts = 12;
  r.min_volts = 9;
  r.max_volts = 14;
  const auto row = GENERATE(
      values<std::pair<double, bool>>({{8.9, false}, {9, true}, {11.1, true}, {14, true}, {14.4, false}}));
  Battery b;
  b.volts = row.first;
  CAPTURE(row.first);
  CHECK(suits(b, r) == row.second);
}

TEST_CASE("packs charged by the Sun give an equal part of all there is, and no more than they hold",
          "[kit][known]") {
  // 6 h in the packs, 2 h of Sun between the days, 5 days: 6 + 4 x 2 = 14 h, 2.8 h a day.
  CHECK_THAT(hours_a_day(6, 5, 2), WithinAbs(2.8, 1e-12));
  CHECK(hours_a_day(6, 1, 2) == 6);  // nothing comes in between
  CHECK(hours_a_day(2, 5, 3) == 2);  // more Sun than room
  CHECK(hours_a_day(6, 3, 0) == 2);  // no Sun
  Trip trip;
  trip.charging = Charging::solar;
  trip.solar_hours = 5;
  Item panel;
  panel.solar_w = 10;
  CHECK_THAT(sun_wh(trip, panel), WithinAbs(35, 1e-9));  // 10 W x 5 h x 0.7
  trip.charging = Charging::every_night;
  CHECK(sun_wh(trip, panel) == 0);
}

// Every day for itself, in hours of operation: whether the Sun shines before or behind the session, what hours_a_day
// says is there.
TEST_CASE("what packs give on each day by the Sun is there on each day", "[kit][property]") {
  for (const double lasts : {0.5, 2.0, 6.0}) {
    for (const double sun : {0.0, 0.4, 1.0, 3.0, 9.0}) {
      for (const int days : {1, 2, 5, 9}) {
        const double want = hours_a_day(lasts, days, sun);
        double left = lasts;
        for (int d = 0; d < days; ++d) {
          CAPTURE(lasts, sun, days, d);
          CHECK(left >= want - 1e-9);
          left = std::min(lasts, left - want + sun);
        }
      }
    }
  }
}

TEST_CASE(
    "the longest day counts overlapping sessions once and a session past midnight with the day it began",
    "[kit][property]") {
  Trip trip = lord_howe();
  CHECK(longest_day_hours(trip) == 24);  // no session: all hours
  trip.sessions = {{"beach", 6 * 60, 8 * 60, {}, 0}, {"beach", 7 * 60, 9 * 60 + 30, {}, 0}};
  CHECK_THAT(longest_day_hours(trip), WithinAbs(3.5, 1e-9));
  trip.sessions.push_back({"beach", 22 * 60, 26 * 60, {year{2027} / April / 3}, 0});
  CHECK_THAT(longest_day_hours(trip), WithinAbs(7.5, 1e-9));
}

TEST_CASE("a named day is the longest only if it is in the trip", "[kit][edge]") {
  Trip trip = lord_howe();
  trip.sessions = {{"beach", 0, 60, {}, 0}, {"beach", 600, 1200, {year{2027} / April / 20}, 0}};
  CHECK_THAT(longest_day_hours(trip), WithinAbs(1.0, 1e-9));
}
