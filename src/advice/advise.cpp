#include "skerry/advice/advise.hpp"

#include <algorithm>
#include <optional>

#include "advise_parts.hpp"
#include "skerry/advice/prepared.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/parallel.hpp"
#include "verdict_parts.hpp"
#include "ways.hpp"

namespace skerry::advice {

namespace {

/// Judgement: packs that last for so much of the hours are no limit worth a sentence.
constexpr double fed_well = 0.95;

std::optional<BatteryLimit> battery_limit(const Advice& advice, const kit::Trip& trip) {
  const BatteryPlan* best = nullptr;
  for (const auto& plan : advice.power) {
    if (best == nullptr || plan.share > best->share) best = &plan;
  }
  if (best == nullptr || best->batteries.empty() || best->share >= fed_well) return std::nullopt;
  BatteryLimit out;
  out.share = best->share;
  const auto& all = nth(advice.inventory.power, best->rig.value());
  if (all.share > best->share + 1e-9) out.all = all;
  if (!out.all) out.share_of_twice = share_of_hours(trip, 2 * best->lasts_hours, best->sun_hours);
  return out;
}

/// Judgement: a change that brings less than this is no remedy.
constexpr double worth_mending = 0.02;

}  // namespace

bool proved(const Advice& advice) {
  return advice.kit.proved && advice.packed == Packed::placed && advice.barred.empty();
}

void find_single(Advice& advice, const choose::Solver& solver, const Worth& worth,
                 const AdviceOptions& options) {
  std::vector<int> antennas;
  for (std::size_t i = 0; i < advice.inventory.things.size(); ++i) {
    if (advice.inventory.things[i].kind == ThingKind::antenna) antennas.push_back(static_cast<int>(i));
  }
  for (const int only : antennas) {
    auto others = antennas;
    std::erase(others, only);
    auto kit = solver.best({.without = std::move(others)}, aside(options, antennas.size()));
    if (kit.over_limit || kit.reach <= advice.single.reach) continue;
    advice.single = std::move(kit);
  }
  double most = 0;
  const auto worked = solver.account(advice.single.items).hours;
  for (const auto& way : advice.problem.ways) {
    if (nth(worked, way.engine) <= 0 || !std::includes(advice.single.items.begin(), advice.single.items.end(),
                                                       way.items.begin(), way.items.end()))
      continue;
    const double alone =
        worth.weigh({nth(advice.problem.rows, way.row).begin(), nth(advice.problem.rows, way.row).end()});
    if (alone <= most) continue;
    most = alone;
    advice.single_setup.emplace(way.origin);
  }
}

void find_remedies(Advice& advice, const kit::Trip& trip, const AdviceOptions& options) {
  auto found = remedies_of(trip, advice.setups, advice.book);
  parallel_for(found.size(), 1, [&](std::size_t begin, std::size_t end) {
    for (std::size_t k = begin; k < end; ++k) {
      if (ended(options)) return;
      const auto other = changed(trip, found[k]);
      auto setups = kit::derive_setups(other);
      auto book = pattern_book(other, setups.possible, &advice.book);
      offer_tuners(other, setups, book);
      const auto inventory = take_inventory(other);
      feed_setups(other, inventory, setups, book);
      const ReachModel model(other, setups.possible, book);
      const auto problem = packing_problem(other, inventory, setups, model);
      const auto best = choose::Solver(problem).best({}, aside(options, found.size()));
      found[k].reach = Remedy::Reach{advice.optimum.reach, best.reach};
    }
  });
  std::erase_if(found,
                [](const Remedy& r) { return !r.reach || r.reach->then < r.reach->now + worth_mending; });
  std::stable_sort(found.begin(), found.end(),
                   [](const Remedy& a, const Remedy& b) { return a.reach->then > b.reach->then; });
  advice.remedies = std::move(found);
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
  }
}

Advice advise(const kit::Trip& trip, const AdviceOptions& options) {
  Prepared prepared(trip);
  auto out = prepared.decide({}, options);
  prepared.complete(out, options);
  return out;
}

}  // namespace skerry::advice
