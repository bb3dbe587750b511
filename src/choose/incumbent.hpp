// The best kit known so far in a search, where it may come from before the search, and what makes a kit
// better. Room: choose, internal. Sees search.hpp.
#pragma once

#include <algorithm>
#include <limits>

#include "mask.hpp"
#include "meter.hpp"
#include "search.hpp"

namespace skerry::choose {

template <std::size_t W>
class Incumbent {
 public:
  Incumbent(const Reduced& problem, std::int64_t left, const Problem& original, std::vector<Found>* pool,
            Meter& meter)
      : p_(problem), original_(original), pool_(pool), meter_(meter), left_(left), words_(problem.words) {
    masks_.resize(p_.bundles.size());
    for (std::size_t s = 0; s < masks_.size(); ++s) {
      for (const int g : p_.bundles[s].groups) masks_[s].add(g);
    }
    // best_ is the empty addition until something is offered.
    take_from_pool();
    greedy_starts();
  }

  [[nodiscard]] const Found& best() const { return best_; }
  [[nodiscard]] const Mask<W>& mask(int bundle) const { return masks_[static_cast<std::size_t>(bundle)]; }
  [[nodiscard]] const std::uint64_t* cells(int bundle) const {
    return p_.bundles[static_cast<std::size_t>(bundle)].cells.data();
  }
  [[nodiscard]] std::int64_t weigh(const std::uint64_t* bits) const {
    std::int64_t sum = 0;
    each_cell(bits, words_, [&](std::size_t c) {
      sum += p_.weight[c];
      return true;
    });
    return sum;
  }
  /// Weight of a and not b; stops counting beyond `enough`.
  [[nodiscard]] std::int64_t weigh_lost(const std::uint64_t* a, const std::uint64_t* b,
                                        std::int64_t enough) const {
    std::int64_t sum = 0;
    for (std::size_t i = 0; i < words_ && sum <= enough; ++i) {
      for (std::uint64_t rest = a[i] & ~b[i]; rest != 0; rest &= rest - 1) {
        sum += p_.weight[i * 64 + static_cast<std::size_t>(std::countr_zero(rest))];
      }
    }
    return sum;
  }

  /// Takes the kit if it is better: more value, then less mass, then fewer things, then earlier names.
  void offer(std::int64_t value, std::int64_t mg, const std::vector<int>& groups) {
    if (pool_ != nullptr) remember(value, mg, groups);
    if (better(value, mg, groups)) {
      best_ = {groups, mg, value};
    }
  }
  [[nodiscard]] bool possible(const std::vector<int>& groups) const {
    return !original_.feasible || original_.feasible(original_items(groups));
  }
  [[nodiscard]] std::vector<int> groups_of(const Mask<W>& mask) const {
    std::vector<int> out;
    for (int g = 0; g < static_cast<int>(p_.group.size()); ++g) {
      if (mask.has(g)) out.push_back(g);
    }
    return out;
  }

 private:
  [[nodiscard]] std::vector<int> original_items(const std::vector<int>& groups) const {
    std::vector<int> items = p_.always;
    for (const int g : groups) {
      const auto& members = p_.group[static_cast<std::size_t>(g)];
      items.insert(items.end(), members.begin(), members.end());
    }
    std::sort(items.begin(), items.end());
    return items;
  }
  [[nodiscard]] std::vector<std::string> names(const std::vector<int>& groups) const {
    std::vector<std::string> out;
    for (const int i : original_items(groups))
      out.push_back(original_.items[static_cast<std::size_t>(i)].name);
    std::sort(out.begin(), out.end());
    return out;
  }
  [[nodiscard]] bool better(std::int64_t value, std::int64_t mg, const std::vector<int>& groups) const {
    if (value != best_.value) return value > best_.value;
    if (mg != best_.mg) return mg < best_.mg;
    const auto a = names(groups);
    const auto b = names(best_.groups);
    if (a.size() != b.size()) return a.size() < b.size();
    return a < b;
  }

  void remember(std::int64_t value, std::int64_t mg, const std::vector<int>& groups) {
    for (const auto& f : *pool_) {
      if (f.mg <= mg && f.value >= value) return;
    }
    std::erase_if(*pool_, [&](const Found& f) { return f.mg >= mg && f.value <= value; });
    pool_->push_back({groups, mg, value});
  }
  void take_from_pool() {
    if (pool_ == nullptr) return;
    const auto known = *pool_;
    for (const auto& f : known) {
      if (f.mg <= left_) offer(f.value, f.mg, f.groups);
    }
  }

