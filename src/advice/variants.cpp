// The best kits under further wishes: cabin bags only, nothing to argue about.
#include <algorithm>

#include "advise_parts.hpp"
#include "skerry/core/nth.hpp"
#include "ways.hpp"

namespace skerry::advice {

kit::Trip restricted(const kit::Trip& trip, Restriction restriction) {
  kit::Trip out = trip;
  if (restriction == Restriction::cabin_only) {
    std::erase_if(out.bags, [](const kit::Bag& bag) { return bag.hold; });
    return out;
  }
  // Held to the hold as a club would be: nobody argues about it there.
  const auto hold = [](kit::Item& item) { item.blunt = item.blunt || kit::judge(item).arguable; };
  for (auto& r : out.rigs) hold(r.item);
  for (auto& a : out.antennas) hold(a.item);
  for (auto& s : out.supports) {
    if (!s.at_site) hold(s.item);
  }
  for (auto& c : out.cables) hold(c.item);
  for (auto& t : out.tuners) hold(t.item);
  for (auto& i : out.items) hold(i);
  // Kept at home as a damaged one would be.
  for (auto& b : out.batteries) {
    const auto verdict = kit::judge(b);
    b.damaged = b.damaged || verdict.arguable || verdict.approval;
  }
  return out;
}

std::vector<Variant> variants(const Advice& advice, const kit::Trip& trip, const choose::Stop& stop) {
  std::vector<Variant> out;
  if (trip.bags.empty()) return out;
  const auto& chosen = advice.kit;
  const auto add = [&](Restriction restriction) {
    const kit::Trip other = restricted(trip, restriction);
    if (other.bags.empty()) return;  // nothing but bags for the hold
    const Inventory inventory = take_inventory(other);
    Variant v;
    v.restriction = restriction;
    auto problem = advice.problem;
    lay_out_things(problem, other, inventory, advice.setups);
    problem.feasible = feasible_in_bags(other, inventory);
    v.kit = choose::Solver(problem).best({}, stop);
    if (auto plan = pack_bags(other, inventory, v.kit.items)) {
      v.bags = std::move(plan->bags);
      // Bags are named by their place in the whole trip.
      for (auto& load : v.bags) {
        const auto& id = nth(other.bags, load.bag).id;
        const auto where =
            std::find_if(trip.bags.begin(), trip.bags.end(), [&](const kit::Bag& b) { return b.id == id; });
        load.bag = static_cast<int>(where - trip.bags.begin());
      }
    }
    std::set_difference(chosen.items.begin(), chosen.items.end(), v.kit.items.begin(), v.kit.items.end(),
                        std::back_inserter(v.dropped));
    out.push_back(std::move(v));
  };
  const auto in_hold = [](const kit::Bag& bag) { return bag.hold; };
  if (std::any_of(trip.bags.begin(), trip.bags.end(), in_hold)) add(Restriction::cabin_only);
  add(Restriction::nothing_arguable);
  return out;
}

}  // namespace skerry::advice
