// What packs, panels and sessions of their own modes mean to the choice.
#include <set>

#include "check.hpp"
#include "skerry/advice/advise.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/kit/energy.hpp"
#include "small_trip.hpp"

using namespace skerry;
using namespace skerry::advice;

namespace {

AdviceOptions quick() {
  AdviceOptions o;
  o.openings = o.variants = o.uncertainty = o.frontier = false;
  return o;
}

/// The rig of 10 W alone, 0.3 A receiving and 2.2 A sending, in CW: 0.3 + 0.35 x 0.45 x 1.9 = 0.59925 A.
kit::Trip one_rig() {
  kit::Trip t = small_trip();
  t.rigs.erase(t.rigs.begin());
  t.modes[0].duty = 0.45;
  t.modes[0].tx_share = 0.35;
  t.mass_limit_g = 9000;
  return t;
}

double most_days(const kit::Trip& t) {
  const Advice a = advise(t, quick());
  double most = 0;
  for (std::size_t s = 0; s < a.setups.possible.size(); ++s) {
    for (const auto& use : nth(a.book.setups, s)) most = std::max(most, use.power_w);
  }
  return most;
}

}  // namespace

TEST_CASE("a pack under the rig's voltage is worked at what the rig sends on it", "[advise][known]") {
  kit::Trip t = one_rig();
  t.rigs[0].switching = false;
  t.batteries = {pack("pack", 11.1, 9, 500)};
  CHECK(most_days(t) < 10);
  // By the square of the voltage: 10 x (11.1 / 12.8)^2 = 7.520 W.
  CHECK_THAT(most_days(t), WithinAbs(7.520, 0.001));
  const double weak = advise(t, quick()).optimum.reach;
  t.licence_power_w = 7;
  CHECK(most_days(t) == 7);  // what the licence allows, as it is less
  t.licence_power_w = 100;
  t.rigs[0].switching = true;
  CHECK(most_days(t) == 10);
  CHECK(advise(t, quick()).optimum.reach > weak);
  // As much as the rig of that power at its own voltage.
  t.rigs[0].power_w = 10 * (11.1 / 12.8) * (11.1 / 12.8);
  CHECK(advise(t, quick()).optimum.reach == weak);
}

TEST_CASE("a pack that no rig takes feeds nothing and stays at home", "[advise][edge]") {
  kit::Trip t = one_rig();
  t.batteries = {pack("right", 12.8, 6, 700), pack("wrong", 14.8, 6, 200)};
  t.rigs[0].max_volts = 14.6;
  const Advice a = advise(t, quick());
  REQUIRE(a.inventory.power[0].feeds.size() == 1);
  CHECK(a.inventory.power[0].feeds[0].battery == 0);
  const int wrong = a.inventory.by_id.at("wrong");
  CHECK(std::find(a.kit.items.begin(), a.kit.items.end(), wrong) == a.kit.items.end());
  CHECK_FALSE(nth(a.items, wrong).used);
  t.rigs[0].max_volts = 15;
  CHECK(advise(t, quick()).inventory.power[0].feeds.size() == 2);
}

TEST_CASE("of packs of several voltages the weaker are used where their hours are worth it",
          "[advise][known]") {
  kit::Trip t = one_rig();
  t.batteries = {pack("strong", 12.8, 0.75, 200), pack("weak", 10.5, 6, 200)};
  t.objective = kit::Objective::chance;
  const auto reach = [&](std::vector<kit::Battery> packs) {
    auto with = t;
    with.batteries = std::move(packs);
    return advise(with, quick()).optimum.reach;
  };
  const double strong = reach({t.batteries[0]}), weak = reach({t.batteries[1]}), both = reach(t.batteries);
  // 0.8 x 0.75 / 0.599 = 1.0 h of 3.5 h at full power, or 8 h and more at two thirds of it.
  CHECK(weak > strong);
  CHECK(both == weak);  // all hours are fed already: nothing is gained by using the other too
  const Advice a = advise(t, quick());
  std::set<double> outputs;
  for (const auto& setup : a.setups.possible) outputs.insert(*setup.power_w);
  CHECK(outputs == std::set<double>{kit::output_w(t.rigs[0], 10.5), 10.0});
}

