#include "skerry/advice/advise.hpp"

#include <algorithm>
#include <cmath>

#include "check.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/parallel.hpp"
#include "skerry/kit/energy.hpp"
#include "small_trip.hpp"

using namespace skerry;
using namespace skerry::advice;

namespace {

const ItemAdvice& item_of(const Advice& a, const std::string& id) {
  return nth(a.items, a.inventory.by_id.at(id));
}
bool carried(const Advice& a, const std::string& id) {
  return item_of(a, id).carry;
}

AdviceOptions quick() {
  AdviceOptions o;
  o.openings = false;
  o.uncertainty = false;
  return o;
}

const Thing& thing_of(const Advice& a, const std::string& id) {
  return nth(a.inventory.things, a.inventory.by_id.at(id));
}

}  // namespace

TEST_CASE("advice carries what trying all subsets of the inventory finds", "[advise][known]") {
  double lightest_reach = -1, last_reach = -1;
  // Authority: all 2^n kits, each judged by the setups it completes; no search involved.
  for (const double limit_g : {1500.0, 2200.0, 2800.0, 3200.0, 9000.0}) {
    kit::Trip t = small_trip();
    t.mass_limit_g = limit_g;
    const Advice a = advise(t, quick());
    const auto& things = a.inventory.things;
    REQUIRE(things.size() <= 16);
    const auto setups = kit::derive_setups(t);
    const auto book = pattern_book(t, setups.possible);
    const ReachModel model(t, setups.possible, book);
    const auto on_air = session_hours(t);
    double best_reach = -1, best_g = 0;
    for (unsigned subset = 0; subset < (1U << things.size()); ++subset) {
      double mass_g = 0;
      bool legal = true;
      for (std::size_t i = 0; i < things.size(); ++i) {
        const bool in = ((subset >> i) & 1U) != 0;
        mass_g += in ? things[i].mass_g : 0;
        legal = legal && (in || !things[i].always) && !(in && things[i].excluded);
      }
      if (!legal || mass_g > limit_g) continue;
      // With one rig a day, its packs spent on the best of the same hours of each day.
      const auto in = [&](const std::string& id) { return ((subset >> a.inventory.by_id.at(id)) & 1U) != 0; };
      double reach = 0;
      for (const auto r : ids_of(t.rigs)) {
        double hours = 0;
        for (const auto& battery : t.batteries) {
          if (in(battery.item.id))
            hours += kit::hours_on(battery, kit::mean_current_a(t.at(r), t.modes[0], battery.volts));
        }
        std::vector<double> worth(model.cells().size(), 0);
        for (std::size_t s = 0; s < setups.possible.size(); ++s) {
          const auto& setup = setups.possible[s];
          if (setup.rig != r || !std::all_of(setup.needs.begin(), setup.needs.end(), in)) continue;
          for (std::size_t c = 0; c < worth.size(); ++c)
            worth[c] = std::max(worth[c], static_cast<double>(model.setups()[s].chance[c]));
        }
        std::vector<std::pair<double, double>> of_hours;  // worth and length in the three days together
        for (const auto& hour : on_air) {
          double sum = 0;
          for (std::size_t c = 0; c < worth.size(); ++c) {
            if (model.cells()[c].utc_hour == hour.utc_hour) sum += worth[c] * model.cells()[c].weight;
          }
          of_hours.emplace_back(sum, hour.minutes / 60);
        }
        std::sort(of_hours.begin(), of_hours.end(),
                  [](const auto& x, const auto& y) { return x.first * y.second > y.first * x.second; });
        double left = 3 * hours, got = 0;
        for (const auto& [sum, length] : of_hours) {
          const double used = std::min(left, length);
          got += sum * used / length;
          left -= used;
        }
        reach = std::max(reach, got / model.total_weight());
      }
      if (reach > best_reach + 1e-8 || (reach > best_reach - 1e-8 && mass_g < best_g)) {
        best_reach = std::max(best_reach, reach);
        best_g = mass_g;
      }
    }
    CAPTURE(limit_g, a.outcome);
    CHECK(a.kit.proved);
    CHECK_THAT(a.kit.reach, WithinAbs(best_reach, 1e-7));  // chances are floats, gains steps of 2^-31
    CHECK_THAT(a.kit.mass_g, WithinAbs(best_g, 1e-6));
    CHECK(a.kit.mass_g <= limit_g);
    if (limit_g > 5000) CHECK(a.full_kit_fits);
    if (lightest_reach < 0) lightest_reach = best_reach;
    last_reach = best_reach;
  }
  CHECK(last_reach > lightest_reach);  // the limit mattered
}

