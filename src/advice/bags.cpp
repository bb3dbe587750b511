#include "skerry/advice/bags.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <map>

#include "bag_room.hpp"
#include "skerry/choose/choose.hpp"
#include "skerry/choose/share_out.hpp"
#include "skerry/core/nth.hpp"

namespace skerry::advice {

namespace {

constexpr double mm3_per_cm3 = 1000;
constexpr double mm3_per_litre = 1e6;
/// Judgement: what is not settled after so many steps is not worth more of a wish.
constexpr std::uint64_t nodes_for_a_wish = 2000;

constexpr std::uint64_t bit(std::size_t b) {
  return std::uint64_t{1} << b;
}
constexpr bool in(std::uint64_t set, int b) {
  return ((set >> b) & 1U) != 0;
}

/// In a trip, constant or not.
template <class Trip>
auto& item_in(Trip& trip, const Thing& thing) {
  switch (thing.kind) {
    case ThingKind::rig:
      return nth(trip.rigs, thing.index).item;
    case ThingKind::antenna:
      return nth(trip.antennas, thing.index).item;
    case ThingKind::support:
      return nth(trip.supports, thing.index).item;
    case ThingKind::cable:
      return nth(trip.cables, thing.index).item;
    case ThingKind::tuner:
      return nth(trip.tuners, thing.index).item;
    case ThingKind::battery:
      return nth(trip.batteries, thing.index).item;
    case ThingKind::item:
      break;
  }
  return nth(trip.items, thing.index);
}

}  // namespace

const kit::Item& item_of(const kit::Trip& trip, const Thing& thing) {
  return item_in(trip, thing);
}

kit::Item& item_of(kit::Trip& trip, const Thing& thing) {
  return item_in(trip, thing);
}

/// What choose::share_out is asked.
struct BagPacker::Question {
  std::vector<choose::Bin> bins;
  std::vector<choose::Parcel> parcels;
  std::vector<choose::Quota> quotas;
  [[nodiscard]] choose::Shared ask(std::vector<int>& where, std::uint64_t most = most_nodes) const {
    return choose::share_out(bins, parcels, quotas, most, where);
  }
};

BagPacker::BagPacker(const kit::Trip& trip, const Inventory& inventory) : bags_(trip.bags) {
  assert(bags_.size() <= 64);
  std::uint64_t cabin = 0;
  for (std::size_t b = 0; b < bags_.size(); ++b) {
    const auto& bag = bags_[b];
    room_mg_.push_back(choose::whole_mg(bag.mass_limit_g) - choose::whole_mg(bag.own_mass_g));
    const auto sides = kit::clear_sides_cm(bag);
    const double cm3 = sides ? (*sides)[0] * (*sides)[1] * (*sides)[2] : 0;
    room_mm3_.push_back(static_cast<std::int64_t>(std::ceil(cm3 * mm3_per_cm3 - 1e-6)));
    usual_mm3_.push_back(std::llround(usable_share_of_bag * cm3 * mm3_per_cm3));
    if (!bag.hold) cabin |= bit(b);
  }
  for (const auto& thing : inventory.things) {
    Load load;
    load.item = item_of(trip, thing);
    load.mg = choose::whole_mg(load.item.mass_g);
    load.mm3 = static_cast<std::int64_t>(std::floor(volume_cm3(load.item) * mm3_per_cm3 + 1e-6));
    load.box_mm3 = std::llround(box_volume_cm3(load.item) * mm3_per_cm3);
    for (std::size_t b = 0; b < bags_.size(); ++b) {
      const bool wrong = thing.air.place == kit::Place::forbidden ||
                         (thing.air.place == kit::Place::cabin_only && bags_[b].hold) ||
                         (thing.air.place == kit::Place::hold_only && !bags_[b].hold);
      if (!wrong && kit::fits(load.item, bags_[b])) load.may |= bit(b);
    }
    // What fits alone may fill its bag to the last corner.
    for (std::size_t b = 0; b < bags_.size(); ++b) {
      if ((load.may & bit(b)) == 0) continue;
      load.mm3 = std::min(load.mm3, room_mm3_[b]);
      load.box_mm3 = std::min(load.box_mm3, usual_mm3_[b]);
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
  add_limits(trip, inventory);
}

std::vector<int> BagPacker::bags_for(int thing) const {
  std::vector<int> out;
  for (std::size_t b = 0; b < bags_.size(); ++b) {
    const auto& load = nth(loads_, thing);
    if ((load.may & bit(b)) != 0 && load.mg <= room_mg_[b]) out.push_back(static_cast<int>(b));
  }
  return out;
}

BagPacker::Question BagPacker::question(std::span<const int> things, bool usual) const {
  Question out;
  for (std::size_t b = 0; b < bags_.size(); ++b)
    out.bins.push_back({room_mg_[b], usual ? usual_mm3_[b] : room_mm3_[b]});
  for (const int i : things) {
    const auto& load = nth(loads_, i);
    out.parcels.push_back({load.mg, usual ? load.box_mm3 : load.mm3, load.may});
  }
  for (const auto& limit : limits_) {
    std::int64_t all = 0;
    for (const int i : things) all += nth(limit.amounts, i);
    if (all <= limit.most) continue;
    auto& quota = out.quotas.emplace_back(choose::Quota{limit.bins, limit.most, {}});
    for (const int i : things) quota.amounts.push_back(nth(limit.amounts, i));
  }
  return out;
}

choose::Shared BagPacker::shared(std::span<const int> things) const {
  std::vector<int> where;
  return question(things, false).ask(where);
}

bool BagPacker::possible(std::span<const int> things) const {
  return no_bags() || shared(things) != choose::Shared::no;
}

namespace {

/// Moves things between different people's bags of the same kind (cabin or hold) as long as that evens out
/// what each carries; no limit, wish or quota is touched. Bags of nobody in particular stay as they are.
void level_by_person(const std::vector<kit::Bag>& bags, std::vector<choose::Bin> room,
                     const std::vector<choose::Parcel>& parcels, std::vector<choose::Quota> quotas,
                     std::vector<int>& where) {
  std::map<std::string, std::int64_t> carried;
  std::vector<std::size_t> order(parcels.size());
  const auto put = [&](std::size_t k, std::size_t b, int sign) {
    room[b].mg -= sign * parcels[k].mg;
    room[b].mm3 -= sign * parcels[k].mm3;
    for (auto& q : quotas) {
      if ((q.bins & bit(b)) != 0) q.most -= sign * q.amounts[k];
    }
    carried[bags[b].person] += sign * parcels[k].mg;
  };
  for (std::size_t k = 0; k < parcels.size(); ++k) {
    order[k] = k;
    put(k, static_cast<std::size_t>(where[k]), 1);
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
        const bool over = std::any_of(quotas.begin(), quotas.end(), [&](const choose::Quota& q) {
          return (q.bins & bit(b)) != 0 && (q.bins & bit(from)) == 0 && q.amounts[k] > q.most;
        });
        if (over) continue;
        if (best == from || carried[bags[b].person] < carried[bags[best].person]) best = b;
      }
      if (best == from || p.mg <= 0) continue;
      put(k, from, -1);
      put(k, best, 1);
      where[k] = static_cast<int>(best);
      moved = true;
    }
  }
}

}  // namespace

/// One wish after the other, the heaviest first, each kept when it can be met together with those before.
void BagPacker::settle(Question& question, std::span<const int> things, std::vector<int>& where) const {
  auto& parcels = question.parcels;
  std::vector<std::size_t> wishes;
  for (std::size_t k = 0; k < parcels.size(); ++k) {
    const auto better = nth(loads_, things[k]).better & parcels[k].may;
    if (better != 0 && better != parcels[k].may) wishes.push_back(k);
  }
  std::stable_sort(wishes.begin(), wishes.end(),
                   [&](std::size_t a, std::size_t b) { return parcels[a].mg > parcels[b].mg; });
  for (const std::size_t k : wishes) {
    const auto before = parcels[k].may;
    parcels[k].may = before & nth(loads_, things[k]).better;
    // As it stands it may be met already.
    if (in(parcels[k].may, where[k])) continue;
    std::vector<int> other;
    if (question.ask(other, nodes_for_a_wish) == choose::Shared::yes) {
      where = std::move(other);
    } else {
      parcels[k].may = before;
    }
  }
  level_by_person(bags_, question.bins, parcels, question.quotas, where);
}

BagPlan BagPacker::loads(std::span<const int> things, const std::vector<int>& where) const {
  BagPlan out;
  for (std::size_t b = 0; b < bags_.size(); ++b) {
    BagLoad load;
    load.bag = static_cast<int>(b);
    load.limit_g = bags_[b].mass_limit_g;
    load.usable_l = static_cast<double>(usual_mm3_[b]) / mm3_per_litre;
    std::int64_t mg = 0;
    std::int64_t mm3 = 0;
    std::vector<const kit::Item*> items;
    for (std::size_t k = 0; k < things.size(); ++k) {
      if (where[k] != static_cast<int>(b)) continue;
      const auto& thing = nth(loads_, things[k]);
      load.things.push_back(things[k]);
      items.push_back(&thing.item);
      mg += thing.mg;
      mm3 += thing.box_mm3;
      if (!thing.item.tube_cm) continue;
      const auto lie = kit::lie_of_tube(*thing.item.tube_cm, bags_[b]);
      if (lie == kit::Lie::along_a_side) continue;
      load.aslant.push_back({things[k], lie});
    }
    load.mass_g = static_cast<double>(mg + choose::whole_mg(bags_[b].own_mass_g)) / 1000;
    load.volume_l = static_cast<double>(mm3) / mm3_per_litre;
    if (auto places = place_in(bags_[b], items)) {
      load.places = std::move(*places);
      for (auto& place : load.places) place.thing = nth(load.things, place.thing);
    } else {
      load.packed = out.packed = Packed::try_at_home;
    }
    out.bags.push_back(std::move(load));
  }
  return out;
}

std::optional<BagPlan> BagPacker::plan(std::span<const int> things) const {
  if (no_bags()) return BagPlan{};
  std::vector<int> sorted(things.begin(), things.end());
  std::sort(sorted.begin(), sorted.end());
  std::vector<int> where;
  // Not filled to the last corner where that can be.
  Question asked = question(sorted, true);
  auto answer = asked.ask(where);
  if (answer != choose::Shared::yes) {
    asked = question(sorted, false);
    answer = asked.ask(where);
  }
  if (answer == choose::Shared::no) return std::nullopt;
  if (answer == choose::Shared::given_up) return BagPlan{{}, Packed::not_found};
  Question less = asked;
  settle(asked, sorted, where);
  BagPlan best = loads(sorted, where);
  const auto open = [](const BagPlan& plan) {
    return std::count_if(plan.bags.begin(), plan.bags.end(),
                         [](const BagLoad& load) { return load.packed != Packed::placed; });
  };
  // A bag that is not known to hold its things gets less: at least the smallest thing of told size goes out.
  constexpr int most_tries = 8;
  BagPlan now = best;
  for (int n = 0; n < most_tries && best.packed != Packed::placed; ++n) {
    for (const auto& load : now.bags) {
      if (load.packed == Packed::placed) continue;
      std::int64_t all = 0, smallest = 0;
      for (const int thing : load.things) {
        const auto k = std::lower_bound(sorted.begin(), sorted.end(), thing) - sorted.begin();
        const std::int64_t mm3 = nth(less.parcels, k).mm3;
        const auto& item = nth(loads_, thing).item;
        all += mm3;
        if ((item.size_cm || item.tube_cm) && (smallest == 0 || mm3 < smallest)) smallest = mm3;
      }
      nth(less.bins, load.bag).mm3 = all - std::max<std::int64_t>(smallest, 1);
    }
    if (less.ask(where, nodes_for_a_wish) != choose::Shared::yes) break;
    Question wished = less;
    settle(wished, sorted, where);
    now = loads(sorted, where);
    if (open(now) < open(best)) best = now;
  }
  return best;
}

std::uint64_t BagPacker::all_bags() const {
  return bags_.size() == 64 ? ~std::uint64_t{0} : bit(bags_.size()) - 1;
}

std::vector<int> BagPacker::bags_in(std::uint64_t set) const {
  std::vector<int> out;
  for (std::size_t b = 0; b < bags_.size(); ++b) {
    if ((set & bit(b)) != 0) out.push_back(static_cast<int>(b));
  }
  return out;
}

std::optional<BagPlan> pack_bags(const kit::Trip& trip, const Inventory& inventory,
                                 std::span<const int> things) {
  return BagPacker(trip, inventory).plan(things);
}

}  // namespace skerry::advice
