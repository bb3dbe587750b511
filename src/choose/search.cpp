#include "search.hpp"

#include <algorithm>
#include <cmath>

#include "incumbent.hpp"

namespace skerry::choose {

namespace {

template <std::size_t W>
class Search {
 public:
  Search(const Reduced& problem, std::int64_t left, const Problem& original, const Stop& stop,
         std::vector<Found>* pool)
      : p_(problem),
        original_(original),
        meter_(stop),
        words_(problem.words),
        known_(problem, left, original, pool, meter_) {
    root_.left = left;
  }

  SearchResult run() {
    root_.covered.assign(words_, 0);
    root_.open.resize(p_.bundles.size());
    root_.need.resize(p_.bundles.size());
    for (std::size_t s = 0; s < p_.bundles.size(); ++s) {
      root_.open[s] = static_cast<int>(s);
      root_.need[s] = p_.bundles[s].mg;
    }
    frames_.resize(p_.group.size() + 2);
    frames_[0] = root_;
    settle(frames_[0]);  // its bound stands, whenever the search is stopped
    visit(0);
    SearchResult out;
    out.proved = !stopped_;
    out.bound = stopped_ ? std::max(open_bound_, known_.best().value) : known_.best().value;
    out.nodes = meter_.nodes();
    out.best = known_.best();
    std::sort(out.best.groups.begin(), out.best.groups.end());
    return out;
  }

 private:
  struct Frame {
    Mask<W> in, out;
    std::int64_t left = 0, mg = 0, value = 0, bound = 0;
    std::vector<int> open;
    std::vector<std::int64_t> need;
    Words covered, all;
  };

  [[nodiscard]] const std::uint64_t* cells(int bundle) const { return known_.cells(bundle); }

  /// Drops what can no longer be completed, takes in what is complete. Leaves `all` and `bound` up to date.
  void settle(Frame& f) {
    meter_.work(f.open.size() * words_);
    std::size_t kept = 0;
    bool grew = false;
    for (std::size_t k = 0; k < f.open.size(); ++k) {
      const int s = f.open[k];
      const auto& mask = known_.mask(s);
      if (f.need[k] > f.left || mask.meets(f.out)) continue;
      if (mask.within(f.in)) {
        for (std::size_t i = 0; i < words_; ++i) f.covered[i] |= cells(s)[i];
        grew = true;
        continue;
      }
      f.open[kept] = s;
      f.need[kept] = f.need[k];
      ++kept;
    }
    f.open.resize(kept);
    f.need.resize(kept);
    if (grew) f.value = known_.weigh(f.covered.data());
    f.all = f.covered;
    for (const int s : f.open) {
      for (std::size_t i = 0; i < words_; ++i) f.all[i] |= cells(s)[i];
    }
    f.bound = known_.weigh(f.all.data());
  }

  void take(Frame& f, int g) {
    f.in.add(g);
    f.left -= p_.group_mg[static_cast<std::size_t>(g)];
    f.mg += p_.group_mg[static_cast<std::size_t>(g)];
    for (std::size_t k = 0; k < f.open.size(); ++k) {
      if (known_.mask(f.open[k]).has(g)) f.need[k] -= p_.group_mg[static_cast<std::size_t>(g)];
    }
  }

  /// Settles, shrinks the allowance where only a tie by mass is left to win; false: nothing better below.
  bool worth_visiting(Frame& f) {
    settle(f);
    if (f.bound > known_.best().value) return true;
    if (f.bound < known_.best().value) return false;
    for (;;) {
      // Only as much reach as already found: then it must come lighter, or as light with fewer or earlier
      // names.
      const std::int64_t spare = known_.best().mg - f.mg;
      if (spare < 0) return false;
      if (spare >= f.left) return true;
      f.left = spare;
      settle(f);
      if (f.bound < known_.best().value) return false;
    }
  }

  enum class Probe { nothing, changed, hopeless };