TEST_CASE("the heavier mast stays at home when the antenna hangs no better on it", "[advise][known]") {
  // A quarter-wave vertical for 20 m is 5.05 m long (common practice): a 6.5 m mast holds all of it, a 10 m
  // one no more.
  kit::Trip t = small_trip();
  t.antennas = {t.antennas[1]};
  t.mass_limit_g = 9000;
  t.tolerance = 0.001;
  const Advice a = advise(t, quick());
  REQUIRE(a.kit.reach > 0);
  CHECK(carried(a, "mast 6 m"));
  CHECK_FALSE(carried(a, "mast 10 m"));
  CHECK_THAT(item_of(a, "mast 10 m").reach, WithinAbs(0, 1e-4));
  CHECK(item_of(a, "mast 10 m").used);
}

TEST_CASE("the heavier mast is taken when it is the only one high enough", "[advise][known]") {
  // The same vertical on a 4 m mast does not stand (5.05 m of wire).
  kit::Trip t = small_trip();
  t.antennas = {t.antennas[1]};
  t.supports[0] = mast("mast 4 m", 4, 300);
  t.mass_limit_g = 9000;
  const Advice a = advise(t, quick());
  REQUIRE(a.kit.reach > 0);
  CHECK(carried(a, "mast 10 m"));
  CHECK_FALSE(carried(a, "mast 4 m"));
  CHECK_THAT(item_of(a, "mast 10 m").reach, WithinAbs(a.kit.reach, 1e-9));
  CHECK_THAT(item_of(a, "mast 10 m").as_it_stands, WithinAbs(a.kit.reach, 1e-9));
  const auto& impossible = a.setups.impossible;
  CHECK(std::any_of(impossible.begin(), impossible.end(), [](const kit::Impossible& i) {
    return i.support == Id<kit::Support>(0) && i.why == kit::Impossible::Why::does_not_stand;
  }));
}

TEST_CASE("each verdict's numbers agree with asking the problem again", "[advise][property]") {
  const kit::Trip t = small_trip();
  const Advice a = advise(t, quick());
  for (std::size_t i = 0; i < a.items.size(); ++i) {
    const auto& item = a.items[i];
    CHECK(item.carry == std::binary_search(a.kit.items.begin(), a.kit.items.end(), static_cast<int>(i)));
    if (item.carry) {
      CHECK_THAT(item.reach_without, WithinAbs(a.kit.reach - item.reach, 1e-12));
      CHECK(item.lighter_g <= a.kit.mass_g);
    }
    if (item.carry && !a.inventory.things[i].always) {
      CHECK(item.reach >= -1e-12);                     // the kit is the best there is
      CHECK(item.as_it_stands >= item.reach - 1e-12);  // mending the gap cannot make it wider
    }
    if (!item.carry && item.used) CHECK(item.reach >= -1e-12);
    if (item.reach_per_kg) CHECK_THAT(*item.reach_per_kg * item.added_g / 1000, WithinAbs(item.reach, 1e-12));
  }
  double plan_reach = 0;
  for (const auto& use : a.uses) {
    CHECK(use.alone <= a.kit.reach + 1e-7);
    if (use.in_plan) plan_reach = std::max(plan_reach, use.alone + use.without);
  }
  CHECK(plan_reach >= a.kit.reach - 0.002 - 1e-7);  // what nobody misses
  double by_target = 0, weight = 0;
  for (const auto& target : a.targets) {
    by_target += target.reach * nth(t.targets, target.target).weight;
    weight += nth(t.targets, target.target).weight;
  }
  CHECK_THAT(by_target / weight, WithinAbs(a.kit.reach, 1e-7));
}

