#include <algorithm>

#include "advise_parts.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/parallel.hpp"

namespace skerry::advice {

namespace {

bool holds(const std::vector<int>& sorted, int item) {
  return std::binary_search(sorted.begin(), sorted.end(), item);
}

void judge_carried(const Advice& advice, const choose::Solver& solver, const AdviceOptions& options,
                   ItemAdvice& out, choose::Choice& best) {
  const auto& thing = nth(advice.inventory.things, out.thing);
  out.added_g = thing.mass_g;
  std::vector<int> rest = advice.kit.items;
  std::erase(rest, out.thing);
  out.as_it_stands = advice.kit.reach - solver.reach_of(rest);
  best = solver.best({.without = {out.thing}, .start = rest}, aside(options, advice.items.size()));
  out.exact = best.proved;
  out.reach = advice.optimum.reach - best.reach;
  for (const int i : best.items) {
    if (!holds(advice.kit.items, i)) out.instead.push_back(i);
  }
  if (thing.mass_g > 0) out.reach_per_kg = out.reach / (thing.mass_g / 1000);
  out.reach_without = best.reach;
  out.lighter_g = advice.kit.mass_g - best.mass_g;
}

void judge_left(const Advice& advice, const choose::Solver& solver, const AdviceOptions& options,
                ItemAdvice& out, choose::Choice& best) {
  const auto& thing = nth(advice.inventory.things, out.thing);
  if (thing.excluded) return;
  std::vector<int> group = never_without(advice.problem, out.thing, out.used);
  if (!out.used) return;
  const auto stop = aside(options, 2 * advice.items.size());
  double added_mg = 0;
  std::vector<int> start = advice.kit.items;
  for (const int i : group) {
    if (holds(advice.kit.items, i)) continue;
    added_mg += static_cast<double>(choose::whole_mg(nth(advice.inventory.things, i).mass_g));
    start.push_back(i);
    if (i != out.thing) out.with.push_back(i);
  }
  out.added_g = added_mg / 1000;
  std::sort(start.begin(), start.end());
  const double limit_g = std::max(advice.problem.limit_g, advice.kit.mass_g) + out.added_g;
  best = solver.best({.limit_g = limit_g, .with = group, .start = start}, stop);
  // What comes with it may be what brings the gain.
  auto others = group;
  std::erase(others, out.thing);
  std::erase(start, out.thing);
  const auto without =
      out.with.empty()
          ? advice.optimum
          : solver.best({.limit_g = limit_g, .with = others, .without = {out.thing}, .start = start}, stop);
  out.exact = best.proved && without.proved;
  out.reach = best.reach - without.reach;
  if (out.added_g > 0) out.reach_per_kg = out.reach / (out.added_g / 1000);
}

}  // namespace

std::vector<int> never_without(const choose::Problem& problem, int item, bool& used) {
  std::vector<int> common;
  used = false;
  for (const auto& engine : problem.engines) {
    for (const auto& feed : engine.feeds) used = used || feed.item == item;
  }
  if (used) return {item};
  for (const auto& way : problem.ways) {
    const auto& row = nth(problem.rows, way.row);
    const bool serves = std::any_of(row.begin(), row.end(), [](float v) { return v > 0; });
    if (!serves || std::find(way.items.begin(), way.items.end(), item) == way.items.end()) continue;
    const bool possible = std::none_of(way.items.begin(), way.items.end(),
                                       [&](int i) { return nth(problem.items, i).excluded; });
    if (!possible) continue;
    if (!used) {
      common = way.items;
    } else {
      std::erase_if(common, [&](int i) { return !holds(way.items, i); });
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

void judge_items(Advice& advice, const choose::Solver& solver, const AdviceOptions& options,
                 std::vector<choose::Choice>& looked_at) {
  advice.items.resize(advice.inventory.things.size());
  std::vector<choose::Choice> best(advice.items.size());
  parallel_for(advice.items.size(), 1, [&](std::size_t begin, std::size_t end) {
    for (std::size_t i = begin; i < end; ++i) {
      auto& item = advice.items[i];
      item.thing = static_cast<int>(i);
      item.carry = holds(advice.kit.items, item.thing);
      if (item.carry) {
        judge_carried(advice, solver, options, item, best[i]);
      } else {
        judge_left(advice, solver, options, item, best[i]);
      }
    }
  });
  std::move(best.begin(), best.end(), std::back_inserter(looked_at));
}

}  // namespace skerry::advice
