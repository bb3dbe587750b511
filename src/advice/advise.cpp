#include "skerry/advice/advise.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "advise_parts.hpp"

namespace skerry::advice {

std::string percent(double share) {
  const double p = 100 * share;
  if (p > 1e-9 && p < 1) return "under 1 %";
  return fmt::format("{:.0f} %", p);
}

std::string grams(double mass_g) {
  return mass_g < 1000 ? fmt::format("{:.0f} g", mass_g) : fmt::format("{:.2f} kg", mass_g / 1000);
}

std::vector<int> working_setups(const Problem& problem, const std::vector<int>& kit) {
  std::vector<int> out;
  for (std::size_t s = 0; s < problem.setups.size(); ++s) {
    const auto& setup = problem.setups[s];
    const bool works = std::all_of(setup.items.begin(), setup.items.end(),
                                   [&](int i) { return std::binary_search(kit.begin(), kit.end(), i); });
    if (works) out.push_back(static_cast<int>(s));
  }
  return out;
}

Problem packing_problem(const kit::Trip& trip, const Inventory& inventory, const kit::Setups& setups,
                        const ReachModel& model) {
  Problem out;
  out.limit_g = trip.mass_limit_g;
  for (const auto& thing : inventory.things)
    out.items.push_back({thing.id, thing.mass_g, thing.always, thing.excluded});
  for (const auto& cell : model.cells()) out.weights.push_back(cell.weight);
  for (std::size_t s = 0; s < setups.possible.size(); ++s) {
    const auto& setup = setups.possible[s];
    ChoiceSetup choice;
    choice.cells = model.setups()[s].served;
    const auto& power = inventory.power[static_cast<std::size_t>(setup.rig)];
    if (!power.possible) choice.cells = CellSet(out.weights.size());
    for (const auto& id : setup.needs) {
      // Things found at the site are not in the inventory and weigh nothing.
      if (const auto where = inventory.by_id.find(id); where != inventory.by_id.end())
        choice.items.push_back(where->second);
    }
    for (const int b : power.batteries) {
      choice.items.push_back(inventory.by_id.at(trip.batteries[static_cast<std::size_t>(b)].item.id));
    }
    std::sort(choice.items.begin(), choice.items.end());
    choice.items.erase(std::unique(choice.items.begin(), choice.items.end()), choice.items.end());
    out.setups.push_back(std::move(choice));
  }
  // Only where all packs together would break a rule on numbers does each kit have to be asked.
  std::vector<int> pack_of(inventory.things.size(), -1);
  std::vector<kit::Battery> all;
  for (std::size_t i = 0; i < inventory.things.size(); ++i) {
    const auto& thing = inventory.things[i];
    if (thing.kind != ThingKind::battery || thing.excluded) continue;
    pack_of[i] = thing.index;
    all.push_back(trip.batteries[static_cast<std::size_t>(thing.index)]);
  }
  if (!kit::count_problems(all, trip.people).empty()) {
    out.feasible = [pack_of, packs = trip.batteries, people = trip.people](std::span<const int> items) {
      std::vector<kit::Battery> carried;
      for (const int i : items) {
        const int pack = pack_of[static_cast<std::size_t>(i)];
        if (pack >= 0) carried.push_back(packs[static_cast<std::size_t>(pack)]);
      }
      return kit::count_problems(carried, people).empty();
    };
  }
  return out;
}

namespace {

void list_impossible(Advice& advice, const kit::Trip& trip) {
  for (const auto& i : advice.setups.impossible) advice.impossible.push_back({i.setup, i.why});
  for (const auto& thing : advice.inventory.things) {
    if (thing.excluded) advice.impossible.push_back({thing.name, thing.why_excluded});
  }
  for (const auto& power : advice.inventory.power) {
    if (!power.possible) {
      advice.impossible.push_back({trip.rigs[static_cast<std::size_t>(power.rig)].item.name, power.why});
    }
  }
}

std::string verdict_text(const Advice& advice) {
  const auto& kit = advice.kit;
  if (kit.over_limit) {
    return fmt::format("What always goes weighs {} already: more than the limit of {}. Nothing else fits.",
                       grams(kit.mass_g), grams(advice.limit_g));
  }
  if (advice.cells.empty()) return "No session and region to reach: nothing to decide.";
  if (advice.setups.possible.empty())
    return "Nothing in this inventory can be put on the air: see the reasons below.";
  if (kit.reach <= 0) {
    return fmt::format("No kit within {} works any of the wanted regions at the wanted confidence.",
                       grams(advice.limit_g));
  }
  std::string text = fmt::format("Carry {} of {} allowed: {} of the wanted region-hours work both ways",
                                 grams(kit.mass_g), grams(advice.limit_g), percent(kit.reach));
  if (advice.reach_of_everything - kit.reach < 0.005) {
    text += ", as much as the whole inventory would give.";
  } else {
    text += fmt::format("; the whole inventory would give {}.", percent(advice.reach_of_everything));
  }
  if (kit.proved) {
    text += " Proved: no kit within the limit reaches more.";
  } else {
    text += fmt::format(" Best found; at most {} is possible within the limit.", percent(kit.bound));
  }
  return text;
}

}  // namespace

Advice advise(const kit::Trip& trip, const AdviceOptions& options) {
  Advice out;
  out.limit_g = trip.mass_limit_g;
  out.activity_source = trip.activity_source;
  out.setups = kit::derive_setups(trip);
  out.inventory = take_inventory(trip);
  out.book = pattern_book(trip, out.setups.possible);
  const ReachModel model(trip, out.setups.possible, out.book);
  out.cells = model.cells();
  out.problem = packing_problem(trip, out.inventory, out.setups, model);
  out.kit = choose(out.problem, options.stop);
  out.single = best_single_setup(out.problem);

  std::vector<int> everything;
  double everything_g = 0;
  for (std::size_t i = 0; i < out.inventory.things.size(); ++i) {
    if (out.inventory.things[i].excluded) continue;
    everything.push_back(static_cast<int>(i));
    everything_g += out.inventory.things[i].mass_g;
  }
  out.reach_of_everything = reach_of(out.problem, everything);
  out.full_kit_fits = everything_g <= trip.mass_limit_g;

  list_impossible(out, trip);
  judge_items(out, options);
  describe_uses(out, trip, model, options);
  plan_days(out, trip);
  add_cautions(out, trip, model);
  weigh_firmness(out, trip, model, options);
  out.verdict = verdict_text(out);
  return out;
}

}  // namespace skerry::advice