TEST_CASE("packs last as the worked example says, day by day or once for all", "[advise][known]") {
  // Worked example, common practice: 10 W CW, 0.3 A receiving, 2.2 A sending, duty 0.45, sending 0.35 of the
  // time, 3 Ah of which 0.8 are used: 0.60 A, 4.0 h.
  kit::Trip t = small_trip();
  t.modes[0].duty = 0.45;
  t.modes[0].tx_share = 0.35;
  // The example is for a pack of the set's own voltage.
  t.rigs[1].volts = t.batteries[0].volts;
  auto plan = take_inventory(t).power[1];
  CHECK_THAT(plan.mean_current_a, WithinAbs(0.60, 0.005));
  REQUIRE(plan.feeds.size() == 2);
  CHECK_THAT(plan.feeds[0].hours, WithinAbs(4.0, 0.05));
  CHECK_THAT(plan.feeds[1].hours, WithinAbs(8.0, 0.1));
  CHECK_THAT(plan.need_hours, WithinAbs(3.5, 1e-9));
  CHECK(with_packs(t, plan, {0}, {}).enough);
  t.sessions[0].end_minute = t.sessions[0].start_minute + 6 * 60;  // 6 h: the larger pack
  plan = take_inventory(t).power[1];
  CHECK_FALSE(with_packs(t, plan, {0}, {}).enough);
  CHECK(with_packs(t, plan, {1}, {}).enough);
  t.sessions[0].end_minute = t.sessions[0].start_minute + 10 * 60;  // 10 h: both
  plan = take_inventory(t).power[1];
  CHECK_FALSE(with_packs(t, plan, {1}, {}).enough);
  CHECK(with_packs(t, plan, {0, 1}, {}).enough);
  t.sessions[0].end_minute = t.sessions[0].start_minute + 14 * 60;  // 14 h: nothing lasts
  plan = take_inventory(t).power[1];
  CHECK_FALSE(plan.enough);
  CHECK_THAT(plan.share, WithinAbs(plan.lasts_hours / 14, 1e-9));
  // Never charged: three days of 3.5 h on packs of 4 + 8 h.
  t.sessions[0].end_minute = t.sessions[0].start_minute + 210;
  t.charging = kit::Charging::none;
  plan = take_inventory(t).power[1];
  CHECK(plan.enough);
  CHECK_THAT(with_packs(t, plan, {0}, {}).share, WithinAbs(plan.feeds[0].hours / 10.5, 1e-9));

  t.batteries = {pack("5 V bank", 5, 20, 400)};
  plan = take_inventory(t).power[1];
  CHECK_FALSE(plan.possible);
  const Advice a = advise(t, quick());
  CHECK(a.kit.reach == 0);
  CHECK_FALSE(a.inventory.power[1].possible);
  CHECK(a.inventory.power[1].mode);
  CHECK(a.outcome == Outcome::no_power);
}

TEST_CASE("what may not fly or fits no bag is not carried, and says why", "[advise][known]") {
  // Source: the usual air rule, over 160 Wh not in passenger baggage; 12.8 V x 13 Ah = 166.4 Wh.
  kit::Trip t = small_trip();
  t.batteries = {pack("pack 13 Ah", 12.8, 13, 300), pack("pack 6 Ah", 12.8, 6, 760)};
  // A 67 cm by 4.7 cm mast does not go into 55 x 40 x 23 cm, whose longest such cylinder is 66.0 cm (exact
  // formula).
  t.supports[0].item.tube_cm = {{50, 4}};
  t.supports[1].item.tube_cm = {{67, 4.7}};
  kit::Bag bag;
  bag.id = bag.name = "cabin bag";
  bag.inner_cm = {55, 40, 23};
  bag.mass_limit_g = 10000;
  t.bags = {bag};
  t.mass_limit_g = 9000;
  const Advice a = advise(t, quick());
  CHECK_FALSE(carried(a, "pack 13 Ah"));
  CHECK_FALSE(carried(a, "mast 10 m"));
  CHECK(thing_of(a, "mast 10 m").exclusion == Exclusion::too_large);
  CHECK(thing_of(a, "pack 13 Ah").exclusion == Exclusion::forbidden);
  CHECK(thing_of(a, "pack 13 Ah").air.reason.kind == kit::AirReason::Kind::too_much_energy);
  CHECK(carried(a, "mast 6 m"));
  CHECK(carried(a, "pack 6 Ah"));
}

TEST_CASE("exposure distances are those of the usual far-field table", "[advise][known]") {
  // Source: ICNIRP 2020 general public limits with E = 2 sqrt(30 P G)/r and G = 1.64, worked by hand to 0.1
  // m.
  CHECK_THAT(exposure_distance_m(10 * 0.2, 2.15, 28.5), WithinAbs(0.7, 0.05));
  CHECK_THAT(exposure_distance_m(10 * 0.5, 2.15, 28.5), WithinAbs(1.1, 0.05));
  CHECK_THAT(exposure_distance_m(10, 2.15, 28.5), WithinAbs(1.5, 0.05));
  CHECK_THAT(exposure_distance_m(100, 2.15, 28.5), WithinAbs(4.9, 0.05));
  CHECK_THAT(exposure_distance_m(10, 2.15, 14), WithinAbs(0.9, 0.05));
  CHECK_THAT(exposure_distance_m(10, 2.15, 7), WithinAbs(0.6, 0.05));
}