  /// Adds the bundle with the most new weight per gram (or the most new weight) until nothing fits, from
  /// several first bundles.
  void greedy_starts() {
    std::vector<int> firsts(p_.bundles.size());
    std::vector<std::int64_t> alone(p_.bundles.size());
    for (std::size_t s = 0; s < firsts.size(); ++s) {
      firsts[s] = static_cast<int>(s);
      alone[s] = weigh(cells(static_cast<int>(s)));
    }
    std::stable_sort(firsts.begin(), firsts.end(), [&](int a, int b) {
      return alone[static_cast<std::size_t>(a)] > alone[static_cast<std::size_t>(b)];
    });
    // Judgement: a few ms at 400 bundles; more found nothing better in the benchmark.
    constexpr std::size_t starts = 24;
    for (std::size_t i = 0; i <= std::min(starts, firsts.size()); ++i) {
      for (const bool per_gram : {true, false}) {
        greedy(i == 0 ? -1 : firsts[i - 1], per_gram, alone);
        if (meter_.ended()) return;
      }
    }
  }
  /// most_gain: what each bundle adds to nothing.
  void greedy(int first, bool per_gram, std::vector<std::int64_t> most_gain) {
    Mask<W> in;
    Words covered(words_, 0);
    std::int64_t left = left_, mg = 0;
    std::vector<int> groups;
    std::vector<char> refused(p_.bundles.size(), 0);
    for (int next = first;;) {
      if (next < 0) next = steepest(in, covered, left, per_gram, refused, most_gain);
      if (next < 0) break;
      std::vector<int> with = groups;
      std::int64_t added = 0;
      for (const int g : p_.bundles[static_cast<std::size_t>(next)].groups) {
        if (in.has(g)) continue;
        with.push_back(g);
        added += p_.group_mg[static_cast<std::size_t>(g)];
      }
      refused[static_cast<std::size_t>(next)] = 1;
      if (added <= left && possible(with)) {
        groups = std::move(with);
        in.join(masks_[static_cast<std::size_t>(next)]);
        left -= added;
        mg += added;
        for (std::size_t i = 0; i < words_; ++i) covered[i] |= cells(next)[i];
      }
      next = -1;
    }
    offer(worth(in), mg, groups);
  }
  [[nodiscard]] std::int64_t worth(const Mask<W>& in) const {
    Words covered(words_, 0);
    for (std::size_t s = 0; s < masks_.size(); ++s) {
      if (!masks_[s].within(in)) continue;
      for (std::size_t i = 0; i < words_; ++i) covered[i] |= p_.bundles[s].cells[i];
    }
    return weigh(covered.data());
  }
  /// most_gain: of a step before, and brought up to date where it matters; a gain only falls as more is covered.
  [[nodiscard]] int steepest(const Mask<W>& in, const Words& covered, std::int64_t left, bool per_gram,
                             const std::vector<char>& refused, std::vector<std::int64_t>& most_gain) const {
    int chosen = -1;
    double top = 0;
    meter_.work(masks_.size());
    for (std::size_t s = 0; s < masks_.size(); ++s) {
      if (refused[s] != 0 || most_gain[s] <= 0) continue;
      std::int64_t need = 0;
      for (const int g : p_.bundles[s].groups)
        need += in.has(g) ? 0 : p_.group_mg[static_cast<std::size_t>(g)];
      if (need > left) continue;
      const auto score = [&](std::int64_t gain) {
        return static_cast<double>(gain) / (per_gram ? static_cast<double>(need) + 1.0 : 1.0);
      };
      if (score(most_gain[s]) <= top) continue;
      meter_.work(words_);
      most_gain[s] = weigh_lost(cells(static_cast<int>(s)), covered.data(),
                                std::numeric_limits<std::int64_t>::max() / 2);
      if (most_gain[s] > 0 && score(most_gain[s]) > top) {
        top = score(most_gain[s]);
        chosen = static_cast<int>(s);
      }
    }
    return chosen;
  }

  const Reduced& p_;
  const Problem& original_;
  std::vector<Found>* pool_;
  Meter& meter_;
  std::int64_t left_;
  std::size_t words_;
  std::vector<Mask<W>> masks_;
  Found best_;
};

}  // namespace skerry::choose
