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

choose::Stop on_the_way(const AdviceOptions& options) {
  choose::Stop stop = bounded(options.stop, most_asked);
  stop.max_nodes = std::min(stop.max_nodes, nodes_per_kit);
  return stop;
}

}  // namespace

void choose_kit(Advice& advice, const choose::Solver& solver, const AdviceOptions& options) {
  advice.optimum = solver.best({}, bounded(options.stop, most_asked));
  advice.kit = advice.optimum;
  if (advice.optimum.over_limit || advice.optimum.reach <= 0 || advice.tolerance <= 0) return;
  const double least = advice.optimum.reach - advice.tolerance;
  auto near = solver.frontier({.start = advice.optimum.items}, on_the_way(options), 1000, least);
  if (near.kits.empty()) return;
  advice.kit = std::move(near.kits.front());
  advice.kit.proved = advice.kit.proved && near.complete && advice.optimum.proved;
  advice.kit.bound = advice.optimum.bound;
}

void trace_frontier(Advice& advice, const choose::Solver& solver, const AdviceOptions& options) {
  if (advice.kit.over_limit) return;
  auto all =
      solver.frontier({.limit_g = advice.problem.limit_g + steps * step_g, .start = advice.optimum.items},
                      on_the_way(options));
  for (int k = 1; k <= steps; ++k) {
    More more;
    more.added_g = k * step_g;
    more.reach = advice.optimum.reach;
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

void differences(const std::vector<int>& kit, const std::vector<int>& other, std::vector<int>& comes,
                 std::vector<int>& goes) {
  comes.clear();
  goes.clear();
  std::set_difference(other.begin(), other.end(), kit.begin(), kit.end(), std::back_inserter(comes));
  std::set_difference(kit.begin(), kit.end(), other.begin(), other.end(), std::back_inserter(goes));
}

WhatIf what_if(const Advice& advice, std::vector<int> drop, std::vector<int> add, const choose::Stop& stop) {
  WhatIf out;
  out.drop = std::move(drop);
  out.add = std::move(add);
  const choose::Solver solver(advice.problem);
  std::vector<int> plain = advice.kit.items;
  for (const int i : out.drop) std::erase(plain, i);
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
    if (!std::binary_search(advice.kit.items.begin(), advice.kit.items.end(), i)) plain.push_back(i);
  }
  std::sort(plain.begin(), plain.end());
  out.kit = solver.best({.with = out.add, .without = out.drop, .start = plain}, stop);
  out.reach = out.kit.reach - advice.kit.reach;
  out.mass_g = out.kit.mass_g - advice.kit.mass_g;
  differences(advice.kit.items, out.kit.items, out.comes, out.goes);
  out.as_it_stands_reach = solver.reach_of(plain);
  out.as_it_stands_mass_g = choose::mass_of(advice.problem, plain);
  out.as_it_stands_fits = out.as_it_stands_mass_g <= advice.problem.limit_g + 1e-6 &&
                          (!advice.problem.feasible || advice.problem.feasible(plain));
  return out;
}

}  // namespace skerry::advice
