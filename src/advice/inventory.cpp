#include "skerry/advice/inventory.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <functional>
#include <set>

#include "skerry/advice/patterns.hpp"
#include "skerry/kit/energy.hpp"

namespace skerry::advice {

namespace {

/// Judgement: more packs than this are more trouble than they are worth.
constexpr std::size_t most_packs = 4;

std::string size_text(const kit::Item& item) {
  if (item.tube_cm)
    return fmt::format("{:.0f} cm long, {:.1f} cm thick", (*item.tube_cm)[0], (*item.tube_cm)[1]);
  const auto& s = *item.size_cm;
  return fmt::format("{:.0f} x {:.0f} x {:.0f} cm", s[0], s[1], s[2]);
}

/// Why a thing cannot come; empty when it can.
std::string cannot_come(const kit::Trip& trip, const kit::Item& item, const kit::Verdict& air) {
  if (air.place == kit::Place::forbidden) return air.why;
  if (trip.bags.empty()) return {};
  std::vector<const kit::Bag*> bags;
  for (const auto& bag : trip.bags) {
    const bool wrong = (air.place == kit::Place::hold_only && !bag.hold) ||
                       (air.place == kit::Place::cabin_only && bag.hold);
    if (!wrong) bags.push_back(&bag);
  }
  if (bags.empty()) {
    return air.place == kit::Place::hold_only ? "goes in the hold only, and no bag goes there"
                                              : "goes in the cabin only, and no bag goes there";
  }
  if (!item.tube_cm && !item.size_cm) return {};
  if (std::any_of(bags.begin(), bags.end(), [&](const kit::Bag* bag) { return kit::fits(item, *bag); }))
    return {};
  const char* where = air.place == kit::Place::hold_only    ? "no bag of the hold takes it"
                      : air.place == kit::Place::cabin_only ? "no cabin bag takes it"
                                                            : "no bag takes it";
  return fmt::format("{}: {}", where, size_text(item));
}

int hungriest_mode(const kit::Trip& trip, const kit::Rig& rig) {
  int out = -1;
  for (std::size_t m = 0; m < trip.modes.size(); ++m) {
    if (!rig_has_mode(rig, trip.modes[m])) continue;
    if (out < 0 || kit::mean_current_a(rig, trip.modes[m]) >
                       kit::mean_current_a(rig, trip.modes[static_cast<std::size_t>(out)])) {
      out = static_cast<int>(m);
    }
  }
  return out;
}

struct PackSet {
  std::vector<int> packs;
  double mass_g = 0, hours = 0;
};

class BatteryChooser {
 public:
  BatteryChooser(const kit::Trip& trip, const Inventory& inventory) : trip_(trip), inventory_(inventory) {}

  BatteryPlan plan_for(int rig_index, double need_hours) {
    const auto& rig = trip_.rigs[static_cast<std::size_t>(rig_index)];
    BatteryPlan out;
    out.rig = rig_index;
    out.mode = hungriest_mode(trip_, rig);
    out.need_hours = need_hours;
    if (out.mode < 0) {
      out.possible = false;
      out.why = fmt::format("the {} has none of the wanted modes", rig.item.name);
      return out;
    }
    const auto& mode = trip_.modes[static_cast<std::size_t>(out.mode)];
    out.mean_current_a = kit::mean_current_a(rig, mode);
    out.need_wh = kit::energy_wh(rig, mode, need_hours);
    if (!inventory_.batteries_listed) {
      out.why = "no batteries in the list: power is taken to be at the site";
      out.enough = true;
      return out;
    }
    suitable_.clear();
    for (std::size_t b = 0; b < trip_.batteries.size(); ++b) {
      if (!excluded(static_cast<int>(b)) && kit::suits(trip_.batteries[b], rig))
        suitable_.push_back(static_cast<int>(b));
    }
    if (suitable_.empty()) {
      out.possible = false;
      out.why = fmt::format("no battery that may come suits the {} ({:.1f} V)", rig.item.name, rig.volts);
      return out;
    }
    best_ = {};
    found_ = false;
    need_hours_ = need_hours;
    current_ = {};
    extend(0, rig, mode);
    out.batteries = best_.packs;
    out.mass_g = best_.mass_g;
    out.lasts_hours = best_.hours;
    out.enough = best_.hours >= need_hours - 1e-9;
    std::vector<std::string> names;
    for (const int b : best_.packs) {
      const auto& pack = trip_.batteries[static_cast<std::size_t>(b)];
      out.packed_wh += pack.watt_hours() * pack.usable;
      names.push_back(pack.item.name);
    }
    out.why = fmt::format("{} {} the {} for {:.1f} h of {}; the longest day needs {:.1f} h{}",
                          fmt::join(names, " and "), names.size() == 1 ? "runs" : "run", rig.item.name,
                          out.lasts_hours, mode.name, need_hours,
                          out.enough ? "" : ": not enough, and nothing in the list lasts longer");
    return out;
  }

