#include "ready.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>
#include <map>
#include <numeric>
#include <set>

namespace skerry::choose {

std::int64_t whole_mg(double grams) {
  assert(grams >= 0);
  // An absent limit is infinite; a quarter of the range leaves room for sums.
  constexpr std::int64_t most = std::numeric_limits<std::int64_t>::max() / 4;
  return grams * 1000 >= static_cast<double>(most) ? most : std::llround(grams * 1000);
}

namespace {

/// A way before things are merged: items sorted, whole gains per cell.
struct Draft {
  std::vector<int> items;
  int engine = 0;
  std::vector<std::int32_t> gains;
};

bool includes(const std::vector<int>& big, const std::vector<int>& small) {
  return std::includes(big.begin(), big.end(), small.begin(), small.end());
}

void take_most(std::vector<std::int32_t>& into, const std::vector<std::int32_t>& from) {
  for (std::size_t c = 0; c < into.size(); ++c) into[c] = std::max(into[c], from[c]);
}

/// Ways with the same things and engine become one.
std::vector<Draft> drafts_of(const Problem& problem, const Ready& ready) {
  const std::size_t cells = problem.weights.size();
  std::vector<std::vector<std::int32_t>> rows(problem.rows.size());
  std::map<std::pair<std::vector<int>, int>, std::vector<std::int32_t>> merged;
  for (const auto& way : problem.ways) {
    auto& row = rows[static_cast<std::size_t>(way.row)];
    if (row.size() != cells) {
      row.resize(cells);
      const auto& shares = problem.rows[static_cast<std::size_t>(way.row)];
      for (std::size_t c = 0; c < cells; ++c) {
        assert(shares[c] >= 0 && shares[c] <= 1);
        row[c] = ready.whole(problem.weights[c] * static_cast<double>(shares[c]));
      }
    }
    std::vector<int> items = way.items;
    std::sort(items.begin(), items.end());
    const auto [where, fresh] = merged.try_emplace({std::move(items), way.engine}, row);
    if (!fresh) take_most(where->second, row);
  }
  std::vector<Draft> out;
  out.reserve(merged.size());
  for (auto& [key, gains] : merged) out.push_back({key.first, key.second, std::move(gains)});
  return out;
}

/// Strikes from each way what a way with some of its things gives too (as no gain), and the ways that give nothing
/// of their own.
void prune(std::vector<Draft>& drafts) {
  std::stable_sort(drafts.begin(), drafts.end(),
                   [](const Draft& a, const Draft& b) { return a.items.size() < b.items.size(); });
  // What a way holds whole is found under the thing of it that the fewest have: each looks at a few others only.
  std::map<int, std::size_t> users;
  for (const auto& draft : drafts) {
    for (const int item : draft.items) ++users[item];
  }
  constexpr int none = -1;
  std::map<std::pair<int, int>, std::vector<std::size_t>> by_rarest;
  std::vector<Draft> kept;
  std::vector<std::int32_t> below;
  for (auto& draft : drafts) {
    below.assign(draft.gains.size(), 0);
    const auto look_under = [&](int item) {
      const auto found = by_rarest.find({draft.engine, item});
      if (found == by_rarest.end()) return;
      for (const std::size_t k : found->second) {
        if (includes(draft.items, kept[k].items)) take_most(below, kept[k].gains);
      }
    };
    look_under(none);
    for (const int item : draft.items) look_under(item);
    bool gives = false;
    for (std::size_t c = 0; c < below.size(); ++c) {
      if (draft.gains[c] <= below[c]) draft.gains[c] = 0;
      gives = gives || draft.gains[c] > 0;
    }
    if (!gives) continue;
    const auto rarest = std::min_element(draft.items.begin(), draft.items.end(),
                                         [&](int a, int b) { return users[a] < users[b]; });
    by_rarest[{draft.engine, rarest == draft.items.end() ? none : *rarest}].push_back(kept.size());
    kept.push_back(std::move(draft));
  }
  drafts = std::move(kept);
}

/// Things that the same ways use stand or fall together; what feeds an engine stands alone.
void group_items(const std::vector<Draft>& drafts, Ready& out) {
  std::set<int> feeding;
  for (const auto& engine : out.problem.engines) {
    for (const auto& feed : engine.feeds) feeding.insert(feed.item);
  }
  std::map<int, std::vector<int>> users;
  for (const int item : feeding) users[item];
  for (std::size_t s = 0; s < drafts.size(); ++s) {
    for (const int item : drafts[s].items) users[item].push_back(static_cast<int>(s));
  }
  std::map<std::vector<int>, int> group_of_users;
  out.group_of.assign(out.problem.items.size(), -1);
  for (const auto& [item, used_by] : users) {
    int group = static_cast<int>(out.group.size());
    if (feeding.count(item) == 0) group = group_of_users.try_emplace(used_by, group).first->second;
    if (group == static_cast<int>(out.group.size())) out.group.emplace_back();
    out.group_of[static_cast<std::size_t>(item)] = group;
    out.group[static_cast<std::size_t>(group)].push_back(item);
  }
}

void fill_feeds(Ready& out) {
  out.feeds.resize(out.problem.engines.size());
  for (std::size_t e = 0; e < out.feeds.size(); ++e) {
    std::map<int, std::int64_t> sum;
    for (const auto& feed : out.problem.engines[e].feeds) {
      auto& ms = sum[out.group_of[static_cast<std::size_t>(feed.item)]];
      ms = std::min(no_limit_ms, ms + whole_ms(feed.hours));
    }
    for (const auto& [group, ms] : sum) {
      const auto item = static_cast<std::size_t>(out.group[static_cast<std::size_t>(group)].front());
      if (ms > 0) out.feeds[e].push_back({group, ms, out.item_mg[item]});
    }
    std::stable_sort(out.feeds[e].begin(), out.feeds[e].end(), [](const auto& a, const auto& b) {
      return static_cast<double>(a.ms) * static_cast<double>(b.mg) >
             static_cast<double>(b.ms) * static_cast<double>(a.mg);
    });
  }
}

/// Ways, and for each cell its ways by falling gain.
void fill_slots(const std::vector<Draft>& drafts, Ready& out) {
  const std::size_t cells = out.problem.weights.size();
  // How many serve each cell under each engine; then where the next of them goes.
  std::vector<std::int32_t> next(cells * out.problem.engines.size(), 0);
  for (const auto& draft : drafts) {
    Ready::Way way;
    way.engine = draft.engine;
    for (const int item : draft.items) way.groups.push_back(out.group_of[static_cast<std::size_t>(item)]);
    std::sort(way.groups.begin(), way.groups.end());
    way.groups.erase(std::unique(way.groups.begin(), way.groups.end()), way.groups.end());
    for (const auto& feed : out.feeds[static_cast<std::size_t>(way.engine)]) {
      way.fed = way.fed || std::binary_search(way.groups.begin(), way.groups.end(), feed.group);
    }
    auto* const count = next.data() + static_cast<std::size_t>(way.engine) * cells;
    for (std::size_t c = 0; c < cells; ++c) count[c] += draft.gains[c] > 0 ? 1 : 0;
    out.ways.push_back(std::move(way));
  }
  auto& lists = out.lists;
  lists.ways = drafts.size();
  lists.settled.assign(out.clock.places(), 0);
  std::vector<std::int32_t> slot_of(next.size(), -1);
  std::int32_t entries = 0;
  for (std::size_t k = 0; k < next.size(); ++k) {
    if (next[k] == 0) continue;
    Ready::Slot slot;
    slot.number = slot_of[k] = static_cast<std::int32_t>(lists.slots.size());
    slot.engine = static_cast<std::int32_t>(k / cells);
    slot.where = static_cast<std::int32_t>(out.clock.where(slot.engine, out.problem.turns[k % cells]));
    slot.begin = entries;
    slot.end = entries += next[k];
    next[k] = slot.begin;
    lists.slots.push_back(slot);
  }
  lists.entries.resize(static_cast<std::size_t>(entries));
  out.gains.reserve(static_cast<std::size_t>(entries));
  for (std::size_t s = 0; s < drafts.size(); ++s) {
    auto& way = out.ways[s];
    way.begin = static_cast<std::int32_t>(out.gains.size());
    for (std::size_t c = 0; c < cells; ++c) {
      const std::int32_t gain = drafts[s].gains[c];
      if (gain <= 0) continue;
      const std::size_t k = static_cast<std::size_t>(way.engine) * cells + c;
      lists.entries[static_cast<std::size_t>(next[k]++)] = {gain, static_cast<std::int32_t>(s)};
      out.gains.push_back({slot_of[k], gain});
    }
    way.end = static_cast<std::int32_t>(out.gains.size());
  }
  for (const auto& slot : lists.slots) {
    std::sort(lists.entries.begin() + slot.begin, lists.entries.begin() + slot.end,
              [](const Ready::Entry& a, const Ready::Entry& b) {
                return a.gain != b.gain ? a.gain > b.gain : a.way < b.way;
              });
  }
}

/// Whether each way that uses one of a and b has a twin that uses the other in its stead, for the same gains.
bool swap_alike(const std::map<std::pair<int, std::vector<int>>, std::size_t>& place,
                const std::vector<Draft>& drafts, int a, int b) {
  for (const auto& draft : drafts) {
    const bool has_a = std::binary_search(draft.items.begin(), draft.items.end(), a);
    const bool has_b = std::binary_search(draft.items.begin(), draft.items.end(), b);
    if (has_a == has_b) continue;
    std::vector<int> twin = draft.items;
    std::replace(twin.begin(), twin.end(), has_a ? a : b, has_a ? b : a);
    std::sort(twin.begin(), twin.end());
    const auto found = place.find({draft.engine, twin});
    if (found == place.end() || drafts[found->second].gains != draft.gains) return false;
  }
  return true;
}

void find_alike(const std::vector<Draft>& drafts, Ready& out) {
  std::map<int, std::vector<int>> kinds;
  for (std::size_t g = 0; g < out.group.size(); ++g) {
    if (out.group[g].size() != 1) continue;
    const auto& kind = out.problem.items[static_cast<std::size_t>(out.group[g].front())].kind;
    if (kind) kinds[*kind].push_back(static_cast<int>(g));
  }
  std::erase_if(kinds, [](const auto& kind) { return kind.second.size() < 2; });
  if (kinds.empty()) return;
  std::map<std::pair<int, std::vector<int>>, std::size_t> place;
  for (std::size_t s = 0; s < drafts.size(); ++s) place[{drafts[s].engine, drafts[s].items}] = s;
  const auto item = [&](int g) { return out.group[static_cast<std::size_t>(g)].front(); };
  const auto fed_by = [&](int g) {
    std::vector<std::int64_t> ms;
    for (const auto& feeds : out.feeds) {
      const auto found =
          std::find_if(feeds.begin(), feeds.end(), [&](const auto& f) { return f.group == g; });
      ms.push_back(found == feeds.end() ? 0 : found->ms);
    }
    return ms;
  };
  for (auto& [kind, groups] : kinds) {
    std::stable_sort(groups.begin(), groups.end(), [&](int a, int b) {
      return out.rank[static_cast<std::size_t>(item(a))] < out.rank[static_cast<std::size_t>(item(b))];
    });
    bool same = true;
    for (std::size_t k = 1; k < groups.size() && same; ++k) {
      const int a = groups[k - 1], b = groups[k];
      same =
          out.item_mg[static_cast<std::size_t>(item(a))] == out.item_mg[static_cast<std::size_t>(item(b))] &&
          fed_by(a) == fed_by(b) && swap_alike(place, drafts, item(a), item(b));
    }
    if (same) out.alike.push_back(groups);
  }
}

}  // namespace

std::int32_t Ready::whole(double weight_or_share) const {
  constexpr double most = std::numeric_limits<std::int32_t>::max();
  return static_cast<std::int32_t>(std::min(most, weight_or_share * scale_[0] * scale_[1] + 0.5));
}

Ready::Ready(const Problem& given) : problem(given), clock(given) {
  for (const auto& item : problem.items) item_mg.push_back(whole_mg(item.mass_g));
  std::vector<std::string> names;
  for (const auto& item : problem.items) names.push_back(item.name);
  std::sort(names.begin(), names.end());
  for (const auto& item : problem.items) {
    rank.push_back(static_cast<int>(std::lower_bound(names.begin(), names.end(), item.name) - names.begin()));
  }

  // Sorted, so that the sum knows no order. A power of two as the scale leaves whole numbers and halves exact:
  // what adds up to the same, ties. In two steps: the scale of the smallest weights there are is no number itself.
  std::vector<double> sorted = problem.weights;
  std::sort(sorted.begin(), sorted.end());
  const double total = std::accumulate(sorted.begin(), sorted.end(), 0.0);
  weight.assign(problem.weights.size(), 0);
  if (total > 0) {
    const int shift = 30 - std::ilogb(total);
    scale_[0] = std::ldexp(1.0, shift / 2);
    scale_[1] = std::ldexp(1.0, shift - shift / 2);
  }
  std::vector<std::int64_t> shares(static_cast<std::size_t>(clock.turns), 0);
  for (const auto& spell : clock.spells) {
    for (const auto& part : spell.parts) shares[static_cast<std::size_t>(part.turn)] += part.share;
  }
  for (std::size_t c = 0; c < weight.size(); ++c) {
    assert(problem.weights[c] >= 0 && std::isfinite(problem.weights[c]));
    weight[c] = whole(problem.weights[c]);
    all += weight[c] * shares[static_cast<std::size_t>(problem.turns[c])];
  }

  std::vector<Draft> drafts = drafts_of(problem, *this);
  prune(drafts);
  group_items(drafts, *this);
  fill_feeds(*this);
  fill_slots(drafts, *this);
  find_alike(drafts, *this);
}

Question::Question(const Ready& ready, const Ask& ask) {
  const auto& items = ready.problem.items;
  std::vector<char> comes(items.size(), 0), stays(items.size(), 0);
  for (std::size_t i = 0; i < items.size(); ++i) {
    stays[i] = items[i].excluded ? 1 : 0;
    comes[i] = items[i].always && !items[i].excluded ? 1 : 0;
  }
  for (const int i : ask.with) {
    comes[static_cast<std::size_t>(i)] = 1;
    stays[static_cast<std::size_t>(i)] = 0;
  }
  for (const int i : ask.without) {
    comes[static_cast<std::size_t>(i)] = 0;
    stays[static_cast<std::size_t>(i)] = 1;
  }
  for (std::size_t i = 0; i < items.size(); ++i) {
    if (comes[i] == 0) continue;
    forced.push_back(static_cast<int>(i));
    base_mg += ready.item_mg[i];
  }
  const double limit_g = ask.limit_g.value_or(ready.problem.limit_g);
  left_mg = limit_g < 0 ? -1 : whole_mg(limit_g) - base_mg;

  std::vector<char> open(ready.group.size(), 0);
  mg.assign(ready.group.size(), 0);
  for (std::size_t g = 0; g < ready.group.size(); ++g) {
    bool whole = true, gone = false;
    for (const int i : ready.group[g]) {
      gone = gone || stays[static_cast<std::size_t>(i)] != 0;
      if (comes[static_cast<std::size_t>(i)] != 0) continue;
      whole = false;
      mg[g] += ready.item_mg[static_cast<std::size_t>(i)];
    }
    open[g] = !gone && !whole ? 1 : 0;
    if (gone) out.push_back(static_cast<int>(g));
    if (whole) in.push_back(static_cast<int>(g));
  }
  before.assign(open.size(), -1);
  behind.assign(open.size(), -1);
  for (const auto& alike : ready.alike) {
    int last = -1;
    for (const int g : alike) {
      if (open[static_cast<std::size_t>(g)] == 0) continue;
      before[static_cast<std::size_t>(g)] = last;
      if (last >= 0) behind[static_cast<std::size_t>(last)] = g;
      last = g;
    }
  }
  std::vector<char> starts(items.size(), 0);
  for (const int i : ask.start) starts[static_cast<std::size_t>(i)] = 1;
  for (std::size_t g = 0; g < open.size() && !ask.start.empty(); ++g) {
    const bool whole = std::all_of(ready.group[g].begin(), ready.group[g].end(), [&](int i) {
      return starts[static_cast<std::size_t>(i)] != 0 || comes[static_cast<std::size_t>(i)] != 0;
    });
    if (open[g] != 0 && whole) start.push_back(static_cast<int>(g));
  }
}

std::vector<int> Question::items(const Ready& ready, const std::vector<int>& groups) const {
  std::vector<int> out_items = forced;
  for (const int g : groups) {
    const auto& members = ready.group[static_cast<std::size_t>(g)];
    out_items.insert(out_items.end(), members.begin(), members.end());
  }
  std::sort(out_items.begin(), out_items.end());
  out_items.erase(std::unique(out_items.begin(), out_items.end()), out_items.end());
  return out_items;
}

}  // namespace skerry::choose
