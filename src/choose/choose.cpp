#include "skerry/choose/choose.hpp"

#include <algorithm>
#include <cassert>
#include <numeric>

#include "reduced.hpp"
#include "search.hpp"

namespace skerry::choose {

namespace {

bool always_kit_possible(const Problem& problem, const Reduced& reduced) {
  return reduced.left_mg >= 0 && (!problem.feasible || problem.feasible(reduced.always));
}

double share(std::int64_t value, const Reduced& reduced) {
  return reduced.total_value > 0 ? static_cast<double>(value) / static_cast<double>(reduced.total_value)
                                 : 0.0;
}

Choice always_only(const Reduced& reduced) {
  Choice out;
  out.items = reduced.always;
  out.mass_g = static_cast<double>(reduced.base_mg) / 1000;
  out.reach = out.bound = share(reduced.base_value, reduced);
  out.proved = true;
  return out;
}

/// Without proof a thing may have slipped in that serves nothing: out with it.
void drop_useless(const Problem& problem, std::vector<int>& items) {
  const auto served = served_by(problem, items);
  for (std::size_t i = 0; i < items.size();) {
    std::vector<int> without = items;
    without.erase(without.begin() + static_cast<std::ptrdiff_t>(i));
    const auto& item = problem.items[static_cast<std::size_t>(items[i])];
    const bool fixed = item.always && !item.excluded;
    if (!fixed && served_by(problem, without) == served) {
      items = std::move(without);
    } else {
      ++i;
    }
  }
}

Choice finished(const Problem& problem, const Reduced& reduced, const SearchResult& result) {
  Choice out;
  out.items = reduced.always;
  for (const int g : result.best.groups) {
    const auto& members = reduced.group[static_cast<std::size_t>(g)];
    out.items.insert(out.items.end(), members.begin(), members.end());
  }
  std::sort(out.items.begin(), out.items.end());
  if (!result.proved) drop_useless(problem, out.items);
  out.mass_g = mass_of(problem, out.items);
  out.reach = share(reduced.base_value + result.best.value, reduced);
  out.bound = result.proved ? out.reach : share(reduced.base_value + result.bound, reduced);
  out.proved = result.proved;
  out.nodes = result.nodes;
  return out;
}

/// Asked when time is up: nothing is searched, the caller knows a kit.
Choice not_asked(const Problem& problem) {
  Choice out;
  for (std::size_t i = 0; i < problem.items.size(); ++i) {
    if (problem.items[i].always && !problem.items[i].excluded) out.items.push_back(static_cast<int>(i));
  }
  out.mass_g = mass_of(problem, out.items);
  out.bound = 1;
  return out;
}

/// A search that was stopped may have found less than what is there without one.
void take_if_better(const Problem& problem, std::vector<int> items, Choice& found) {
  if (found.proved || found.over_limit) return;
  const double reach = reach_of(problem, items);
  if (reach <= found.reach || (problem.feasible && !problem.feasible(items))) return;
  drop_useless(problem, items);
  found.items = std::move(items);
  found.mass_g = mass_of(problem, found.items);
  found.reach = reach;
  found.bound = std::max(found.bound, reach);
}

void check(const Problem& problem) {
  for ([[maybe_unused]] const auto& bundle : problem.bundles) {
    assert(bundle.cells.words().size() == (problem.weights.size() + 63) / 64);
    for ([[maybe_unused]] const int item : bundle.items) {
      assert(item >= 0 && static_cast<std::size_t>(item) < problem.items.size());
    }
  }
}

}  // namespace

CellSet served_by(const Problem& problem, std::span<const int> items) {
  std::vector<char> in(problem.items.size(), 0);
  for (const int i : items) in[static_cast<std::size_t>(i)] = 1;
  CellSet served(problem.weights.size());
  for (const auto& bundle : problem.bundles) {
    const bool works = std::all_of(bundle.items.begin(), bundle.items.end(),
                                   [&](int i) { return in[static_cast<std::size_t>(i)] != 0; });
    if (works) served.merge(bundle.cells);
  }
  return served;
}

double reach_of(const Problem& problem, std::span<const int> items) {
  const auto weights = whole_weights(problem);
  const auto served = served_by(problem, items);
  std::int64_t value = 0, total = 0;
  for (std::size_t c = 0; c < weights.size(); ++c) {
    total += weights[c];
    value += served.has(c) ? weights[c] : 0;
  }
  return total > 0 ? static_cast<double>(value) / static_cast<double>(total) : 0.0;
}

double mass_of(const Problem& problem, std::span<const int> items) {
  std::int64_t mg = 0;
  for (const int i : items) mg += whole_mg(problem.items[static_cast<std::size_t>(i)].mass_g);
  return static_cast<double>(mg) / 1000;
}

Choice best(const Problem& problem, const Stop& stop) {
  check(problem);
  const Reduced reduced = reduce(problem);
  if (!always_kit_possible(problem, reduced)) {
    Choice out = always_only(reduced);
    out.over_limit = true;
    return out;
  }
  return finished(problem, reduced, search(reduced, reduced.left_mg, problem, stop));
}

Frontier frontier(const Problem& problem, const Stop& stop, std::size_t most) {
  check(problem);
  const Reduced reduced = reduce(problem);
  Frontier out;
  if (!always_kit_possible(problem, reduced)) {
    Choice only = always_only(reduced);
    only.over_limit = true;
    out.kits.push_back(only);
    return out;
  }
  // From the limit downwards: the best kit, then the best that is lighter than it, and so on; kits met on the
  // way start the next search.
  std::vector<Found> pool;
  std::int64_t left = reduced.left_mg;
  while (left >= 0) {
    if (out.kits.size() == most || (!out.complete && stop.now && stop.now())) {
      out.complete = false;
      break;
    }
    const SearchResult result = search(reduced, left, problem, stop, &pool);
    out.kits.push_back(finished(problem, reduced, result));
    out.complete = out.complete && result.proved;
    if (result.best.groups.empty()) break;
    left = result.best.mg - 1;
  }
  std::reverse(out.kits.begin(), out.kits.end());
  if (out.kits.size() > 1 && out.kits.front().reach <= 0) out.kits.erase(out.kits.begin());
  return out;
}

Change gain_of_adding(const Problem& problem, const Choice& chosen, std::span<const int> items,
                      const Stop& stop) {
  Problem wider = problem;
  std::int64_t added_mg = 0;
  for (const int i : items) {
    auto& item = wider.items[static_cast<std::size_t>(i)];
    if (!std::binary_search(chosen.items.begin(), chosen.items.end(), i)) added_mg += whole_mg(item.mass_g);
    item.always = true;
    item.excluded = false;
  }
  Change out;
  out.added_g = static_cast<double>(added_mg) / 1000;
  wider.limit_g = std::max(problem.limit_g, chosen.over_limit ? chosen.mass_g : 0.0) + out.added_g;
  out.kit = stop.now && stop.now() ? not_asked(wider) : best(wider, stop);
  std::vector<int> plain = chosen.items;
  plain.insert(plain.end(), items.begin(), items.end());
  std::sort(plain.begin(), plain.end());
  plain.erase(std::unique(plain.begin(), plain.end()), plain.end());
  take_if_better(wider, std::move(plain), out.kit);
  out.reach = out.kit.reach - chosen.reach;
  return out;
}

Change loss_of_dropping(const Problem& problem, const Choice& chosen, int item, const Stop& stop) {
  Problem without = problem;
  without.items[static_cast<std::size_t>(item)].always = false;
  without.items[static_cast<std::size_t>(item)].excluded = true;
  Change out;
  out.kit = stop.now && stop.now() ? not_asked(without) : best(without, stop);
  std::vector<int> plain = chosen.items;
  std::erase(plain, item);
  take_if_better(without, std::move(plain), out.kit);
  out.reach = chosen.reach - out.kit.reach;
  return out;
}

Single best_single(const Problem& problem) {
  check(problem);
  const Reduced reduced = reduce(problem);
  Single out;
  out.kit = always_only(reduced);
  out.kit.over_limit = !always_kit_possible(problem, reduced);
  if (out.kit.over_limit) return out;
  const auto sorted_names = [&](const std::vector<int>& items) {
    std::vector<std::string> names;
    names.reserve(items.size());
    for (const int i : items) names.push_back(problem.items[static_cast<std::size_t>(i)].name);
    std::sort(names.begin(), names.end());
    return names;
  };
  for (std::size_t s = 0; s < problem.bundles.size(); ++s) {
    std::vector<int> items = reduced.always;
    bool allowed = true;
    for (const int i : problem.bundles[s].items) {
      allowed = allowed && !problem.items[static_cast<std::size_t>(i)].excluded;
      items.push_back(i);
    }
    std::sort(items.begin(), items.end());
    items.erase(std::unique(items.begin(), items.end()), items.end());
    const double mass_g = mass_of(problem, items);
    if (!allowed || whole_mg(mass_g) > whole_mg(problem.limit_g)) continue;
    if (problem.feasible && !problem.feasible(items)) continue;
    const double reach = reach_of(problem, items);
    const auto& best = out.kit;
    bool better = reach > best.reach;
    if (reach == best.reach && reach > 0) {
      better = mass_g < best.mass_g ||
               (mass_g == best.mass_g &&
                (items.size() < best.items.size() ||
                 (items.size() == best.items.size() && sorted_names(items) < sorted_names(best.items))));
    }
    if (!better) continue;
    out.bundle = static_cast<int>(s);
    out.kit.items = items;
    out.kit.mass_g = mass_g;
    out.kit.reach = out.kit.bound = reach;
  }
  return out;
}

}  // namespace skerry::choose
