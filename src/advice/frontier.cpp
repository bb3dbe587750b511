#include <algorithm>

#include "advise_parts.hpp"
#include "skerry/core/nth.hpp"

namespace skerry::advice {

namespace {

/// Judgement: half a kilogram in steps of 100 g is what a traveller haggles about.
constexpr double step_g = 100;
constexpr int steps = 5;
/// Judgement: of each kit on the way. Real inventories need under a hundred.
constexpr std::uint64_t nodes_per_kit = 5000;

}  // namespace

void trace_frontier(Advice& advice, const AdviceOptions& options) {
  if (advice.kit.over_limit) return;
  choose::Problem wider = advice.problem;
  wider.limit_g = advice.problem.limit_g + steps * step_g;
  choose::Stop stop = bounded(options.stop, most_asked);
  stop.max_nodes = std::min(stop.max_nodes, nodes_per_kit);
  auto all = choose::frontier(wider, stop);
  for (int k = 1; k <= steps; ++k) {
    More more;
    more.added_g = k * step_g;
    more.reach = advice.kit.reach;
    for (const auto& kit : all.kits) {
      if (kit.mass_g <= advice.problem.limit_g + more.added_g + 1e-6)
        more.reach = std::max(more.reach, kit.reach);
    }
    advice.more.push_back(more);
  }
  std::erase_if(all.kits,
                [&](const choose::Choice& kit) { return kit.mass_g > advice.problem.limit_g + 1e-6; });
  advice.frontier = std::move(all);
}

WhatIf what_if(const Advice& advice, std::vector<int> drop, std::vector<int> add, const choose::Stop& stop) {
  WhatIf out;
  out.drop = std::move(drop);
  out.add = std::move(add);
  choose::Problem problem = advice.problem;
  std::vector<int> plain = advice.kit.items;
  for (const int i : out.drop) {
    auto& item = nth(problem.items, i);
    item.always = false;
    item.excluded = true;
    std::erase(plain, i);
  }
  const auto among = [](const std::vector<int>& list, int item) {
    return std::find(list.begin(), list.end(), item) != list.end();
  };
  const auto asked = out.add;
  for (const int i : asked) {
    bool used = false;
    for (const int other : never_without(advice.problem, i, used)) {
      if (!among(out.add, other) && !among(out.drop, other)) out.add.push_back(other);
    }
  }
  for (const int i : out.add) {
    nth(problem.items, i).always = true;
    if (!std::binary_search(advice.kit.items.begin(), advice.kit.items.end(), i)) plain.push_back(i);
  }
  std::sort(plain.begin(), plain.end());
  out.kit = choose::best(problem, stop);
  out.reach = out.kit.reach - advice.kit.reach;
  out.mass_g = out.kit.mass_g - advice.kit.mass_g;
  std::set_difference(out.kit.items.begin(), out.kit.items.end(), advice.kit.items.begin(),
                      advice.kit.items.end(), std::back_inserter(out.comes));
  std::set_difference(advice.kit.items.begin(), advice.kit.items.end(), out.kit.items.begin(),
                      out.kit.items.end(), std::back_inserter(out.goes));
  out.as_it_stands_reach = choose::reach_of(advice.problem, plain);
  out.as_it_stands_mass_g = choose::mass_of(advice.problem, plain);
  out.as_it_stands_fits = out.as_it_stands_mass_g <= advice.problem.limit_g + 1e-6 &&
                          (!advice.problem.feasible || advice.problem.feasible(plain));
  return out;
}

}  // namespace skerry::advice