 private:
  [[nodiscard]] bool excluded(int battery) const {
    const auto where = inventory_.by_id.find(trip_.batteries[static_cast<std::size_t>(battery)].item.id);
    return where == inventory_.by_id.end() ||
           inventory_.things[static_cast<std::size_t>(where->second)].excluded;
  }
  void extend(std::size_t from, const kit::Rig& rig, const noise::Mode& mode) {
    if (!current_.packs.empty()) consider();
    if (current_.packs.size() == most_packs) return;
    for (std::size_t k = from; k < suitable_.size(); ++k) {
      const auto& pack = trip_.batteries[static_cast<std::size_t>(suitable_[k])];
      const PackSet before = current_;
      current_.packs.push_back(suitable_[k]);
      current_.mass_g += pack.item.mass_g;
      current_.hours += kit::hours_on(pack, rig, mode);
      if (legal()) extend(k + 1, rig, mode);
      current_ = before;
    }
  }
  [[nodiscard]] bool legal() const {
    std::vector<kit::Battery> carried;
    for (const int b : current_.packs) carried.push_back(trip_.batteries[static_cast<std::size_t>(b)]);
    return kit::count_problems(carried, trip_.people).empty();
  }
  void consider() {
    const auto lasts = [&](const PackSet& s) { return s.hours >= need_hours_ - 1e-9; };
    bool better = !found_;
    if (found_ && lasts(current_) != lasts(best_)) {
      better = lasts(current_);
    } else if (found_ && lasts(current_)) {
      better = current_.mass_g != best_.mass_g ? current_.mass_g < best_.mass_g
                                               : current_.packs.size() < best_.packs.size();
    } else if (found_) {
      better = current_.hours != best_.hours ? current_.hours > best_.hours : current_.mass_g < best_.mass_g;
    }
    if (better) best_ = current_;
    found_ = true;
  }

  const kit::Trip& trip_;
  const Inventory& inventory_;
  std::vector<int> suitable_;
  PackSet current_, best_;
  bool found_ = false;
  double need_hours_ = 0;
};

}  // namespace

Inventory take_inventory(const kit::Trip& trip) {
  Inventory out;
  const auto add = [&](const kit::Item& item, ThingKind kind, std::size_t index, kit::Verdict air) {
    Thing thing;
    thing.id = item.id;
    thing.name = item.name.empty() ? item.id : item.name;
    thing.kind = kind;
    thing.index = static_cast<int>(index);
    thing.mass_g = item.mass_g;
    thing.always = item.always;
    thing.why_excluded = cannot_come(trip, item, air);
    thing.excluded = !thing.why_excluded.empty();
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

  const double need_hours = kit::longest_day_hours(trip);
  BatteryChooser chooser(trip, out);
  for (std::size_t r = 0; r < trip.rigs.size(); ++r)
    out.power.push_back(chooser.plan_for(static_cast<int>(r), need_hours));
  return out;
}

}  // namespace skerry::advice
