// What limits hold over several bags, and why a kit does not go into them.
#include <algorithm>
#include <bit>
#include <cmath>
#include <memory>
#include <numeric>

#include "bag_room.hpp"
#include "skerry/advice/bags.hpp"
#include "skerry/core/nth.hpp"

namespace skerry::advice {

namespace {

constexpr double mm3_per_litre = 1e6;

double kilograms(std::int64_t mg) {
  return static_cast<double>(mg) / 1e6;
}
constexpr std::uint64_t bit(std::size_t b) {
  return std::uint64_t{1} << b;
}
std::uint64_t set_of(const std::vector<int>& bags) {
  std::uint64_t out = 0;
  for (const int b : bags) out |= bit(static_cast<std::size_t>(b));
  return out;
}

}  // namespace

std::vector<Carrier> carriers(const kit::Trip& trip) {
  std::vector<Carrier> out;
  std::vector<std::string> names;
  std::vector<int> nobodys;
  for (std::size_t b = 0; b < trip.bags.size(); ++b) {
    const auto& bag = trip.bags[b];
    if (bag.person.empty()) {
      if (!bag.hold) nobodys.push_back(static_cast<int>(b));
      continue;
    }
    const auto at = std::find(names.begin(), names.end(), bag.person) - names.begin();
    if (at == static_cast<std::ptrdiff_t>(names.size())) {
      names.push_back(bag.person);
      out.emplace_back();
    }
    nth(out, at).bags.push_back(static_cast<int>(b));
  }
  const int named = static_cast<int>(names.size()), rest = std::max(0, trip.people - named);
  const int bags = static_cast<int>(nobodys.size());
  for (int n = 0; n < bags; ++n) {
    const int bag = nth(nobodys, n);
    if (rest == 0) {
      nth(out, n % named).bags.push_back(bag);
    } else if (n < rest) {
      out.push_back({{bag}, bags >= rest ? 1 : rest / bags + (n < rest % bags ? 1 : 0)});
    } else {
      nth(out, named + n % rest).bags.push_back(bag);
    }
  }
  return out;
}

void BagPacker::add_limits(const kit::Trip& trip, const Inventory& inventory) {
  using Why = BagProblem::Why;
  std::uint64_t cabin = 0;
  for (std::size_t b = 0; b < bags_.size(); ++b) {
    if (!bags_[b].hold) cabin |= bit(b);
  }
  const std::size_t count = inventory.things.size();
  const auto add = [&](Limit limit) {
    if (std::accumulate(limit.amounts.begin(), limit.amounts.end(), std::int64_t{0}) > limit.most)
      limits_.push_back(std::move(limit));
  };
  std::vector<std::int64_t> liquid_ul;
  for (const auto& load : loads_) liquid_ul.push_back(std::llround(load.item.liquid_ml * 1000));
  const std::int64_t bag_ul = std::llround(kit::liquid_bag_ml() * 1000);
  add({Why::liquids, cabin, bag_ul * trip.people, liquid_ul, {}, trip.people, true});
  const auto carried = carriers(trip);
  for (const auto& who : carried) {
    const std::uint64_t bags = set_of(who.bags);
    // The limits of everybody together hold already.
    if (who.people >= trip.people) continue;
    add({Why::liquids, bags & cabin, bag_ul * who.people, liquid_ul, {}, who.people});
    for (const auto what : kit::counted_batteries) {
      std::vector<std::int64_t> amounts(count, 0);
      for (std::size_t i = 0; i < count; ++i) {
        const auto& thing = inventory.things[i];
        if (thing.kind == ThingKind::battery && kit::counts_as(nth(trip.batteries, thing.index), what))
          amounts[i] = 1;
      }
      add({Why::persons, bags, kit::most_per_person(what) * who.people, std::move(amounts), what,
           who.people});
    }
  }
  std::vector<const kit::Item*> items;
  for (const auto& load : loads_) items.push_back(&load.item);
  for (std::size_t b = 0; b < bags_.size(); ++b) {
    for (const auto& crowd : crowds(bags_[b], items)) {
      std::vector<std::int64_t> amounts(count, 0);
      for (const int i : crowd.things) nth(amounts, i) = 1;
      add({Why::beside, bit(b), crowd.most, std::move(amounts)});
    }
  }
}

std::optional<BagProblem> BagPacker::broken_limit(std::span<const int> things) const {
  using Why = BagProblem::Why;
  for (const auto& limit : limits_) {
    std::int64_t found = 0;
    std::vector<int> bound;
    for (const int i : things) {
      if ((nth(loads_, i).may & ~limit.bins) != 0 || nth(limit.amounts, i) == 0) continue;
      found += nth(limit.amounts, i);
      bound.push_back(i);
    }
    if (found <= limit.most) continue;
    BagProblem out{limit.why, std::move(bound), limit.of_all ? std::vector<int>{} : bags_in(limit.bins)};
    const double units = limit.why == Why::liquids ? 1000 : 1;
    out.need = static_cast<double>(found) / units;
    out.room = static_cast<double>(limit.most) / units;
    if (limit.what) out.count = kit::too_many(*limit.what, static_cast<long>(found), limit.people);
    return out;
  }
  return std::nullopt;
}

std::vector<BagProblem> BagPacker::why_not(std::span<const int> things) const {
  using Why = BagProblem::Why;
  std::vector<BagProblem> out;
  const auto answer = no_bags() ? choose::Shared::yes : shared(things);
  if (answer == choose::Shared::yes) return out;
  if (answer == choose::Shared::given_up) {
    out.push_back({Why::not_found, {things.begin(), things.end()}, bags_in(all_bags())});
    return out;
  }
  const auto load_of = [&](int i) -> const Load& { return nth(loads_, i); };
  for (const int i : things) {
    if (load_of(i).may == 0) {
      out.push_back({Why::fits_no_bag, {i}});
    } else if (bags_for(i).empty()) {
      out.push_back({Why::too_heavy, {i}, bags_in(load_of(i).may), kilograms(load_of(i).mg)});
    }
  }
  if (!out.empty()) return out;
  // The sets of bags that too much depends on, smallest sets first. Each thing's own set, and all the bags,
  // and their unions where there are few bags.
  std::vector<std::uint64_t> sets;
  const std::uint64_t all = all_bags();
  if (bags_.size() <= 8) {
    for (std::uint64_t s = 1; s <= all; ++s) sets.push_back(s);
  } else {
    for (const int i : things) sets.push_back(load_of(i).may);
    sets.push_back(all);
  }
  std::stable_sort(sets.begin(), sets.end(),
                   [](auto a, auto b) { return std::popcount(a) < std::popcount(b); });
  sets.erase(std::unique(sets.begin(), sets.end()), sets.end());
  for (const auto set : sets) {
    std::int64_t mg = 0, mm3 = 0, room_mg = 0, room_mm3 = 0;
    std::vector<int> bound;
    for (const int i : things) {
      if ((load_of(i).may & ~set) != 0) continue;
      mg += load_of(i).mg;
      mm3 += load_of(i).mm3;
      bound.push_back(i);
    }
    for (std::size_t b = 0; b < bags_.size(); ++b) {
      if ((set & bit(b)) == 0) continue;
      room_mg += room_mg_[b];
      room_mm3 += room_mm3_[b];
    }
    if (mg <= room_mg && mm3 <= room_mm3) continue;
    const bool heavy = mg > room_mg;
    const auto litres = [](std::int64_t mm3s) { return static_cast<double>(mm3s) / mm3_per_litre; };
    out.push_back({heavy ? Why::mass : Why::volume, std::move(bound), bags_in(set),
                   heavy ? kilograms(mg) : litres(mm3), heavy ? kilograms(room_mg) : litres(room_mm3)});
    return out;
  }
  if (auto broken = broken_limit(things)) {
    out.push_back(std::move(*broken));
    return out;
  }
  // Sums would do, shapes of the sums do not. Name the lightest thing without which it goes.
  std::vector<int> by_mass(things.begin(), things.end());
  std::stable_sort(by_mass.begin(), by_mass.end(),
                   [&](int a, int b) { return load_of(a).mg < load_of(b).mg; });
  BagProblem sharing{Why::sharing, {things.begin(), things.end()}, bags_in(all)};
  for (const int without : by_mass) {
    std::vector<int> rest;
    std::copy_if(things.begin(), things.end(), std::back_inserter(rest), [&](int i) { return i != without; });
    if (shared(rest) != choose::Shared::yes) continue;
    sharing.without = without;
    break;
  }
  out.push_back(std::move(sharing));
  return out;
}

namespace {

/// Batteries of a kit, and whether there may be so many.
struct BatteryCount {
  BatteryCount(const kit::Trip& trip, const Inventory& inventory)
      : pack_of(inventory.things.size(), -1), packs(trip.batteries), people(trip.people) {
    for (std::size_t i = 0; i < inventory.things.size(); ++i) {
      if (inventory.things[i].kind == ThingKind::battery) pack_of[i] = inventory.things[i].index;
    }
  }
  [[nodiscard]] std::vector<kit::CountProblem> problems(std::span<const int> things) const {
    std::vector<kit::Battery> carried;
    for (const int i : things) {
      const int pack = nth(pack_of, i);
      if (pack >= 0) carried.push_back(nth(packs, pack));
    }
    return kit::count_problems(carried, people);
  }
  std::vector<int> pack_of;
  std::vector<kit::Battery> packs;
  int people;
};

}  // namespace

std::vector<BagProblem> bag_problems(const kit::Trip& trip, const Inventory& inventory,
                                     std::span<const int> things) {
  std::vector<BagProblem> out;
  for (auto& count : BatteryCount(trip, inventory).problems(things)) {
    out.emplace_back().why = BagProblem::Why::batteries;
    out.back().count = std::move(count);
  }
  for (auto& why : BagPacker(trip, inventory).why_not(things)) out.push_back(std::move(why));
  return out;
}

std::function<bool(std::span<const int>)> feasible_in_bags(const kit::Trip& trip,
                                                           const Inventory& inventory) {
  std::vector<int> all;
  for (std::size_t i = 0; i < inventory.things.size(); ++i) {
    if (!inventory.things[i].excluded) all.push_back(static_cast<int>(i));
  }
  const auto packer = std::make_shared<const BagPacker>(trip, inventory);
  const auto count = std::make_shared<const BatteryCount>(trip, inventory);
  const bool ask_bags = !packer->no_bags() && packer->shared(all) != choose::Shared::yes;
  const bool ask_count = !count->problems(all).empty();
  if (!ask_bags && !ask_count) return {};
  return [packer, count, ask_bags, ask_count](std::span<const int> things) {
    return (!ask_count || count->problems(things).empty()) && (!ask_bags || packer->possible(things));
  };
}

}  // namespace skerry::advice