  /// What each open cell cannot do without: the groups that all open bundles serving it share. Sums, per
  /// group, the weight that goes when the group stays at home, and gives the weight that depends on no single
  /// group.
  std::int64_t find_owners(const Frame& f) {
    owners_.resize(words_ * 64);
    seen_.assign(words_, 0);
    loose_.assign(words_, 0);
    std::size_t met = 0;
    for (const int s : f.open) {
      const auto& mask = known_.mask(s);
      for (std::size_t i = 0; i < words_; ++i) {
        const std::uint64_t fresh = cells(s)[i] & ~f.covered[i] & ~loose_[i];
        for (std::uint64_t rest = fresh; rest != 0; rest &= rest - 1) {
          const std::size_t c = i * 64 + static_cast<std::size_t>(std::countr_zero(rest));
          if (((seen_[i] >> (c % 64)) & 1U) == 0) {
            owners_[c] = mask;
          } else {
            owners_[c].meet(mask);
            // What needs nothing in common any more never will.
            if (owners_[c].within(f.in)) loose_[i] |= rest & (~rest + 1);
          }
          ++met;
        }
        seen_[i] |= fresh;
      }
    }
    meter_.work(f.open.size() * words_ + met * (W + 1));
    lost_out_.assign(p_.group.size(), 0);
    owned_.assign(p_.group.size(), 0);
    std::int64_t free = 0;
    each_cell(seen_.data(), words_, [&](std::size_t c) {
      Mask<W> mask = owners_[c];
      mask.take_away(f.in);
      // All of the owners must come: any split of the weight between them is a valid price; by mass it is
      // even.
      std::int64_t mg = 0;
      int heaviest = -1;
      mask.each([&](int g) {
        lost_out_[static_cast<std::size_t>(g)] += p_.weight[c];
        mg += p_.group_mg[static_cast<std::size_t>(g)];
        if (heaviest < 0 ||
            p_.group_mg[static_cast<std::size_t>(g)] > p_.group_mg[static_cast<std::size_t>(heaviest)]) {
          heaviest = g;
        }
      });
      if (heaviest < 0) {
        free += p_.weight[c];
        return true;
      }
      std::int64_t rest = p_.weight[c];
      if (mg > 0) {
        const double per_mg = static_cast<double>(p_.weight[c]) / static_cast<double>(mg);
        mask.each([&](int g) {
          const auto part =
              std::min(rest, static_cast<std::int64_t>(
                                 per_mg * static_cast<double>(p_.group_mg[static_cast<std::size_t>(g)])));
          owned_[static_cast<std::size_t>(g)] += part;
          rest -= part;
        });
      }
      owned_[static_cast<std::size_t>(heaviest)] += rest;
      return true;
    });
    return free;
  }

  /// An upper bound that sees mass: every owned cell is bought with its owners, the allowance spent where a
  /// gram buys most, the last purchase in part (Dantzig 1957, the fractional knapsack); ownerless cells come
  /// free.
  std::int64_t knapsack_bound(const Frame& f, std::int64_t free) {
    shelf_.clear();
    std::int64_t sum = f.value + free;
    for (int g = 0; g < static_cast<int>(p_.group.size()); ++g) {
      if (owned_[static_cast<std::size_t>(g)] > 0) shelf_.push_back(g);
    }
    const auto per_gram = [&](int g) {
      return static_cast<double>(owned_[static_cast<std::size_t>(g)]) /
             (static_cast<double>(p_.group_mg[static_cast<std::size_t>(g)]) + 1e-9);
    };
    std::sort(shelf_.begin(), shelf_.end(), [&](int a, int b) {
      const double x = per_gram(a), y = per_gram(b);
      return x != y ? x > y : a < b;
    });
    std::int64_t left = f.left;
    for (const int g : shelf_) {
      const std::int64_t mg = p_.group_mg[static_cast<std::size_t>(g)];
      if (mg <= left) {
        left -= mg;
        sum += owned_[static_cast<std::size_t>(g)];
      } else {
        // One in 10^12 upwards for the rounding of the quotient: the bound stays a bound.
        const double part = per_gram(g) * static_cast<double>(left) * (1 + 1e-12);
        return sum + static_cast<std::int64_t>(std::ceil(part)) + 1;
      }
    }
    return sum;
  }

