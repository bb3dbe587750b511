#include <algorithm>

#include "advise_parts.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/parallel.hpp"

namespace skerry::advice {

namespace {

bool holds(const std::vector<int>& sorted, int item) {
  return std::binary_search(sorted.begin(), sorted.end(), item);
}

void judge_carried(const Advice& advice, const AdviceOptions& options, ItemAdvice& out) {
  const auto& thing = nth(advice.inventory.things, out.thing);
  out.added_g = thing.mass_g;
  std::vector<int> rest = advice.kit.items;
  std::erase(rest, out.thing);
  out.as_it_stands = advice.kit.reach - choose::reach_of(advice.problem, rest);
  const auto stop = aside(options, advice.items.size());
  const choose::Change change = choose::loss_of_dropping(advice.problem, advice.kit, out.thing, stop);
  out.exact = change.kit.proved;
  out.reach = change.reach;
  for (const int i : change.kit.items) {
    if (!holds(advice.kit.items, i)) out.instead.push_back(i);
  }
  if (thing.mass_g > 0) out.reach_per_kg = out.reach / (thing.mass_g / 1000);

  out.reach_without = change.kit.reach;
  out.lighter_g = advice.kit.mass_g - change.kit.mass_g;
}

void judge_left(const Advice& advice, const AdviceOptions& options, ItemAdvice& out) {
  const auto& thing = nth(advice.inventory.things, out.thing);
  if (thing.excluded) return;
  std::vector<int> group = never_without(advice.problem, out.thing, out.used);
  if (!out.used) return;
  const auto stop = aside(options, advice.items.size());
  const choose::Change change = choose::gain_of_adding(advice.problem, advice.kit, group, stop);
  out.exact = change.kit.proved;
  out.reach = change.reach;
  out.added_g = change.added_g;
  for (const int i : group) {
    if (i != out.thing && !holds(advice.kit.items, i)) out.with.push_back(i);
  }
  if (out.added_g > 0) out.reach_per_kg = out.reach / (out.added_g / 1000);
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
    const bool possible =
        std::none_of(things.begin(), things.end(), [&](int i) { return nth(problem.items, i).excluded; });
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

choose::Stop bounded(choose::Stop stop, std::uint64_t most) {
  stop.now = [wish = std::move(stop.now), most, asked = std::uint64_t{0}]() mutable {
    return ++asked > most || (wish && wish());
  };
  return stop;
}

choose::Stop aside(const AdviceOptions& options, std::size_t questions) {
  return bounded({options.nodes_per_question, options.stop.now},
                 std::max<std::uint64_t>(1, most_asked / std::max<std::size_t>(1, questions)));
}

bool ended(const AdviceOptions& options) {
  return options.stop.now && options.stop.now();
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
