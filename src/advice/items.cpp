#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "advise_parts.hpp"
#include "skerry/core/parallel.hpp"

namespace skerry::advice {

namespace {

/// Below this a difference of reach is called none. Judgement: a tenth of the last digit shown.
constexpr double nothing = 0.0005;

bool holds(const std::vector<int>& sorted, int item) {
  return std::binary_search(sorted.begin(), sorted.end(), item);
}

std::string names_of(const Inventory& inventory, const std::vector<int>& things) {
  std::vector<std::string> names;
  names.reserve(things.size());
  for (const int t : things) names.push_back(inventory.things[static_cast<std::size_t>(t)].name);
  return fmt::format("{}", fmt::join(names, ", "));
}

/// The plan that uses a pack, of a rig in the kit.
const BatteryPlan* plan_of_pack(const Advice& advice, int thing) {
  const int pack = advice.inventory.things[static_cast<std::size_t>(thing)].index;
  for (const auto& plan : advice.power) {
    if (std::find(plan.batteries.begin(), plan.batteries.end(), pack) != plan.batteries.end()) return &plan;
  }
  return nullptr;
}

void judge_carried(const Advice& advice, const AdviceOptions& options, ItemAdvice& out) {
  const auto& thing = advice.inventory.things[static_cast<std::size_t>(out.thing)];
  out.added_g = thing.mass_g;
  std::vector<int> rest = advice.kit.items;
  std::erase(rest, out.thing);
  out.as_it_stands = advice.kit.reach - choose::reach_of(advice.problem, rest);
  choose::Stop stop;
  stop.max_nodes = options.nodes_per_question;
  const choose::Change change = choose::loss_of_dropping(advice.problem, advice.kit, out.thing, stop);
  out.exact = change.kit.proved;
  out.reach = change.reach;
  for (const int i : change.kit.items) {
    if (!holds(advice.kit.items, i)) out.instead.push_back(i);
  }
  if (thing.mass_g > 0) out.reach_per_kg = out.reach / (thing.mass_g / 1000);

  if (thing.always) {
    out.reason = "always goes, as the trip file says";
    if (out.reach > nothing) out.reason += fmt::format("; {} of reach hangs on it", percent(out.reach));
    return;
  }
  const double lighter_g = advice.kit.mass_g - change.kit.mass_g;
  const std::string others =
      out.instead.empty() ? "" : fmt::format(" (with {})", names_of(advice.inventory, out.instead));
  if (out.reach >= 0.01) {
    out.reason = fmt::format("without it the best kit reaches {} instead of {}{}", percent(change.kit.reach),
                             percent(advice.kit.reach), others);
  } else if (out.reach > 0) {
    out.reason = fmt::format("without it the best kit reaches less, though by under 1 %, and weighs {} {}{}",
                             grams(std::abs(lighter_g)), lighter_g < 0 ? "more" : "less", others);
  } else if (lighter_g < 0) {
    out.reason = fmt::format("the same reach without it weighs {} more{}", grams(-lighter_g), others);
  } else {
    out.reason = fmt::format("another kit is as good and as heavy{}", others);
  }
  if (!out.exact) out.reason += " (not proved)";
  if (thing.kind == ThingKind::battery) {
    if (const auto* plan = plan_of_pack(advice, out.thing)) out.reason += "; " + plan->why;
  }
}

void judge_left(const Advice& advice, const AdviceOptions& options, ItemAdvice& out) {
  const auto& thing = advice.inventory.things[static_cast<std::size_t>(out.thing)];
  if (thing.excluded) {
    out.reason = "cannot come: " + thing.why_excluded;
    return;
  }
  bool used = false;
  std::vector<int> group = never_without(advice.problem, out.thing, used);
  if (!used) {
    out.reason = thing.kind == ThingKind::battery ? "no rig's plan uses it: see the battery lines"
                 : thing.kind == ThingKind::item  ? "nothing on the air needs it"
                                                  : "no setup with it serves any wanted region and hour";
    return;
  }
  choose::Stop stop;
  stop.max_nodes = options.nodes_per_question;
  const choose::Change change = choose::gain_of_adding(advice.problem, advice.kit, group, stop);
  out.exact = change.kit.proved;
  out.reach = change.reach;
  out.added_g = change.added_g;
  for (const int i : group) {
    if (i != out.thing && !holds(advice.kit.items, i)) out.with.push_back(i);
  }
  if (out.added_g > 0) out.reach_per_kg = out.reach / (out.added_g / 1000);
  const std::string company =
      out.with.empty() ? "" : fmt::format(", with {}", names_of(advice.inventory, out.with));
  if (out.reach > nothing) {
    out.reason =
        fmt::format("would add {} if {} more could go{}", percent(out.reach), grams(out.added_g), company);
    if (out.reach_per_kg) out.reason += fmt::format(": {} per kg", percent(*out.reach_per_kg));
  } else {
    out.reason = fmt::format("would add nothing for its {}{}", grams(out.added_g), company);
  }
  if (!out.exact) out.reason += " (not proved)";
}

}  // namespace

std::vector<int> never_without(const choose::Problem& problem, int item, bool& used) {
  std::vector<int> common;
  used = false;
  for (const auto& setup : problem.bundles) {
    const auto words = setup.cells.words();
    const bool serves = std::any_of(words.begin(), words.end(), [](std::uint64_t w) { return w != 0; });
    if (!serves || std::find(setup.items.begin(), setup.items.end(), item) == setup.items.end()) continue;
    std::vector<int> things = setup.items;
    std::sort(things.begin(), things.end());
    const bool possible = std::none_of(things.begin(), things.end(), [&](int i) {
      return problem.items[static_cast<std::size_t>(i)].excluded;
    });
    if (!possible) continue;
    if (!used) {
      common = things;
    } else {
      std::erase_if(common, [&](int i) { return !holds(things, i); });
    }
    used = true;
  }
  return common;
}

void judge_items(Advice& advice, const AdviceOptions& options) {
  advice.items.resize(advice.inventory.things.size());
  parallel_for(advice.items.size(), 1, [&](std::size_t begin, std::size_t end) {
    for (std::size_t i = begin; i < end; ++i) {
      auto& item = advice.items[i];
      item.thing = static_cast<int>(i);
      item.carry = holds(advice.kit.items, item.thing);
      if (item.carry) {
        judge_carried(advice, options, item);
      } else {
        judge_left(advice, options, item);
      }
    }
  });
}

}  // namespace skerry::advice