TEST_CASE("the advice is the same on one core and on many, and the second time", "[advise][property]") {
  const kit::Trip t = small_trip();
  set_thread_count(1);
  const Advice one = advise(t);
  set_thread_count(3);
  const Advice three = advise(t);
  set_thread_count(0);
  CHECK(one.outcome == three.outcome);
  CHECK(one.kit.items == three.kit.items);
  CHECK(one.kit.reach == three.kit.reach);
  CHECK(one.firmness.why == three.firmness.why);
  CHECK(one.firmness.reach_low == three.firmness.reach_low);
  REQUIRE(one.items.size() == three.items.size());
  for (std::size_t i = 0; i < one.items.size(); ++i) {
    CHECK(one.items[i].instead == three.items[i].instead);
    CHECK(one.items[i].lighter_g == three.items[i].lighter_g);
    CHECK(one.items[i].reach == three.items[i].reach);
  }
  REQUIRE(one.openings.slots.size() == three.openings.slots.size());
  for (std::size_t i = 0; i < one.openings.slots.size(); ++i) {
    CHECK(one.openings.slots[i].days_both == three.openings.slots[i].days_both);
    CHECK((one.openings.slots[i].by == three.openings.slots[i].by));
  }
}

TEST_CASE("the opening table of the kit is its reach, hour by hour", "[advise][property]") {
  // Each region here is one place, so that its middle is that place; packs that last all day.
  kit::Trip t = small_trip();
  t.batteries = {pack("pack 20 Ah", 12.8, 12, 400)};
  const Advice a = advise(t);
  double reached = 0, all = 0;
  for (const auto& cell : a.cells) {
    double best = 0;
    for (std::size_t b = 0; b < t.bands.size(); ++b) {
      best =
          std::max(best, a.openings.at(cell.site, cell.target, cell.utc_hour, static_cast<int>(b)).days_both);
    }
    all += cell.weight;
    reached += cell.weight * best / 10;
  }
  // What is closed to the table, under half a day, still counts in the reach.
  CHECK_THAT(reached / all, WithinAbs(a.kit.reach, 0.002));
  CHECK(a.days.size() == 3);
  CHECK(a.days[0].turn_back.has_value());
  CHECK(*a.days[0].turn_back == *a.days[0].sun.set - std::chrono::minutes{60});
}

TEST_CASE("trips with nothing to decide are answered with the reason", "[advise][edge]") {
  kit::Trip t = small_trip();
  t.mass_limit_g = 50;  // the log alone is 100 g
  Advice a = advise(t, quick());
  CHECK(a.kit.over_limit);
  CHECK(a.outcome == Outcome::always_too_heavy);

  t = small_trip();
  t.targets.clear();
  a = advise(t, quick());
  CHECK(a.kit.reach == 0);
  CHECK(a.outcome == Outcome::nothing_to_reach);

  t = small_trip();
  t.antennas.clear();
  a = advise(t, quick());
  CHECK(a.kit.reach == 0);
  CHECK(a.outcome == Outcome::no_setup);

  t = small_trip();
  t.want_days_in_ten = 10;
  t.rigs[0].power_w = t.rigs[1].power_w = 1e-12;
  a = advise(t);
  CHECK(a.kit.reach == 0);
  CHECK(a.kit.items.size() == 1);  // only what always goes
  CHECK(a.firmness.why == Firmness::Why::nothing_reached);
}

namespace {

/// The small trip with one rig, one pack and one pole, whose guys must go in the hold.
kit::Trip guyed_trip(bool hold_bag) {
  kit::Trip t = small_trip();
  t.rigs.resize(1);
  t.batteries.resize(1);
  t.supports.resize(1);
  t.supports[0].needs_guys = true;
  t.supports[0].needs = {"storm guys"};
  kit::Item guys = thing("storm guys", 250);
  guys.sharp = true;
  t.items.push_back(guys);
  kit::Bag cabin;
  cabin.id = cabin.name = "cabin bag";
  cabin.inner_cm = {{55, 40, 23}};
  cabin.mass_limit_g = 8000;
  t.bags = {cabin};
  if (hold_bag) {
    kit::Bag hold = cabin;
    hold.id = hold.name = "hold bag";
    hold.hold = true;
    t.bags.push_back(hold);
  }
  return t;
}

}  // namespace

TEST_CASE("guys that may not fly are named as the reason, not the sky", "[advise][regression]") {
  const Advice a = advise(guyed_trip(false), quick());
  CHECK(a.kit.reach == 0);
  CHECK(a.outcome == Outcome::blocked);
  REQUIRE(a.lightest);
  const int guys = a.inventory.by_id.at("storm guys");
  CHECK(std::count(a.lightest->items.begin(), a.lightest->items.end(), guys) == 1);
  CHECK(thing_of(a, "storm guys").exclusion == Exclusion::no_hold_bag);
  CHECK(a.lightest->reach > 0);
  CHECK(advise(guyed_trip(true), quick()).kit.reach > 0);
}