  /// Tries every open group both ways, and fixes what cannot be otherwise.
  Probe probe(Frame& f) {
    const std::size_t n = f.open.size();
    if (n == 0) return Probe::nothing;
    const std::int64_t slack = f.bound - known_.best().value;  // losing more than this is hopeless
    if (knapsack_bound(f, find_owners(f)) < known_.best().value) return Probe::hopeless;
    // Open bundles by what they still need.
    order_.resize(n);
    for (std::size_t k = 0; k < n; ++k) order_[k] = k;
    std::sort(order_.begin(), order_.end(), [&](std::size_t a, std::size_t b) {
      return f.need[a] != f.need[b] ? f.need[a] < f.need[b] : f.open[a] < f.open[b];
    });
    meter_.work(2 * n * words_);
    prefix_.resize((n + 1) * words_);
    std::copy(f.covered.begin(), f.covered.end(), prefix_.begin());
    for (std::size_t k = 0; k < n; ++k) {
      const auto* row = cells(f.open[order_[k]]);
      for (std::size_t i = 0; i < words_; ++i)
        prefix_[(k + 1) * words_ + i] = prefix_[k * words_ + i] | row[i];
    }
    Mask<W> candidates;
    for (const int s : f.open) candidates.join(known_.mask(s));
    candidates.take_away(f.in);
    scratch_.resize(words_);
    branch_group_ = -1;
    Probe found = Probe::nothing;
    candidates.each([&](int g) {
      if (found != Probe::nothing) return;
      // Taken: bundles with g still fit, others only under the smaller allowance.
      const std::int64_t rest = f.left - p_.group_mg[static_cast<std::size_t>(g)];
      const auto fit =
          static_cast<std::size_t>(std::partition_point(order_.begin(), order_.end(),
                                                        [&](std::size_t k) { return f.need[k] <= rest; }) -
                                   order_.begin());
      meter_.work(n - fit + 2 * words_);
      std::copy_n(prefix_.begin() + static_cast<std::ptrdiff_t>(fit * words_), words_, scratch_.begin());
      for (std::size_t o = fit; o < n; ++o) {
        const int s = f.open[order_[o]];
        if (!known_.mask(s).has(g)) continue;
        for (std::size_t i = 0; i < words_; ++i) scratch_[i] |= cells(s)[i];
      }
      const auto lost_in = known_.weigh_lost(f.all.data(), scratch_.data(), slack);
      const auto lost_out = std::min(slack + 1, lost_out_[static_cast<std::size_t>(g)]);
      if (lost_in > slack && lost_out > slack) {
        found = Probe::hopeless;
      } else if (lost_in > slack) {
        f.out.add(g);
        found = Probe::changed;
      } else if (lost_out > slack) {
        take(f, g);
        found = Probe::changed;
      }
      // Branch where both sides lose much: the product rule of strong branching (Achterberg, Koch and Martin
      // 2005).
      const double score = (static_cast<double>(lost_in) + 1) * (static_cast<double>(lost_out) + 1);
      if (branch_group_ < 0 || score > branch_score_) {
        branch_score_ = score;
        branch_group_ = g;
      }
    });
    return found;
  }

