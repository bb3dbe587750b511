// The best kit known so far in a search, where it may come from before the search, and what makes a kit
// better. Room: choose, internal. Sees search.hpp.
#pragma once

#include <tuple>

#include "look.hpp"
#include "search.hpp"

namespace skerry::choose {

template <std::size_t W>
class Incumbent {
 public:
  Incumbent(Look<W>& look, Known& known, Meter& meter)
      : look_(look), r_(look.ready()), q_(look.question()), known_(known), meter_(meter) {}

  /// The kit with nothing added; then what was known before, the given start, and what thinning finds.
  void begin(const Frame<W>& root) {
    left_ = root.left;
    best_.value = root.value;
    best_ms_ = root.ms;
    const auto found = known_.kits;
    for (const auto& kit : found) {
      if (kit.mg <= left_) offer(kit.value, kit.mg, kit.groups);
    }
    if (!q_.start.empty()) thin(only(root, q_.start), true);
    if (best_.value > root.value) return;
    for (const bool per_gram : {true, false}) {
      grow(root, per_gram);
      if (meter_.ended()) return;
      thin(root, per_gram);
      if (meter_.ended()) return;
    }
  }

  [[nodiscard]] const Found& best() const { return best_; }
  [[nodiscard]] const std::vector<std::int64_t>& best_ms() const { return best_ms_; }

  /// Takes the kit if it is better: more worth, then less mass, then fewer things, then earlier names.
  void offer(std::int64_t value, std::int64_t mg, const std::vector<int>& groups) {
    if (known_.keep) remember(value, mg, groups);
    if (!better(value, mg, groups)) return;
    best_ = {groups, mg, value};
    best_ms_ = r_.clock.own_ms;
    const auto add = [&](int g) {
      for (const auto& fed : look_.feeds_of(g)) {
        auto& ms = best_ms_[static_cast<std::size_t>(fed.engine)];
        ms = std::min(no_limit_ms, ms + fed.ms);
      }
    };
    for (const int g : q_.in) add(g);
    for (const int g : groups) add(g);
  }
  [[nodiscard]] bool possible(const std::vector<int>& groups) const {
    if (!r_.problem.feasible) return true;
    const auto is_part = [](const std::vector<int>& small, const std::vector<int>& big) {
      return std::includes(big.begin(), big.end(), small.begin(), small.end());
    };
    for (const auto& kit : known_.possible) {
      if (is_part(groups, kit)) return true;
    }
    for (const auto& kit : known_.impossible) {
      if (is_part(kit, groups)) return false;
    }
    const bool yes = r_.problem.feasible(q_.items(r_, groups));
    auto& list = yes ? known_.possible : known_.impossible;
    std::erase_if(list, [&](const auto& kit) { return yes ? is_part(kit, groups) : is_part(groups, kit); });
    list.push_back(groups);
    return yes;
  }
  /// What a frame takes beyond what the question takes, sorted.
  [[nodiscard]] std::vector<int> groups_of(const Frame<W>& f) const {
    std::vector<int> out;
    f.in.each([&](int g) { out.push_back(g); });
    for (const int g : q_.in) out.erase(std::lower_bound(out.begin(), out.end(), g));
    return out;
  }

 private:
  [[nodiscard]] std::vector<int> names(const std::vector<int>& groups) const {
    std::vector<int> out;
    for (const int i : q_.items(r_, groups)) out.push_back(r_.rank[static_cast<std::size_t>(i)]);
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
    for (const auto& f : known_.kits) {
      if (f.mg <= mg && f.value >= value) return;
    }
    std::erase_if(known_.kits, [&](const Found& f) { return f.mg >= mg && f.value <= value; });
    known_.kits.push_back({groups, mg, value});
  }

  [[nodiscard]] Frame<W> only(const Frame<W>& root, const std::vector<int>& groups) const {
    Frame<W> f = root;
    Mask<W> kit = f.in;
    for (const int g : groups) kit.add(g);
    for (int g = 0; g < static_cast<int>(r_.group.size()); ++g) {
      if (!kit.has(g)) look_.leave(f, g);
    }
    return f;
  }
  /// Everything goes at first; what is missed least (per gram, or at all) stays, one group after another, until the
  /// rest may be carried.
  void thin(Frame<W> f, bool per_gram) {
    f.left = no_limit_ms;
    for (;;) {
      look_.settle(f);
      look_.find_candidates(f);
      const auto kit = look_.candidates();
      std::int64_t mg = 0;
      for (const int g : kit) mg += look_.mg(g);
      std::vector<int> all = groups_of(f);
      all.insert(all.end(), kit.begin(), kit.end());
      std::sort(all.begin(), all.end());
      if (f.mg + mg <= left_ && possible(all)) {
        offer(f.bound, f.mg + mg, all);
        return;
      }
      if (kit.empty()) return;
      look_.find_owners(f);
      look_.narrow(f, lists_);
      missed_.clear();
      for (const int g : kit) {
        const int behind = q_.behind[static_cast<std::size_t>(g)];
        if (behind >= 0 && !f.out.has(behind)) continue;
        const double lost = static_cast<double>(f.bound - look_.bound_without(f, g)) + 1;
        missed_.push_back({per_gram ? lost / (static_cast<double>(look_.mg(g)) + 1) : lost, -look_.mg(g), g});
      }
      // Of very many, some at once.
      const auto some = static_cast<std::ptrdiff_t>(missed_.size() / 64 + 1);
      std::partial_sort(missed_.begin(), missed_.begin() + some, missed_.end());
      for (auto m = missed_.begin(); m != missed_.begin() + some; ++m) look_.leave(f, std::get<2>(*m));
      if (meter_.ended() && best_.value > 0) return;
    }
  }

  /// Adds the way that brings most (per gram, or at all) until none fits.
  void grow(Frame<W> f, bool per_gram) {
    for (;;) {
      look_.settle(f);
      if (f.value > best_.value || f.mg == 0) offer(f.value, f.mg, groups_of(f));
      // The first kit of all is finished, whoever waits.
      if (!per_gram && meter_.ended()) return;
      look_.narrow(f, lists_);
      const auto next = look_.steepest(f, per_gram);
      if (next.empty()) return;
      Frame<W> with = f;
      for (const int g : next) look_.take(with, g);
      if (possible(groups_of(with))) {
        f = std::move(with);
      } else {
        // One of them at least may not come: the heaviest is let go.
        look_.leave(f, *std::max_element(next.begin(), next.end(),
                                         [&](int a, int b) { return look_.mg(a) < look_.mg(b); }));
      }
    }
  }

  Look<W>& look_;
  const Ready& r_;
  const Question& q_;
  Known& known_;
  Meter& meter_;
  std::int64_t left_ = 0;
  Found best_;
  std::vector<std::int64_t> best_ms_;
  Ready::Lists lists_;
  std::vector<std::tuple<double, std::int64_t, int>> missed_;
};

}  // namespace skerry::choose