TEST_CASE("a kit that is a few grams over the limit is told with its grams", "[advise][regression]") {
  kit::Trip t = guyed_trip(true);
  // Authority: the same trip without a limit; its frontier's lightest kit that reaches anything.
  t.mass_limit_g = 20000;
  AdviceOptions with_frontier = quick();
  const Advice free = advise(t, with_frontier);
  double lightest_g = 1e9;
  for (const auto& kit : free.frontier.kits) {
    if (kit.reach > 0) lightest_g = std::min(lightest_g, kit.mass_g);
  }
  REQUIRE(lightest_g < 1e9);
  t.mass_limit_g = lightest_g - 10;
  const Advice a = advise(t, quick());
  CHECK(a.kit.reach == 0);
  CHECK(a.outcome == Outcome::over_limit);
  REQUIRE(a.lightest);
  CHECK_THAT(a.lightest->mass_g - a.limit_g, WithinAbs(10, 1e-6));
  t.mass_limit_g = lightest_g;
  CHECK(advise(t, quick()).kit.reach > 0);
}

TEST_CASE("where no kit of any mass works the sky is named", "[advise][edge]") {
  kit::Trip t = small_trip();
  t.want_days_in_ten = 9.9;
  t.rigs.resize(1);
  t.rigs[0].power_w = 1e-12;
  const Advice a = advise(t, quick());
  CHECK(a.outcome == Outcome::no_sky);
  CHECK(advise(small_trip(), quick()).outcome == Outcome::works);
}

TEST_CASE("a pack that does not last is told in the verdict with what more would give", "[advise][known]") {
  kit::Trip t = guyed_trip(true);
  // 3.5 h on the air each day; a pack of half an hour or so. Twice the pack, twice the hours.
  t.batteries = {pack("small pack", 12.8, 0.3, 90)};
  const Advice a = advise(t, quick());
  REQUIRE(a.kit.reach > 0);
  REQUIRE(a.power.size() == 1);
  const double lasts_h = a.power[0].lasts_hours;
  REQUIRE(lasts_h < 1.75);
  REQUIRE(a.battery_limit);
  CHECK_THAT(a.battery_limit->share, WithinAbs(lasts_h / 3.5, 1e-9));
  CHECK_FALSE(a.battery_limit->all);
  CHECK_THAT(a.battery_limit->share_of_twice, WithinAbs(2 * lasts_h / 3.5, 1e-9));
}

TEST_CASE("two rigs and two people: that a second station is not valued is said", "[advise][edge]") {
  const auto said = [](const Advice& a) {
    return std::any_of(a.cautions.begin(), a.cautions.end(),
                       [](const Caution& c) { return c.kind == Caution::Kind::one_contact; });
  };
  kit::Trip t = small_trip();
  CHECK_FALSE(said(advise(t, quick())));
  t.people = 2;
  CHECK(said(advise(t, quick())));
}

TEST_CASE("who stands on a summit leaves by the sea's sunset, not by his own", "[advice][regression]") {
  // From 2456 m the sea horizon lies 1.7 degrees lower and the Sun sets minutes later than on the way down.
  auto t = small_trip();
  t.sites[0].descent_minutes = 60;
  t.sites[0].daylight_margin_minutes = 30;
  AdviceOptions options;
  options.uncertainty = options.variants = options.frontier = options.openings = false;
  const auto leave = [&](const kit::Trip& trip) {
    const auto a = advise(trip, options);
    REQUIRE(a.days[0].turn_back);
    return *a.days[0].turn_back;
  };
  const auto at_sea = leave(t);
  CHECK(at_sea == *sun::day(t.sites[0].at, t.first_day).set - std::chrono::minutes{90});
  t.sites[0].altitude_m = 2456;
  const auto high = advise(t, options).days[0];
  CHECK(*high.sun.set > *sun::day(t.sites[0].at, t.first_day).set + std::chrono::minutes{8});
  CHECK(leave(t) == at_sea);
  // A ridge in the west is earlier still; one in the east changes nothing.
  t.sites[0].horizon.points = {{0, 0}, {60, 8}, {120, 8}, {180, 0}};
  CHECK(leave(t) == at_sea);
  t.sites[0].horizon.points = {{0, 0}, {200, 0}, {220, 8}, {300, 8}, {320, 0}};
  CHECK(leave(t) < at_sea - std::chrono::minutes{40});
}
