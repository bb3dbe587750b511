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
  CHECK_THAT(mean_current_a(r, m), WithinAbs(row.mean_a, 0.005));               // two decimals are printed
  auto battery = pack(row.amp_hours);
  battery.volts = r.volts;  // the rule in ampere-hours takes them to be the same
  CHECK_THAT(hours_on(battery, r, mean_current_a(r, m)), WithinAbs(row.hours, 0.05));  // one decimal is printed
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
