#include "skerry/advice/inventory.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <numeric>

#include "skerry/advice/patterns.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/kit/energy.hpp"
#include "verdict_parts.hpp"

namespace skerry::advice {

namespace {

Exclusion exclusion_of(const kit::Trip& trip, const kit::Item& item, kit::Place place) {
  if (item.absent) return Exclusion::absent;
  if (place == kit::Place::forbidden) return Exclusion::forbidden;
  if (trip.bags.empty()) return Exclusion::none;
  std::vector<const kit::Bag*> bags;
  for (const auto& bag : trip.bags) {
    const bool wrong =
        (place == kit::Place::hold_only && !bag.hold) || (place == kit::Place::cabin_only && bag.hold);
    if (!wrong) bags.push_back(&bag);
  }
  if (bags.empty()) return place == kit::Place::hold_only ? Exclusion::no_hold_bag : Exclusion::no_cabin_bag;
  if (!item.tube_cm && !item.size_cm) return Exclusion::none;
  const bool fits =
      std::any_of(bags.begin(), bags.end(), [&](const kit::Bag* bag) { return kit::fits(item, *bag); });
  return fits ? Exclusion::none : Exclusion::too_large;
}

/// Hours on the air of each day of the trip.
std::vector<double> hours_by_day(const kit::Trip& trip) {
  kit::Trip one;
  one.sites = trip.sites;
  one.sessions = trip.sessions;
  std::vector<double> out;
  for (std::chrono::sys_days d{trip.first_day}; d <= std::chrono::sys_days{trip.last_day};
       d += std::chrono::days{1}) {
    one.first_day = one.last_day = Day{d};
    out.push_back(kit::longest_day_hours(one));
  }
  return out;
}

BatteryPlan plan_for(const kit::Trip& trip, const Inventory& inventory, Id<kit::Rig> rig_id) {
  const auto& rig = trip.at(rig_id);
  BatteryPlan out;
  out.rig = rig_id;
  out.mode = leading_mode(trip, rig);
  out.need_hours = kit::longest_day_hours(trip);
  if (!out.mode) {
    out.possible = false;
    return out;
  }
  out.power_w = rig.power_w;
  out.mean_current_a = mean_current_a(trip, rig, rig.volts);
  out.need_wh = kit::energy_wh(rig, out.mean_current_a, out.need_hours);
  if (!inventory.batteries_listed) {
    out.enough = true;
    return out;
  }
  std::vector<int> all;
  for (std::size_t b = 0; b < trip.batteries.size(); ++b) {
    const auto& pack = trip.batteries[b];
    if (!kit::suits(pack, rig) || nth(inventory.things, inventory.by_id.at(pack.item.id)).excluded) continue;
    const double drawn_a = mean_current_a(trip, rig, pack.volts);
    const double hours = kit::hours_on(pack, drawn_a);
    out.feeds.push_back({static_cast<int>(b), hours, pack.watt_hours() * pack.usable,
                         kit::output_w(rig, pack.volts), drawn_a * pack.volts, share_of_hours(trip, hours)});
    all.push_back(static_cast<int>(b));
  }
  out.possible = !out.feeds.empty();
  std::vector<int> panels;
  for (const int i : panels_of(trip)) {
    if (!nth(inventory.things, inventory.by_id.at(nth(trip.items, i).id)).excluded) panels.push_back(i);
  }
  return with_packs(trip, out, all, panels);
}

}  // namespace

std::optional<Id<noise::Mode>> leading_mode(const kit::Trip& trip, const kit::Rig& rig) {
  const auto shares = counted_shares(trip);
  std::optional<Id<noise::Mode>> out;
  for (const auto m : ids_of(trip.modes)) {
    if (!rig_has_mode(rig, nth(trip.modes, m))) continue;
    if (!out || nth(shares, m.value()) > nth(shares, out->value())) out = m;
  }
  return out;
}

double mean_current_a(const kit::Trip& trip, const kit::Rig& rig, double volts) {
  const auto shares = counted_shares(trip);
  double sum = 0, all = 0;
  for (const auto m : ids_of(trip.modes)) {
    const auto& mode = nth(trip.modes, m);
    if (!rig_has_mode(rig, mode)) continue;
    sum += nth(shares, m.value()) * kit::mean_current_a(rig, mode, volts);
    all += nth(shares, m.value());
  }
  // A rig that has none of the modes that count is still used in the best wished one of its own.
  return all > 0 ? sum / all : kit::mean_current_a(rig, nth(trip.modes, *leading_mode(trip, rig)), volts);
}

int days_on_air(const kit::Trip& trip) {
  const auto days = hours_by_day(trip);
  return static_cast<int>(std::count_if(days.begin(), days.end(), [](double h) { return h > 0; }));
}

std::vector<int> panels_of(const kit::Trip& trip) {
  std::vector<int> out;
  for (std::size_t i = 0; i < trip.items.size(); ++i) {
    if (kit::sun_wh(trip, trip.items[i]) > 0) out.push_back(static_cast<int>(i));
  }
  return out;
}

double sun_hours(double sun_wh, std::span<const Feed> feeds) {
  double most_w = 0;
  for (const auto& feed : feeds) most_w = std::max(most_w, feed.drawn_w);
  return most_w > 0 ? sun_wh / most_w : 0;
}

double share_of_hours(const kit::Trip& trip, double lasts_hours, double sun_hours) {
  const auto days = hours_by_day(trip);
  const double all = std::accumulate(days.begin(), days.end(), 0.0);
  double a_day = lasts_hours;
  if (trip.charging == kit::Charging::solar) {
    const auto on_air = std::count_if(days.begin(), days.end(), [](double h) { return h > 0; });
    a_day = kit::hours_a_day(lasts_hours, std::max(1, static_cast<int>(on_air)), sun_hours);
  }
  double got = 0, left = a_day;
  for (const double day : days) {
    if (trip.charging != kit::Charging::none) left = a_day;
    got += std::min(day, left);
    left -= std::min(day, left);
  }
  return all > 0 ? got / all : 1;
}

BatteryPlan with_packs(const kit::Trip& trip, const BatteryPlan& plan, const std::vector<int>& batteries,
                       const std::vector<int>& panels) {
  BatteryPlan out = plan;
  if (out.feeds.empty()) return out;
  out.batteries.clear();
  out.panels = panels;
  out.mass_g = out.lasts_hours = out.packed_wh = 0;
  out.power_w = trip.at(plan.rig).power_w;
  std::vector<Feed> used;
  for (const auto& feed : plan.feeds) {
    if (std::find(batteries.begin(), batteries.end(), feed.battery) == batteries.end()) continue;
    used.push_back(feed);
    out.batteries.push_back(feed.battery);
    out.mass_g += nth(trip.batteries, feed.battery).item.mass_g;
    out.lasts_hours += feed.hours;
    out.packed_wh += feed.usable_wh;
    out.power_w = std::min(out.power_w, feed.power_w);
  }
  if (out.lasts_hours > 0) out.need_wh = out.need_hours * out.packed_wh / out.lasts_hours;
  double sun_wh = 0;
  for (const int i : panels) sun_wh += kit::sun_wh(trip, nth(trip.items, i));
  out.sun_hours = sun_hours(sun_wh, used);
  out.share = share_of_hours(trip, out.lasts_hours, out.sun_hours);
  out.enough = out.share >= 1 - 1e-9;
  return out;
}

Inventory take_inventory(const kit::Trip& trip) {
  Inventory out;
  const auto add = [&](const kit::Item& item, ThingKind kind, std::size_t index, kit::Verdict air) {
    Thing thing;
    thing.id = item.id;
    thing.name = item.name.empty() ? item.id : item.name;
    thing.kind = kind;
    thing.index = static_cast<int>(index);
    thing.mass_g = item.mass_g;
    thing.count = item.count;
    thing.always = item.always;
    thing.exclusion = exclusion_of(trip, item, air.place);
    thing.excluded = thing.exclusion != Exclusion::none;
    thing.air = std::move(air);
    out.by_id[thing.id] = static_cast<int>(out.things.size());
    out.things.push_back(std::move(thing));
  };
  const auto add_all = [&](const auto& list, ThingKind kind) {
    for (std::size_t i = 0; i < list.size(); ++i) add(list[i].item, kind, i, kit::judge(list[i].item));
  };
  add_all(trip.rigs, ThingKind::rig);
  add_all(trip.antennas, ThingKind::antenna);
  for (std::size_t i = 0; i < trip.supports.size(); ++i) {
    if (!trip.supports[i].at_site)
      add(trip.supports[i].item, ThingKind::support, i, kit::judge(trip.supports[i].item));
  }
  add_all(trip.cables, ThingKind::cable);
  add_all(trip.tuners, ThingKind::tuner);
  for (std::size_t i = 0; i < trip.batteries.size(); ++i) {
    add(trip.batteries[i].item, ThingKind::battery, i, kit::judge(trip.batteries[i]));
  }
  for (std::size_t i = 0; i < trip.items.size(); ++i)
    add(trip.items[i], ThingKind::item, i, kit::judge(trip.items[i]));
  out.batteries_listed = !trip.batteries.empty();

  for (const auto rig : ids_of(trip.rigs)) out.power.push_back(plan_for(trip, out, rig));
  return out;
}

}  // namespace skerry::advice