TEST_CASE("no pack counts for two rigs at once", "[advise][property]") {
  // A pack of 1.5 h for the larger rig and 3.2 h for the smaller: what both work of it on one day is no more than one
  // charge.
  kit::Trip t = small_trip();
  t.mass_limit_g = 9000;
  t.batteries = {pack("pack", 12.8, 1.1, 200)};
  t.rigs[0].modes = {"cw"};
  t.rigs[1].modes = {"ssb"};
  t.modes.push_back(*noise::find_mode("ssb", {}));
  t.mode_shares = {0.5, 0.5};
  auto evening = t.sessions[0];
  evening.start_minute = 16 * 60;
  evening.end_minute = 19 * 60;
  evening.mode_shares = {0, 1};
  t.sessions.push_back(evening);
  const Advice a = advise(t, quick());
  std::vector<int> all;
  for (std::size_t i = 0; i < a.inventory.things.size(); ++i) all.push_back(static_cast<int>(i));
  const auto account = choose::Solver(a.problem).account(all);
  double charges = 0;
  for (std::size_t e = 0; e < account.hours.size(); ++e)
    charges += account.hours[e] / a.problem.engines[e].feeds.at(0).hours;
  CHECK(charges <= 3 + 1e-6);  // three days, charged every night
  CHECK(charges > 2.5);
}

TEST_CASE("a panel charges only when it comes along", "[advise][known]") {
  kit::Trip t = one_rig();
  t.charging = kit::Charging::solar;
  t.solar_hours = 2;
  // Two hours in the pack, at 12.8 V x 0.59925 A = 7.6704 W; the panel's 0.7 x 5.47886 W x 2 h are one more a day.
  t.batteries = {pack("pack", 12.8, 2 * 0.59925 / 0.8, 200)};
  auto panel = thing("panel", 300);
  panel.solar_w = 7.6704 / 0.7 / 2;
  t.items.push_back(panel);
  const Advice a = advise(t, quick());
  const int i = a.inventory.by_id.at("panel");
  CHECK(std::find(a.kit.items.begin(), a.kit.items.end(), i) != a.kit.items.end());
  REQUIRE(a.power.size() == 1);
  CHECK(a.power[0].panels == std::vector<int>{1});
  CHECK_THAT(a.power[0].lasts_hours, WithinAbs(2, 1e-9));
  CHECK_THAT(a.power[0].sun_hours, WithinAbs(1, 1e-9));
  // Of 3.5 h on each of three days: (2 + 2 x 1) / 3 h with the panel, 2/3 h without it, 2 h at a socket.
  CHECK_THAT(a.power[0].share, WithinAbs(4.0 / 3 / 3.5, 1e-9));
  CHECK_THAT(with_packs(t, a.power[0], {0}, {}).share, WithinAbs(2.0 / 3 / 3.5, 1e-9));
  const auto account = choose::Solver(a.problem).account(a.kit.items);
  double worked = 0;
  for (const double h : account.hours) worked += h;
  CHECK_THAT(worked, WithinAbs(4, 1e-5));
  auto none = t, socket = t;
  none.items.pop_back();
  socket.charging = kit::Charging::every_night;
  const double without = advise(none, quick()).optimum.reach, nightly = advise(socket, quick()).optimum.reach;
  CHECK(a.optimum.reach > without);
  CHECK(nightly > a.optimum.reach);
  // At a socket nobody carries it.
  const Advice at_socket = advise(socket, quick());
  CHECK(std::find(at_socket.kit.items.begin(), at_socket.kit.items.end(), i) == at_socket.kit.items.end());
}

