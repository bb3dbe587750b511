#include "skerry/advice/bags.hpp"

#include <algorithm>
#include <bit>
#include <cassert>
#include <cmath>
#include <map>
#include <memory>
#include <numeric>

#include "skerry/choose/choose.hpp"
#include "skerry/choose/share_out.hpp"
#include "skerry/core/nth.hpp"

namespace skerry::advice {

namespace {

constexpr double mm3_per_cm3 = 1000;
constexpr double mm3_per_litre = 1e6;

double volume_cm3(const kit::Item& item) {
  if (item.size_cm) return (*item.size_cm)[0] * (*item.size_cm)[1] * (*item.size_cm)[2];
  // The box around a tube: other things do not flow round it.
  if (item.tube_cm) return (*item.tube_cm)[0] * (*item.tube_cm)[1] * (*item.tube_cm)[1];
  return item.mass_g / soft_g_per_litre * 1000;
}

double kilograms(std::int64_t mg) {
  return static_cast<double>(mg) / 1e6;
}

constexpr std::uint64_t bit(std::size_t b) {
  return std::uint64_t{1} << b;
}

/// Moves things between different people's bags of the same kind (cabin or hold) as long as that evens out
/// what each carries; no limit, wish or allowance of liquids is touched. Bags of nobody in particular stay as
/// they are.
void level_by_person(const std::vector<kit::Bag>& bags, std::vector<choose::Bin> room,
                     const std::vector<choose::Parcel>& parcels, std::vector<int>& where) {
  std::map<std::string, std::int64_t> carried;
  std::vector<std::size_t> order(parcels.size());
  for (std::size_t k = 0; k < parcels.size(); ++k) {
    order[k] = k;
    const auto b = static_cast<std::size_t>(where[k]);
    room[b].mg -= parcels[k].mg;
    room[b].mm3 -= parcels[k].mm3;
    carried[bags[b].person] += parcels[k].mg;
  }
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return parcels[a].mg > parcels[b].mg; });
  // Each move lowers the sum of the squares, so this ends.
  for (bool moved = true; moved;) {
    moved = false;
    for (const std::size_t k : order) {
      const choose::Parcel& p = parcels[k];
      const auto from = static_cast<std::size_t>(where[k]);
      std::size_t best = from;
      for (std::size_t b = 0; b < bags.size(); ++b) {
        const bool other = bags[b].hold == bags[from].hold && bags[b].person != bags[from].person &&
                           !bags[b].person.empty() && !bags[from].person.empty();
        if (!other || (p.may & bit(b)) == 0 || p.mg > room[b].mg || p.mm3 > room[b].mm3) continue;
        if (carried[bags[b].person] + p.mg >= carried[bags[from].person]) continue;
        if (best == from || carried[bags[b].person] < carried[bags[best].person]) best = b;
      }
      if (best == from || p.mg <= 0) continue;
      room[from].mg += p.mg;
      room[from].mm3 += p.mm3;
      room[best].mg -= p.mg;
      room[best].mm3 -= p.mm3;
      carried[bags[from].person] -= p.mg;
      carried[bags[best].person] += p.mg;
      where[k] = static_cast<int>(best);
      moved = true;
    }
  }
}

}  // namespace

const kit::Item& item_of(const kit::Trip& trip, const Thing& thing) {
  const auto i = static_cast<std::size_t>(thing.index);
  switch (thing.kind) {
    case ThingKind::rig:
      return trip.rigs[i].item;
    case ThingKind::antenna:
      return trip.antennas[i].item;
    case ThingKind::support:
      return trip.supports[i].item;
    case ThingKind::cable:
      return trip.cables[i].item;
    case ThingKind::tuner:
      return trip.tuners[i].item;
    case ThingKind::battery:
      return trip.batteries[i].item;
    case ThingKind::item:
      break;
  }
  return trip.items[i];
}

