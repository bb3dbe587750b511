#include "skerry/advice/advise.hpp"

#include <algorithm>
#include <optional>

#include "advise_parts.hpp"
#include "skerry/core/nth.hpp"
#include "verdict_parts.hpp"
#include "ways.hpp"

namespace skerry::advice {

choose::Problem packing_problem(const kit::Trip& trip, const Inventory& inventory, const kit::Setups& setups,
                                const ReachModel& model) {
  choose::Problem out;
  out.limit_g = trip.mass_limit_g;
  for (const auto& thing : inventory.things)
    out.items.push_back({thing.id, thing.mass_g, thing.always, thing.excluded});
  lay_out_ways(out, trip, inventory, setups, model, weights_of(trip, model));
  out.feasible = feasible_in_bags(trip, inventory);
  return out;
}

namespace {

/// The lightest kit that is nearly as good, if that saves something worth carrying less for.
///   Judgement: a hundredth of the reach is within the method's own error; 200 g and a tenth of the mass are
///   felt.
std::optional<choose::Choice> nearly_as_good(const Advice& advice) {
  for (const auto& kit : advice.frontier.kits) {  // by rising mass
    if (kit.reach >= advice.kit.reach - 0.01 && kit.mass_g <= advice.kit.mass_g - 200 &&
        kit.mass_g <= 0.9 * advice.kit.mass_g)
      return kit;
  }
  return std::nullopt;
}

std::optional<BatteryLimit> battery_limit(const Advice& advice, const kit::Trip& trip) {
  const BatteryPlan* best = nullptr;
  for (const auto& plan : advice.power) {
    if (best == nullptr || plan.share > best->share) best = &plan;
  }
  if (best == nullptr || best->batteries.empty() || best->share >= 0.995) return std::nullopt;
  BatteryLimit out;
  out.share = best->share;
  for (const auto& set : nth(advice.inventory.power, best->rig.value()).sets) {
    if (set.share > (out.longer ? out.longer->share : best->share) + 1e-9) out.longer = set;
  }
  if (!out.longer) out.share_of_twice = share_of_hours(trip, 2 * best->lasts_hours);
  return out;
}

void find_outcome(Advice& advice, const kit::Trip& trip) {
  const auto& kit = advice.kit;
  for (std::size_t i = 0; i < advice.inventory.things.size(); ++i) {
    const auto& thing = advice.inventory.things[i];
    if (thing.always && thing.excluded) advice.barred.push_back(static_cast<int>(i));
  }
  if (!advice.barred.empty()) {
    advice.outcome = Outcome::always_cannot_come;
  } else if (kit.over_limit) {
    advice.outcome = kit.mass_g <= advice.limit_g ? Outcome::always_fits_no_bag : Outcome::always_too_heavy;
  } else if (advice.cells.empty()) {
    advice.outcome = Outcome::nothing_to_reach;
  } else if (advice.setups.possible.empty()) {
    advice.outcome = Outcome::no_setup;
  } else if (kit.reach <= 0) {
    find_why_nothing_works(advice, trip);
  } else {
    advice.battery_limit = battery_limit(advice, trip);
    advice.lighter = nearly_as_good(advice);
  }
}

}  // namespace

bool proved(const Advice& advice) {
  return advice.kit.proved && advice.packed == Packed::placed && advice.barred.empty();
}

Advice advise(const kit::Trip& trip, const AdviceOptions& options) {
  Advice out;
  out.limit_g = trip.mass_limit_g;
  out.setups = kit::derive_setups(trip);
  out.inventory = take_inventory(trip);
  out.book = pattern_book(trip, out.setups.possible);
  offer_tuners(trip, out.setups, out.book);
  const ReachModel model(trip, out.setups.possible, out.book);
  out.cells = model.cells();
  out.problem = packing_problem(trip, out.inventory, out.setups, model);
  out.kit = choose::best(out.problem, bounded(options.stop, most_asked));
  auto single = choose::best_single(out.problem);
  out.single = std::move(single.kit);
  if (single.bundle) out.single_setup.emplace(nth(out.problem.bundles, *single.bundle).origin);
  out.shares = shares_in(out.problem, out.setups.possible.size(), out.kit.items);
  const auto in_kit = working(out.shares);
  out.reach = Worth(model, out.shares, false).of(in_kit);
  out.reach_with_people = Worth(model, out.shares, true).of(in_kit);
  out.people_counted = trip.listeners.count;
  plan_power(out, trip);

  std::vector<int> everything;
  double everything_g = 0;
  for (std::size_t i = 0; i < out.inventory.things.size(); ++i) {
    if (out.inventory.things[i].excluded) continue;
    everything.push_back(static_cast<int>(i));
    everything_g += out.inventory.things[i].mass_g;
  }
  out.reach_of_everything = choose::reach_of(out.problem, everything);
  out.full_kit_fits =
      everything_g <= trip.mass_limit_g && (!out.problem.feasible || out.problem.feasible(everything));
  if (auto plan = pack_bags(trip, out.inventory, out.kit.items)) {
    out.bags = std::move(plan->bags);
    out.packed = plan->packed;
  }
  if (options.variants)
    out.variants = variants(trip, out.setups, model, out.kit, bounded(options.stop, most_asked));

  out.unfit = bands_that_cannot_be(out.setups, out.book);
  if (options.remedies && !ended(options)) out.remedies = remedies_of(trip, out.setups, out.book);
  judge_items(out, options);
  describe_uses(out, trip, model, options);
  look_at_practice(out, trip, model);
  pair_bands(out, trip, model);
  plan_days(out, trip);
  add_cautions(out, trip, model);
  if (options.frontier) trace_frontier(out, options);
  weigh_firmness(out, trip, model, options);
  find_outcome(out, trip);
  return out;
}

}  // namespace skerry::advice
