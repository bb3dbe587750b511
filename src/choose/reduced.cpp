#include "reduced.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <map>
#include <numeric>

namespace skerry::choose {

std::int64_t whole_mg(double grams) {
  assert(grams >= 0);
  // An absent limit is infinite; a quarter of the range leaves room for sums.
  constexpr std::int64_t most = std::numeric_limits<std::int64_t>::max() / 4;
  return grams * 1000 >= static_cast<double>(most) ? most : std::llround(grams * 1000);
}

std::vector<std::int64_t> whole_weights(const Problem& problem) {
  const double total = std::accumulate(problem.weights.begin(), problem.weights.end(), 0.0);
  std::vector<std::int64_t> whole(problem.weights.size(), 0);
  if (!(total > 0)) return whole;
  // A power of two as the scale leaves whole numbers and halves exact: what adds up to the same, ties.
  // In two steps: the scale of the smallest weights there are is no number itself.
  const int shift = 50 - std::ilogb(total);
  const double first = std::ldexp(1.0, shift / 2), second = std::ldexp(1.0, shift - shift / 2);
  for (std::size_t c = 0; c < whole.size(); ++c) {
    assert(problem.weights[c] >= 0 && std::isfinite(problem.weights[c]));
    whole[c] = std::llround(problem.weights[c] * first * second);
  }
  return whole;
}

namespace {

struct Draft {
  std::vector<int> items;  // sorted, without always
  Words cells;
};

bool includes(const std::vector<int>& big, const std::vector<int>& small) {
  return std::includes(big.begin(), big.end(), small.begin(), small.end());
}

bool covers(const Words& big, const Words& small) {
  for (std::size_t i = 0; i < small.size(); ++i) {
    if ((small[i] & ~big[i]) != 0) return false;
  }
  return true;
}

/// Adds to each bundle what its subsets serve, then drops those that need more and serve no more.
void close_and_prune(std::vector<Draft>& drafts) {
  std::sort(drafts.begin(), drafts.end(), [](const Draft& a, const Draft& b) {
    return a.items.size() != b.items.size() ? a.items.size() < b.items.size() : a.items < b.items;
  });
  // What a bundle holds whole is found under the item of it that the fewest have: each looks at a few others only.
  std::map<int, std::size_t> users;
  for (const auto& draft : drafts) {
    for (const int item : draft.items) ++users[item];
  }
  std::map<int, std::vector<std::size_t>> by_rarest;
  std::vector<Draft> kept;
  for (auto& draft : drafts) {
    const Words own = draft.cells;
    Words below(own.size(), 0);
    Draft* same = nullptr;
    for (const int item : draft.items) {
      for (const std::size_t at : by_rarest[item]) {
        auto& k = kept[at];
        if (!includes(draft.items, k.items)) continue;
        if (k.items.size() == draft.items.size()) {
          same = &k;
        }
        for (std::size_t i = 0; i < below.size(); ++i) below[i] |= k.cells[i];
      }
    }
    if (covers(below, own)) continue;
    for (std::size_t i = 0; i < below.size(); ++i) draft.cells[i] |= below[i];
    if (same != nullptr) {
      same->cells = draft.cells;
    } else {
      const int rarest = *std::min_element(draft.items.begin(), draft.items.end(),
                                           [&](int a, int b) { return users[a] < users[b]; });
      by_rarest[rarest].push_back(kept.size());
      kept.push_back(std::move(draft));
    }
  }
  drafts = std::move(kept);
}

/// Items that the same bundles use stand or fall together.
void group_items(const Problem& problem, const std::vector<Draft>& drafts, Reduced& out) {
  std::map<int, std::vector<int>> users;
  for (std::size_t s = 0; s < drafts.size(); ++s) {
    for (const int item : drafts[s].items) users[item].push_back(static_cast<int>(s));
  }
  std::map<std::vector<int>, int> group_of_users;
  std::vector<int> group_of(problem.items.size(), -1);
  for (const auto& [item, used_by] : users) {
    const auto [where, fresh] = group_of_users.try_emplace(used_by, static_cast<int>(out.group.size()));
    if (fresh) {
      out.group.emplace_back();
      out.group_mg.push_back(0);
    }
    const auto g = static_cast<std::size_t>(where->second);
    group_of[static_cast<std::size_t>(item)] = where->second;
    out.group[g].push_back(item);
    out.group_mg[g] += whole_mg(problem.items[static_cast<std::size_t>(item)].mass_g);
  }
  for (const auto& draft : drafts) {
    Reduced::Bundle bundle;
    for (const int item : draft.items) bundle.groups.push_back(group_of[static_cast<std::size_t>(item)]);
    std::sort(bundle.groups.begin(), bundle.groups.end());
    bundle.groups.erase(std::unique(bundle.groups.begin(), bundle.groups.end()), bundle.groups.end());
    for (const int g : bundle.groups) bundle.mg += out.group_mg[static_cast<std::size_t>(g)];
    bundle.cells = draft.cells;
    out.bundles.push_back(std::move(bundle));
  }
}

/// Cells that the same bundles serve become one; cells that none serves vanish.
void merge_cells(const std::vector<std::int64_t>& weights, const Words& served_anyway, Reduced& out) {
  const std::size_t bundles = out.bundles.size();
  std::vector<Words> served_by(weights.size());
  for (std::size_t s = 0; s < bundles; ++s) {
    const auto& cells = out.bundles[s].cells;
    each_cell(cells.data(), cells.size(), [&](std::size_t c) {
      if (served_by[c].empty()) served_by[c].resize((bundles + 63) / 64, 0);
      served_by[c][s / 64] |= std::uint64_t{1} << (s % 64);
      return true;
    });
  }
  std::map<Words, std::int64_t> columns;
  for (std::size_t c = 0; c < weights.size(); ++c) {
    const bool open = weights[c] != 0 && ((served_anyway[c / 64] >> (c % 64)) & 1U) == 0;
    if (open && !served_by[c].empty()) columns[std::move(served_by[c])] += weights[c];
  }
  out.words = (columns.size() + 63) / 64;
  for (auto& bundle : out.bundles) bundle.cells.assign(out.words, 0);
  std::size_t cell = 0;
  for (const auto& [column, weight] : columns) {
    out.weight.push_back(weight);
    each_cell(column.data(), column.size(), [&](std::size_t s) {
      out.bundles[s].cells[cell / 64] |= std::uint64_t{1} << (cell % 64);
      return true;
    });
    ++cell;
  }
}

}  // namespace

Reduced reduce(const Problem& problem) {
  Reduced out;
  const auto weights = whole_weights(problem);
  out.total_value = std::accumulate(weights.begin(), weights.end(), std::int64_t{0});
  for (std::size_t i = 0; i < problem.items.size(); ++i) {
    if (!problem.items[i].always || problem.items[i].excluded) continue;
    out.always.push_back(static_cast<int>(i));
    out.base_mg += whole_mg(problem.items[i].mass_g);
  }
  out.left_mg = problem.limit_g < 0 ? -1 : whole_mg(problem.limit_g) - out.base_mg;

  Words served_anyway((weights.size() + 63) / 64, 0);
  std::vector<Draft> drafts;
  for (const auto& bundle : problem.bundles) {
    Draft draft;
    bool possible = true;
    std::int64_t mg = 0;
    for (const int item : bundle.items) {
      const auto& thing = problem.items[static_cast<std::size_t>(item)];
      possible = possible && !thing.excluded;
      if (thing.always && !thing.excluded) continue;
      draft.items.push_back(item);
      mg += whole_mg(thing.mass_g);
    }
    if (!possible) continue;
    draft.cells.assign(bundle.cells.words().begin(), bundle.cells.words().end());
    draft.cells.resize(served_anyway.size(), 0);
    if (draft.items.empty()) {
      for (std::size_t i = 0; i < served_anyway.size(); ++i) served_anyway[i] |= draft.cells[i];
    } else if (mg <= out.left_mg) {
      std::sort(draft.items.begin(), draft.items.end());
      drafts.push_back(std::move(draft));
    }
  }
  each_cell(served_anyway.data(), served_anyway.size(), [&](std::size_t c) {
    out.base_value += weights[c];
    return true;
  });
  for (auto& draft : drafts) {
    for (std::size_t i = 0; i < served_anyway.size(); ++i) draft.cells[i] &= ~served_anyway[i];
  }
  close_and_prune(drafts);
  group_items(problem, drafts, out);
  merge_cells(weights, served_anyway, out);
  return out;
}

}  // namespace skerry::choose