BagPacker::BagPacker(const kit::Trip& trip, const Inventory& inventory) : bags_(trip.bags) {
  assert(bags_.size() <= 64);
  std::uint64_t cabin = 0;
  for (std::size_t b = 0; b < bags_.size(); ++b) {
    const auto& bag = bags_[b];
    room_mg_.push_back(choose::whole_mg(bag.mass_limit_g) - choose::whole_mg(bag.own_mass_g));
    const auto sides = kit::clear_sides_cm(bag);
    const double cm3 = sides ? (*sides)[0] * (*sides)[1] * (*sides)[2] : 0;
    room_mm3_.push_back(std::llround(usable_share_of_bag * cm3 * mm3_per_cm3));
    if (!bag.hold) cabin |= bit(b);
  }
  cabin_liquid_ul_ = std::llround(kit::liquid_bag_ml() * 1000 * trip.people);
  for (const auto& thing : inventory.things) {
    const kit::Item& item = item_of(trip, thing);
    Load load;
    load.mg = choose::whole_mg(item.mass_g);
    load.mm3 = std::llround(volume_cm3(item) * mm3_per_cm3);
    load.liquid_ul = std::llround(item.liquid_ml * 1000);
    load.tube_cm = item.tube_cm;
    for (std::size_t b = 0; b < bags_.size(); ++b) {
      const bool wrong = thing.air.place == kit::Place::forbidden ||
                         (thing.air.place == kit::Place::cabin_only && bags_[b].hold) ||
                         (thing.air.place == kit::Place::hold_only && !bags_[b].hold);
      if (!wrong && kit::fits(item, bags_[b])) load.may |= bit(b);
    }
    // What fits alone may fill its bag to the last corner.
    for (std::size_t b = 0; b < bags_.size(); ++b) {
      if ((load.may & bit(b)) != 0) load.mm3 = std::min(load.mm3, room_mm3_[b]);
    }
    const bool delicate = thing.air.cabin_preferred || thing.kind == ThingKind::rig ||
                          thing.kind == ThingKind::tuner || thing.kind == ThingKind::battery;
    if (delicate) {
      load.better = load.may & cabin;
    } else if (thing.air.arguable) {
      load.better = load.may & ~cabin;
    }
    loads_.push_back(std::move(load));
  }
}

std::vector<int> BagPacker::bags_for(int thing) const {
  std::vector<int> out;
  for (std::size_t b = 0; b < bags_.size(); ++b) {
    const auto& load = nth(loads_, thing);
    if ((load.may & bit(b)) != 0 && load.mg <= room_mg_[b]) out.push_back(static_cast<int>(b));
  }
  return out;
}

std::optional<std::vector<int>> BagPacker::share(std::span<const int> things, bool choosy) const {
  std::vector<choose::Bin> bins(bags_.size());
  for (std::size_t b = 0; b < bins.size(); ++b) bins[b] = {room_mg_[b], room_mm3_[b], !bags_[b].hold};
  std::vector<choose::Parcel> parcels;
  for (const int i : things) {
    const auto& load = nth(loads_, i);
    parcels.push_back({load.mg, load.mm3, load.liquid_ul, load.may});
  }
  std::vector<int> out;
  const auto works = [&] {
    return choose::share_out(bins, parcels, cabin_liquid_ul_, most_nodes, out) == choose::Shared::yes;
  };
  if (!works()) return std::nullopt;
  if (!choosy) return out;
  // One wish after the other, the heaviest first, each kept when it can be met together with those before.
  std::vector<std::size_t> wishes;
  for (std::size_t k = 0; k < parcels.size(); ++k) {
    const auto& load = nth(loads_, things[k]);
    if (load.better != 0 && load.better != load.may) wishes.push_back(k);
  }
  std::stable_sort(wishes.begin(), wishes.end(),
                   [&](std::size_t a, std::size_t b) { return parcels[a].mg > parcels[b].mg; });
  std::vector<int> kept = out;
  for (const std::size_t k : wishes) {
    const auto before = parcels[k].may;
    parcels[k].may = nth(loads_, things[k]).better;
    if (works()) {
      kept = out;
    } else {
      parcels[k].may = before;
    }
  }
  level_by_person(bags_, bins, parcels, kept);
  return kept;
}

