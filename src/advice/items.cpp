#include <algorithm>

#include "advise_parts.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/parallel.hpp"

namespace skerry::advice {

namespace {

bool holds(const std::vector<int>& sorted, int item) {
  return std::binary_search(sorted.begin(), sorted.end(), item);
}

/// What a thing of the inventory that stays would come with: Ask::with, and with the kit around it.
struct Company {
  std::vector<int> group;  ///< the thing and what it can never work without
  std::vector<int> start;  ///< the kit with them, sorted
  double added_g = 0;      ///< by those of them that the kit lacks
};

Company company_of(const Advice& advice, int thing, bool& used) {
  Company out;
  out.group = never_without(advice.problem, thing, used);
  double added_mg = 0;
  out.start = advice.kit.items;
  for (const int i : out.group) {
    if (holds(advice.kit.items, i)) continue;
    added_mg += static_cast<double>(choose::whole_mg(nth(advice.inventory.things, i).mass_g));
    out.start.push_back(i);
  }
  out.added_g = added_mg / 1000;
  std::sort(out.start.begin(), out.start.end());
  return out;
}

void judge_carried(const Advice& advice, const choose::Solver& solver, const AdviceOptions& options,
                   ItemAdvice& out, choose::Choice& best) {
  std::vector<int> rest = advice.kit.items;
  std::erase(rest, out.thing);
  best = solver.best({.without = {out.thing}, .start = rest}, aside(options, advice.items.size()));
  out.exact = best.proved;
  out.reach = advice.optimum.reach - best.reach;
  for (const int i : best.items) {
    if (!holds(advice.kit.items, i)) out.instead.push_back(i);
  }
  if (out.added_g > 0) out.reach_per_kg = out.reach / (out.added_g / 1000);
  out.reach_without = best.reach;
  out.lighter_g = advice.kit.mass_g - best.mass_g;
}

void judge_left(const Advice& advice, const choose::Solver& solver, const AdviceOptions& options,
                ItemAdvice& out, choose::Choice& best) {
  if (nth(advice.inventory.things, out.thing).excluded || !out.used) return;
  auto [group, start, added_g] = company_of(advice, out.thing, out.used);
  const auto stop = aside(options, 2 * advice.items.size());
  const double limit_g = std::max(advice.problem.limit_g, advice.kit.mass_g) + added_g;
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

void list_items(Advice& advice, const choose::Solver& solver) {
  advice.items.resize(advice.inventory.things.size());
  for (std::size_t i = 0; i < advice.items.size(); ++i) {
    auto& out = advice.items[i];
    const auto& thing = advice.inventory.things[i];
    out.thing = static_cast<int>(i);
    out.carry = holds(advice.kit.items, out.thing);
    if (out.carry) {
      std::vector<int> rest = advice.kit.items;
      std::erase(rest, out.thing);
      out.added_g = thing.mass_g;
      out.as_it_stands = advice.kit.reach - solver.reach_of(rest);
    } else if (!thing.excluded) {
      const auto company = company_of(advice, out.thing, out.used);
      if (!out.used) continue;
      out.added_g = company.added_g;
      out.as_it_stands = solver.reach_of(company.start) - advice.kit.reach;
      std::copy_if(company.group.begin(), company.group.end(), std::back_inserter(out.with),
                   [&](int other) { return other != out.thing && !holds(advice.kit.items, other); });
    }
  }
}

void judge_items(Advice& advice, const choose::Solver& solver, const AdviceOptions& options,
                 std::vector<choose::Choice>& looked_at) {
  std::vector<choose::Choice> best(advice.items.size());
  parallel_for(advice.items.size(), 1, [&](std::size_t begin, std::size_t end) {
    for (std::size_t i = begin; i < end; ++i) {
      auto& item = advice.items[i];
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
