// Why the best kit reaches nothing: mass, bags, power or the sky.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>

#include "advise_parts.hpp"
#include "verdict_parts.hpp"

namespace skerry::advice {

namespace {

struct Candidate {
  std::vector<int> things;  ///< sorted, with what always goes
  double mass_g = 0;
};

bool serves(const choose::Bundle& setup) {
  const auto words = setup.cells.words();
  return std::any_of(words.begin(), words.end(), [](std::uint64_t w) { return w != 0; });
}

bool lighter(const Candidate& a, const std::optional<Candidate>& b) {
  return !b || a.mass_g < b->mass_g;
}

/// "storm guys and pegs (goes in the hold only, and no bag goes there), so the 7 m pole cannot stand"
std::string excluded_text(const kit::Trip& trip, const Thing& thing) {
  std::vector<std::string> stranded;
  for (const auto& support : trip.supports) {
    if (std::find(support.needs.begin(), support.needs.end(), thing.id) != support.needs.end())
      stranded.push_back("the " + support.item.name);
  }
  const bool all = !stranded.empty() && stranded.size() == trip.supports.size();
  return fmt::format("{} ({}){}", thing.name, thing.why_excluded,
                     all                ? ", so no support can stand"
                     : stranded.empty() ? ""
                                        : fmt::format(", so {} cannot stand", fmt::join(stranded, ", ")));
}

std::string names_of(const Advice& advice, const std::vector<int>& things) {
  std::vector<std::string> out;
  out.reserve(things.size());
  for (const int i : things) out.push_back(advice.inventory.things[static_cast<std::size_t>(i)].name);
  return fmt::format("{}", fmt::join(out, ", "));
}

}  // namespace

Reason why_nothing_works(const Advice& advice, const kit::Trip& trip) {
  const auto& problem = advice.problem;
  std::vector<int> always;
  for (std::size_t i = 0; i < problem.items.size(); ++i) {
    if (problem.items[i].always && !problem.items[i].excluded) always.push_back(static_cast<int>(i));
  }
  std::optional<Candidate> lightest, blocked;
  for (const auto& setup : problem.bundles) {
    if (!serves(setup)) continue;
    Candidate one{setup.items, 0};
    one.things.insert(one.things.end(), always.begin(), always.end());
    std::sort(one.things.begin(), one.things.end());
    one.things.erase(std::unique(one.things.begin(), one.things.end()), one.things.end());
    one.mass_g = choose::mass_of(problem, one.things);
    const bool excluded = std::any_of(one.things.begin(), one.things.end(), [&](int i) {
      return problem.items[static_cast<std::size_t>(i)].excluded;
    });
    auto& best = excluded || (problem.feasible && !problem.feasible(one.things)) ? blocked : lightest;
    if (lighter(one, best)) best = std::move(one);
  }
  if (lightest) {
    return {
        fmt::format("No kit within {} works, and the sky is not the reason: the lightest kit that works "
                    "weighs {}, {} "
                    "over the limit, and reaches {} of the wanted region-hours ({}). --mass-limit-kg {:.2f} "
                    "shows it.",
                    grams(advice.limit_g), grams(lightest->mass_g), grams(lightest->mass_g - advice.limit_g),
                    percent(choose::reach_of(problem, lightest->things)), names_of(advice, lightest->things),
                    std::ceil(lightest->mass_g / 10 - 1e-9) / 100),
        "no kit within the limit works"};
  }
  if (blocked) {
    std::vector<std::string> reasons;
    for (const int i : blocked->things) {
      const auto& thing = advice.inventory.things[static_cast<std::size_t>(i)];
      if (thing.excluded) reasons.push_back(excluded_text(trip, thing));
    }
    if (reasons.empty()) reasons = bag_problems(trip, advice.inventory, blocked->things);
    return {fmt::format("Nothing that works can be carried, and the sky is not the reason: it would give {} "
                        "of the wanted "
                        "region-hours to the lightest setup that works. In the way: {}. What could change "
                        "that: another bag, "
                        "or things that do without.",
                        percent(choose::reach_of(problem, blocked->things)), fmt::join(reasons, "; ")),
            "nothing that works can be carried"};
  }
  const auto& power = advice.inventory.power;
  if (!power.empty() && std::none_of(power.begin(), power.end(), [](const auto& p) { return p.possible; }))
    return {"No rig can be powered: " + power.front().why + ".", "no rig can be powered"};
  return {
      "No kit, of any mass, works any of the wanted regions in the hours on the air on as many days as "
      "wanted "
      "(want_days_in_ten). What could change that: fewer days, a mode that needs less signal, other "
      "hours, "
      "nearer regions; 'skerry path' shows how far off each band is.",
      "no kit works under this sky"};
}

}  // namespace skerry::advice