TEST_CASE("each session counts its own modes", "[reach][known]") {
  // Authority: the model asked for one mode alone.
  kit::Trip t = small_trip();
  t.modes.push_back(*noise::find_mode("ssb", {}));
  t.sessions[0].end_minute = 10 * 60;
  auto evening = t.sessions[0];
  evening.start_minute = 16 * 60;
  evening.end_minute = 18 * 60;
  evening.mode_shares = {0, 1};
  t.sessions.push_back(evening);
  // 08:00 to 09:00 of the second day in SSB: of three hours at 8 o'clock one.
  t.sessions[0].days = {t.first_day, t.last_day};
  auto second = evening;
  second.start_minute = 8 * 60;
  second.end_minute = 9 * 60;
  second.days = {t.climate.day};
  t.sessions.push_back(second);
  const auto setups = kit::derive_setups(t).possible;
  const auto book = pattern_book(t, setups);
  const ReachModel model(t, setups, book);
  std::vector<double> layouts;
  for (const auto& reach : model.setups()) layouts.push_back(reach.layout_azimuth_deg);
  Stress in_cw, in_ssb;
  in_cw.mode = Id<noise::Mode>(0);
  in_ssb.mode = Id<noise::Mode>(1);
  const auto cw = model.under(in_cw), ssb = model.under(in_ssb);
  int differ = 0, mixed = 0;
  for (std::size_t s = 0; s < setups.size(); ++s) {
    for (std::size_t c = 0; c < model.cells().size(); ++c) {
      const auto chance = [&](const ReachModel& m) { return static_cast<double>(m.setups()[s].chance[c]); };
      const int hour = model.cells()[c].utc_hour;
      const double share = hour >= 12 ? 1 : hour == 8 ? 1.0 / 3 : 0;
      CAPTURE(s, hour);
      // 09:00 on the second day is half an hour of the nearest hour 9, and 08:00 half of 8: by the minutes.
      if (hour == 9) continue;
      const double want = (1 - share) * chance(cw) + share * chance(ssb);
      CHECK_THAT(chance(model), WithinAbs(want, 1e-6));
      differ += chance(cw) != chance(ssb) ? 1 : 0;
      mixed += hour == 8 ? 1 : 0;
    }
  }
  CHECK(differ > 0);
  CHECK(mixed > 0);
  const auto shares = counted_shares(t);
  // 2 h of CW on two days; SSB 2 h on three days and 1 h on one: 4 of 11 h.
  CHECK_THAT(shares[0], WithinAbs(4.0 / 11, 1e-9));
  CHECK_THAT(shares[1], WithinAbs(7.0 / 11, 1e-9));
  // Told in the mode of the hour.
  std::vector<int> all;
  for (std::size_t s = 0; s < setups.size(); ++s) all.push_back(static_cast<int>(s));
  const auto table = model.openings(all);
  int told = 0;
  for (int band = 0; band < static_cast<int>(t.bands.size()); ++band) {
    if (const auto& slot = table.at(0, 0, 17, band); slot.open()) {
      CHECK(slot.by->mode == Id<noise::Mode>(1));
      ++told;
    }
    if (const auto& slot = table.at(0, 0, 10, band); slot.open()) CHECK(slot.by->mode == Id<noise::Mode>(0));
  }
  CHECK(told > 0);
}

TEST_CASE("sessions of several modes that overlap count once, as the earlier goes on", "[reach][edge]") {
  kit::Trip t = small_trip();
  t.modes.push_back(*noise::find_mode("ssb", {}));
  auto later = t.sessions[0];  // 08:00 to 11:30
  later.start_minute = 10 * 60;
  later.end_minute = 13 * 60;
  later.mode_shares = {0, 1};
  t.sessions.push_back(later);
  double minutes = 0;
  for (const auto& hour : session_hours(t)) minutes += hour.minutes;
  CHECK_THAT(minutes, WithinAbs(3 * 5 * 60, 1e-9));
  // 3.5 h of CW, then 1.5 h of SSB.
  CHECK_THAT(counted_shares(t)[0], WithinAbs(0.7, 1e-9));
  // Putting up is done once: they are one session to it.
  CHECK_THAT(time_left(t, 0, 30), WithinAbs(0.9, 1e-9));
}
