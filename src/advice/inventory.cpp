#include "skerry/advice/inventory.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <functional>
#include <iterator>
#include <map>
#include <set>

#include "skerry/advice/patterns.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/kit/energy.hpp"
#include "verdict_parts.hpp"

namespace skerry::advice {

namespace {

/// Judgement: more packs than this are more trouble than they are worth.
constexpr std::size_t most_packs = 4;

Exclusion exclusion_of(const kit::Trip& trip, const kit::Item& item, kit::Place place) {
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

class BatteryChooser {
 public:
  BatteryChooser(const kit::Trip& trip, const Inventory& inventory)
      : trip_(trip), inventory_(inventory), days_(hours_by_day(trip)) {}

  BatteryPlan plan_for(Id<kit::Rig> rig_id, double need_hours) {
    const auto& rig = trip_.at(rig_id);
    BatteryPlan out;
    out.rig = rig_id;
    out.mode = hungriest_mode(trip_, rig);
    out.need_hours = need_hours;
    if (!out.mode) {
      out.possible = false;
      return out;
    }
    const auto& mode = nth(trip_.modes, *out.mode);
    out.mean_current_a = kit::mean_current_a(rig, mode);
    out.need_wh = kit::energy_wh(rig, mode, need_hours);
    if (!inventory_.batteries_listed) {
      out.enough = true;
      out.sets = {PackSet{}};
      return out;
    }
    suitable_.clear();
    for (std::size_t b = 0; b < trip_.batteries.size(); ++b) {
      if (!excluded(static_cast<int>(b)) && kit::suits(trip_.batteries[b], rig))
        suitable_.push_back(static_cast<int>(b));
    }
    if (suitable_.empty()) {
      out.possible = false;
      return out;
    }
    all_.clear();
    current_ = {};
    extend(0, rig, mode);
    out.sets = worth_asking();
    // The smallest legal set that lasts, or the one that lasts longest.
    const auto best = std::min_element(all_.begin(), all_.end(), [&](const PackSet& a, const PackSet& b) {
      const bool a_lasts = a.lasts_hours >= need_hours - 1e-9, b_lasts = b.lasts_hours >= need_hours - 1e-9;
      if (a_lasts != b_lasts) return a_lasts;
      if (!a_lasts && a.lasts_hours != b.lasts_hours) return a.lasts_hours > b.lasts_hours;
      return a.mass_g != b.mass_g ? a.mass_g < b.mass_g : a.batteries.size() < b.batteries.size();
    });
    return with_set(out, *best);
  }

 private:
  [[nodiscard]] bool excluded(int battery) const {
    const auto where = inventory_.by_id.find(nth(trip_.batteries, battery).item.id);
    return where == inventory_.by_id.end() || nth(inventory_.things, where->second).excluded;
  }
  void extend(std::size_t from, const kit::Rig& rig, const noise::Mode& mode) {
    if (!current_.batteries.empty()) {
      current_.share = share_of(current_.lasts_hours);
      all_.push_back(current_);
    }
    if (current_.batteries.size() == most_packs) return;
    for (std::size_t k = from; k < suitable_.size(); ++k) {
      const auto& pack = nth(trip_.batteries, suitable_[k]);
      const PackSet before = current_;
      current_.batteries.push_back(suitable_[k]);
      current_.mass_g += pack.item.mass_g;
      current_.lasts_hours += kit::hours_on(pack, rig, mode);
      current_.packed_wh += pack.watt_hours() * pack.usable;
      if (legal()) extend(k + 1, rig, mode);
      current_ = before;
    }
  }
  [[nodiscard]] bool legal() const {
    std::vector<kit::Battery> carried;
    for (const int b : current_.batteries) carried.push_back(nth(trip_.batteries, b));
    return kit::count_problems(carried, trip_.people).empty();
  }
  [[nodiscard]] double share_of(double lasts_hours) const {
    double all = 0, got = 0;
    for (const double day : days_) {
      all += day;
      got += std::min(day, lasts_hours);
    }
    return all > 0 ? got / all : 1;
  }
  [[nodiscard]] std::vector<PackSet> worth_asking() const {
    std::vector<PackSet> by_mass = all_;
    std::stable_sort(by_mass.begin(), by_mass.end(), [](const PackSet& a, const PackSet& b) {
      return a.mass_g != b.mass_g ? a.mass_g < b.mass_g : a.batteries.size() < b.batteries.size();
    });
    std::map<std::vector<int>, double> share_of_set;
    for (const auto& set : all_) share_of_set.emplace(set.batteries, set.share);
    // Whether some part of a set lasts as long as the whole: of four packs there are fourteen.
    const auto idle = [&](const PackSet& set) {
      const auto whole = (1U << set.batteries.size()) - 1;
      std::vector<int> part;
      for (unsigned mask = 1; mask < whole; ++mask) {
        part.clear();
        for (std::size_t k = 0; k < set.batteries.size(); ++k) {
          if (((mask >> k) & 1U) != 0) part.push_back(set.batteries[k]);
        }
        const auto found = share_of_set.find(part);
        if (found != share_of_set.end() && found->second >= set.share - 1e-12) return true;
      }
      return false;
    };
    std::vector<PackSet> out;
    std::copy_if(by_mass.begin(), by_mass.end(), std::back_inserter(out),
                 [&](const PackSet& set) { return !idle(set); });
    if (out.size() <= most_pack_sets) return out;
    std::vector<PackSet> rising;
    for (const auto& set : out) {
      if (rising.empty() || set.share > rising.back().share + 1e-12) rising.push_back(set);
    }
    while (rising.size() > most_pack_sets) {
      // Out with the one whose neighbours are nearest to each other in hours.
      std::size_t least = 1;
      for (std::size_t k = 2; k + 1 < rising.size(); ++k) {
        const auto gap = [&](std::size_t i) { return rising[i + 1].share - rising[i - 1].share; };
        if (gap(k) < gap(least)) least = k;
      }
      rising.erase(rising.begin() + static_cast<std::ptrdiff_t>(least));
    }
    return rising;
  }

  const kit::Trip& trip_;
  const Inventory& inventory_;
  std::vector<double> days_;
  std::vector<int> suitable_;
  PackSet current_;
  std::vector<PackSet> all_;
};

}  // namespace

std::optional<Id<noise::Mode>> hungriest_mode(const kit::Trip& trip, const kit::Rig& rig) {
  std::optional<Id<noise::Mode>> out;
  const auto current_a = [&](Id<noise::Mode> m) { return kit::mean_current_a(rig, nth(trip.modes, m)); };
  for (const auto m : ids_of(trip.modes)) {
    if (rig_has_mode(rig, nth(trip.modes, m)) && (!out || current_a(m) > current_a(*out))) out = m;
  }
  return out;
}

double share_of_hours(const kit::Trip& trip, double lasts_hours) {
  double all = 0, got = 0;
  for (const double day : hours_by_day(trip)) {
    all += day;
    got += std::min(day, lasts_hours);
  }
  return all > 0 ? got / all : 1;
}

BatteryPlan with_set(const BatteryPlan& plan, const PackSet& set) {
  BatteryPlan out = plan;
  out.batteries = set.batteries;
  out.mass_g = set.mass_g;
  out.lasts_hours = set.lasts_hours;
  out.packed_wh = set.packed_wh;
  out.share = set.share;
  out.enough = set.batteries.empty() || set.lasts_hours >= plan.need_hours - 1e-9;
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

  const double need_hours = kit::longest_day_hours(trip);
  BatteryChooser chooser(trip, out);
  for (const auto rig : ids_of(trip.rigs)) out.power.push_back(chooser.plan_for(rig, need_hours));
  return out;
}

}  // namespace skerry::advice