  /// Bundles that could be completed only by losing too much elsewhere count for nothing below.
  bool probe_bundles(Frame& f) {
    const std::size_t n = f.open.size();
    const std::int64_t slack = f.bound - known_.best().value;
    bool dropped = false;
    std::size_t kept = 0;
    gone_.assign(n, 0);
    for (std::size_t k = 0; k < n && !meter_.ended(); ++k) {
      meter_.work(n);
      const auto& mine = known_.mask(f.open[k]);
      const std::int64_t rest = f.left - f.need[k];
      std::copy(f.covered.begin(), f.covered.end(), scratch_.begin());
      for (std::size_t o = 0; o < n; ++o) {
        if (gone_[o] != 0) continue;
        const int s = f.open[o];
        if (f.need[o] > rest) {
          // What of it is not in mine and not in the kit yet?
          std::int64_t extra = f.need[o];
          for (const int g : p_.bundles[static_cast<std::size_t>(s)].groups) {
            if (mine.has(g) && !f.in.has(g)) extra -= p_.group_mg[static_cast<std::size_t>(g)];
          }
          if (extra > rest) continue;
        }
        meter_.work(words_);
        for (std::size_t i = 0; i < words_; ++i) scratch_[i] |= cells(s)[i];
      }
      if (known_.weigh_lost(f.all.data(), scratch_.data(), slack) > slack) {
        gone_[k] = 1;
        dropped = true;
      }
    }
    if (!dropped) return false;
    for (std::size_t k = 0; k < n; ++k) {
      if (gone_[k] != 0) continue;
      f.open[kept] = f.open[k];
      f.need[kept] = f.need[k];
      ++kept;
    }
    f.open.resize(kept);
    f.need.resize(kept);
    return true;
  }

  void visit(std::size_t depth) {
    Frame& f = frames_[depth];
    for (;;) {
      if (stopped_) {
        open_bound_ = std::max(open_bound_, f.bound);
        return;
      }
      if (meter_.node()) stopped_ = true;
      for (;;) {
        if (!worth_visiting(f)) return;
        if (f.value > known_.best().value || (f.value == known_.best().value && f.mg <= known_.best().mg)) {
          const auto groups = known_.groups_of(f.in);
          if (original_.feasible && !known_.possible(groups)) return;
          known_.offer(f.value, f.mg, groups);
          if (f.bound < known_.best().value) return;
        }
        if (f.open.empty()) return;
        if (!stopped_ && meter_.ended()) {
          stopped_ = true;
          open_bound_ = std::max(open_bound_, f.bound);
          return;
        }
        const Probe found = probe(f);
        if (found == Probe::hopeless) return;
        if (found == Probe::changed) continue;
        if (probe_bundles(f)) continue;
        break;
      }
      if (branch_group_ < 0) return;
      const int g = branch_group_;
      Frame& child = frames_[depth + 1];
      child = f;
      take(child, g);
      if (!original_.feasible || known_.possible(known_.groups_of(child.in))) visit(depth + 1);
      f.out.add(g);
    }
  }

  const Reduced& p_;
  const Problem& original_;
  Meter meter_;
  std::size_t words_;
  Incumbent<W> known_;
  Frame root_;
  std::vector<Frame> frames_;
  bool stopped_ = false;
  std::int64_t open_bound_ = 0;
  std::vector<std::size_t> order_;
  Words prefix_, scratch_, seen_, loose_;
  std::vector<Mask<W>> owners_;
  std::vector<std::int64_t> lost_out_, owned_;
  std::vector<int> shelf_;
  std::vector<char> gone_;
  int branch_group_ = -1;
  double branch_score_ = 0;
};

}  // namespace

SearchResult search(const Reduced& problem, std::int64_t left_mg, const Problem& original, const Stop& stop,
                    std::vector<Found>* pool) {
  if (problem.group.size() <= 64) return Search<1>(problem, left_mg, original, stop, pool).run();
  if (problem.group.size() <= 128) return Search<2>(problem, left_mg, original, stop, pool).run();
  if (problem.group.size() <= 256) return Search<4>(problem, left_mg, original, stop, pool).run();
  if (problem.group.size() <= 1024) return Search<16>(problem, left_mg, original, stop, pool).run();
  return Search<0>(problem, left_mg, original, stop, pool).run();
}

}  // namespace skerry::choose