bool BagPacker::possible(std::span<const int> things) const {
  return no_bags() || share(things, false).has_value();
}

std::optional<BagPlan> BagPacker::plan(std::span<const int> things) const {
  BagPlan out;
  if (no_bags()) return out;
  std::vector<int> sorted(things.begin(), things.end());
  std::sort(sorted.begin(), sorted.end());
  const auto where = share(sorted, true);
  if (!where) return std::nullopt;
  for (std::size_t b = 0; b < bags_.size(); ++b) {
    BagLoad load;
    load.bag = static_cast<int>(b);
    load.limit_g = bags_[b].mass_limit_g;
    load.usable_l = static_cast<double>(room_mm3_[b]) / mm3_per_litre;
    std::int64_t mg = 0;
    std::int64_t mm3 = 0;
    for (std::size_t k = 0; k < sorted.size(); ++k) {
      if ((*where)[k] != static_cast<int>(b)) continue;
      const auto& thing = nth(loads_, sorted[k]);
      load.things.push_back(sorted[k]);
      mg += thing.mg;
      mm3 += thing.mm3;
      if (!thing.tube_cm) continue;
      const auto lie = kit::lie_of_tube(*thing.tube_cm, bags_[b]);
      if (lie == kit::Lie::along_a_side) continue;
      load.aslant.push_back({sorted[k], lie});
    }
    load.mass_g = static_cast<double>(mg + choose::whole_mg(bags_[b].own_mass_g)) / 1000;
    load.volume_l = static_cast<double>(mm3) / mm3_per_litre;
    out.bags.push_back(std::move(load));
  }
  return out;
}

std::vector<int> BagPacker::bags_in(std::uint64_t set) const {
  std::vector<int> out;
  for (std::size_t b = 0; b < bags_.size(); ++b) {
    if ((set & bit(b)) != 0) out.push_back(static_cast<int>(b));
  }
  return out;
}

std::vector<BagProblem> BagPacker::why_not(std::span<const int> things) const {
  using Why = BagProblem::Why;
  std::vector<BagProblem> out;
  if (possible(things)) return out;
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
  const std::uint64_t all = bags_.size() == 64 ? ~std::uint64_t{0} : bit(bags_.size()) - 1;
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
  std::int64_t liquid_ul = 0;
  for (const int i : things) {
    const bool cabin_only = std::none_of(bags_.begin(), bags_.end(), [&](const kit::Bag& bag) {
      return bag.hold && (load_of(i).may & bit(static_cast<std::size_t>(&bag - bags_.data()))) != 0;
    });
    if (cabin_only) liquid_ul += load_of(i).liquid_ul;
  }
  if (liquid_ul > cabin_liquid_ul_) {
    out.push_back({Why::liquids,
                   {},
                   {},
                   static_cast<double>(liquid_ul) / 1000,
                   static_cast<double>(cabin_liquid_ul_) / 1000});
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
    if (!possible(rest)) continue;
    sharing.without = without;
    break;
  }
  out.push_back(std::move(sharing));
  return out;
}

std::optional<BagPlan> pack_bags(const kit::Trip& trip, const Inventory& inventory,
                                 std::span<const int> things) {
  return BagPacker(trip, inventory).plan(things);
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
  const bool ask_bags = !packer->possible(all);
  const bool ask_count = !count->problems(all).empty();
  if (!ask_bags && !ask_count) return {};
  return [packer, count, ask_bags, ask_count](std::span<const int> things) {
    return (!ask_count || count->problems(things).empty()) && (!ask_bags || packer->possible(things));
  };
}

}  // namespace skerry::advice
