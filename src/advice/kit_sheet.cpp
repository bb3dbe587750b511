#include "skerry/advice/kit_sheet.hpp"

#include <algorithm>
#include <map>

#include "skerry/advice/patterns.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/kit/energy.hpp"

namespace skerry::advice {

namespace {

BagFit fit_in(const kit::Item& item, const kit::Verdict& air, const kit::Bag& bag) {
  BagFit out;
  out.fits = kit::fits(item, bag);
  out.allowed = air.place == kit::Place::either ||
                air.place == (bag.hold ? kit::Place::hold_only : kit::Place::cabin_only);
  out.light = item.mass_g <= bag.mass_limit_g - bag.own_mass_g;
  if (item.tube_cm) {
    out.lie = kit::lie_of_tube(*item.tube_cm, bag);
    if (const auto sides = kit::clear_sides_cm(bag))
      out.longest = kit::longest_tube(*sides, (*item.tube_cm)[1]);
  }
  return out;
}

std::vector<RunTime> run_times(const kit::Trip& trip, const kit::Battery& battery) {
  std::vector<RunTime> out;
  for (const auto r : ids_of(trip.rigs)) {
    const auto& rig = trip.at(r);
    if (!kit::suits(battery, rig)) continue;
    const auto mode = leading_mode(trip, rig);
    if (!mode) continue;
    out.push_back({r, *mode, kit::hours_on(battery, mean_current_a(trip, rig, battery.volts)),
                   kit::output_w(rig, battery.volts)});
  }
  return out;
}

NotCarried why_not_carried(const kit::Trip& trip, const Inventory& inventory, const kit::Setup& setup,
                           const std::function<bool(std::span<const int>)>& feasible) {
  const auto& power = nth(inventory.power, setup.rig.value());
  using Why = NotCarried::Why;
  if (!power.possible) return {Why::no_power};
  std::vector<int> things;
  for (std::size_t i = 0; i < inventory.things.size(); ++i) {
    const auto& thing = inventory.things[i];
    const bool needed = std::binary_search(setup.needs.begin(), setup.needs.end(), thing.id);
    if (needed && thing.excluded) return {Why::thing, static_cast<int>(i)};
    if (needed || (thing.always && !thing.excluded)) things.push_back(static_cast<int>(i));
  }
  const auto mass_of = [&](const Feed& feed) { return nth(trip.batteries, feed.battery).item.mass_g; };
  const auto lightest =
      std::min_element(power.feeds.begin(), power.feeds.end(),
                       [&](const Feed& a, const Feed& b) { return mass_of(a) < mass_of(b); });
  if (lightest != power.feeds.end())
    things.push_back(inventory.by_id.at(nth(trip.batteries, lightest->battery).item.id));
  std::sort(things.begin(), things.end());
  things.erase(std::unique(things.begin(), things.end()), things.end());
  double mass_g = 0;
  for (const int i : things) mass_g += nth(inventory.things, i).mass_g;
  if (mass_g > trip.mass_limit_g + 1e-6) return {Why::mass};
  if (feasible && !feasible(things)) {
    auto why = bag_problems(trip, inventory, things);
    NotCarried out{Why::bags};
    if (!why.empty()) out.bags = std::move(why.front());
    return out;
  }
  return {};
}

}  // namespace

KitSheet kit_sheet(const kit::Trip& trip) {
  KitSheet out;
  out.inventory = take_inventory(trip);
  out.setups = kit::derive_setups(trip);
  out.need_hours = kit::longest_day_hours(trip);
  out.notes = kit::rule_notes(trip);
  out.rules_outdated = kit::rules_outdated(trip.last_day);
  std::map<std::string, kit::Verdict> verdicts;
  for (auto& v : kit::judge(trip)) verdicts[v.item] = std::move(v);
  std::vector<int> may_come;
  for (std::size_t i = 0; i < out.inventory.things.size(); ++i) {
    const auto& thing = out.inventory.things[i];
    const kit::Item& item = item_of(trip, thing);
    KitLine line;
    line.air = verdicts.at(thing.id);
    for (const auto& bag : trip.bags) line.bags.push_back(fit_in(item, line.air, bag));
    if (thing.kind == ThingKind::battery) {
      const auto& battery = nth(trip.batteries, thing.index);
      line.watt_hours = battery.watt_hours();
      line.usable_wh = battery.watt_hours() * battery.usable;
      line.runs = run_times(trip, battery);
    }
    out.mass_g += thing.mass_g;
    if (!thing.excluded) {
      out.flying_g += thing.mass_g;
      may_come.push_back(static_cast<int>(i));
    }
    out.lines.push_back(std::move(line));
  }
  out.setups_of_antenna.assign(trip.antennas.size(), 0);
  for (const auto& setup : out.setups.possible) ++nth(out.setups_of_antenna, setup.antenna.value());
  const auto feasible = feasible_in_bags(trip, out.inventory);
  for (const auto& setup : out.setups.possible)
    out.not_carried.push_back(why_not_carried(trip, out.inventory, setup, feasible));
  out.why_not = bag_problems(trip, out.inventory, may_come);
  if (out.why_not.empty()) out.all_in_bags = pack_bags(trip, out.inventory, may_come);
  return out;
}

}  // namespace skerry::advice
