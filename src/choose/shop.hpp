// An upper bound that sees mass: everything is bought by the gram.
// Room: choose, internal. Sees look.hpp.
//
// What engine e is worth in a spell, with hours h and gains U(t), has for any price l >= 0 of an hour
//   max{sum x U/A: 0 <= x <= amount, sum x <= h} <= l h + sum over t of phi(U(t)),
//   phi(u) = max{0, amount (u/A - l)}
// (each x U/A is l x + x (U/A - l), the second at most phi; weak duality). By its owners (Look::find_owners) a kit K
// has U(t) <= free(t) + sum over its groups g of part(g,t) <= top(t); phi is convex, so that between free and top
//   phi(U) <= phi(free) + s (U - free),   s = (phi(top) - phi(free)) / (top - free).
// h is what the engine has and the sum of what K feeds it. So the worth of K is at most a constant and a sum over its
// groups: a knapsack, bounded by its fractional one (Dantzig 1957). Several prices of the hour are tried, and the least
// of the bounds holds.
// Several engines: a spell is worth at most the greatest constant and, per group, the greatest price. But an engine of
// which nothing works yet needs its key first. So: either one engine alone comes to work and its key is paid
// before all else, or two and both keys are paid; the greater of these bounds holds.
#pragma once

#include <cmath>
#include <limits>

#include "look.hpp"

namespace skerry::choose {

template <std::size_t W>
class Shop {
 public:
  explicit Shop(Look<W>& look)
      : look_(look), r_(look.ready()), engines_(r_.feeds.size()), spells_(r_.clock.spells.size()) {
    slope_.resize(r_.clock.places());
  }

  /// After Look::find_owners. `known_ms`: hours of each engine in the best kit known.
  void price(const Frame<W>& f, const std::vector<std::int64_t>& known_ms) {
    n_ = look_.candidates_.size();
    bool hours = false;
    for (std::size_t e = 0; e < engines_; ++e)
      hours = hours || (look_.usable_[e] != 0 && f.ms[e] < look_.enough_ms_[e]);
    prices_ = hours ? 6 : 1;
    fixed_.assign(prices_ * (engines_ + 1), 0);
    profit_.assign(prices_ * (engines_ + 1) * n_, 0);
    one_.resize(engines_ * n_);
    for (std::size_t k = 0; k < prices_; ++k) {
      for (std::size_t d = 0; d < spells_; ++d) add_spell(f, known_ms, k, d);
    }
    all_ = -1;
    per_mg_ = 0;
    with_.assign(n_, -1);
    without_.assign(n_, -1);
    visit_cases(f);
    look_.meter_.work(prices_ * (engines_ + 1) * n_ *
                      (8 + spells_ * static_cast<std::size_t>(r_.clock.turns)));
  }

  /// After price: groups that are worth more than their room bear less of what they own with others from now on, and
  /// those that are worth less bear more: so the bounds to come are lower (a step towards the least of all
  /// divisions, which is a linear program).
  void learn() {
    if (per_mg_ <= 0) return;
    for (std::size_t i = 0; i < n_; ++i) {
      const int g = look_.candidates_[i];
      const double worth = learnt_[i], costs = per_mg_ * static_cast<double>(look_.mg(g));
      if (worth > 0 && costs > 0) look_.reload(g, std::sqrt(std::clamp(costs / worth, 0.1, 10.0)));
    }
  }

  [[nodiscard]] std::int64_t bound() const { return up(all_); }
  /// By the place of the group in Look::candidates.
  [[nodiscard]] std::int64_t bound_with(std::size_t i) const { return up(with_[i]); }
  [[nodiscard]] std::int64_t bound_without(std::size_t i) const { return up(without_[i]); }

 private:
  static constexpr double impossible = -1;

  [[nodiscard]] static std::int64_t up(double value) {
    // One in 10^12 upwards for the rounding of the sums.
    if (value < 0) return -1;
    if (value >= 0x1p62) return std::numeric_limits<std::int64_t>::max();
    return static_cast<std::int64_t>(value * (1 + 1e-12)) + 1;
  }
  [[nodiscard]] double& fixed(std::size_t k, std::size_t which) { return fixed_[k * (engines_ + 1) + which]; }
  [[nodiscard]] double* profit(std::size_t k, std::size_t which) {
    return profit_.data() + (k * (engines_ + 1) + which) * n_;
  }

  /// What the last hour brings with the hours that there are, that the best kit known has, that there could be, and
  /// half way between.
  [[nodiscard]] double hour_price(const Frame<W>& f, const std::vector<std::int64_t>& known_ms, std::size_t k,
                                  std::size_t d, std::size_t e) {
    const auto at = [&](std::int64_t ms) {
      return look_.scales_.marginal(d, static_cast<int>(e), look_.top_.data(), ms);
    };
    const std::int64_t has = f.ms[e], known = std::max(has, known_ms[e]), most = look_.up_[e];
    switch (k) {
      case 0:
        return 0;
      case 1:
        return at(most);
      case 2:
        return at(known);
      case 3:
        return at(has);
      case 4:
        return at(has + (most - has) / 2);
      default:
        return at(known + (most - known) / 2);
    }
  }

  void add_spell(const Frame<W>& f, const std::vector<std::int64_t>& known_ms, std::size_t k, std::size_t d) {
    const auto& groups = look_.candidates_;
    const std::size_t places = r_.clock.places();
    double most = 0;
    std::fill(one_.begin(), one_.end(), 0.0);
    for (std::size_t e = 0; e < engines_; ++e) {
      if (look_.usable_[e] == 0) continue;
      const double hour = hour_price(f, known_ms, k, d, e);
      const std::size_t begin = r_.clock.where(static_cast<int>(e), 0);
      // Of what is fed: hours in a spell are no more than either line of Clock::in_spell; that which is lower at the
      // best kit known.
      const std::int64_t best_fed = std::max(f.ms[e], known_ms[e]);
      const bool spread = r_.clock.in_spell(static_cast<int>(e), best_fed) < best_fed;
      const double fed_hour = spread ? hour / static_cast<double>(r_.clock.among_spells[e]) : hour;
      double sum = hour > 0 ? fed_hour * static_cast<double>(f.ms[e]) : 0;
      if (spread) sum += fed_hour * static_cast<double>(r_.clock.more_ms[e]);
      for (const auto& part : r_.clock.spells[d].parts) {
        const std::size_t w = begin + static_cast<std::size_t>(part.turn);
        const double share = static_cast<double>(part.share), cost = hour * static_cast<double>(part.ms);
        const double top = static_cast<double>(look_.top_[w]), free = static_cast<double>(look_.free_[w]);
        const double phi_top = std::max(0.0, top * share - cost),
                     phi_free = std::max(0.0, free * share - cost);
        sum += phi_free;
        slope_[w] = top > free ? (phi_top - phi_free) / (top - free) : 0;
      }
      for (std::size_t i = 0; i < n_; ++i) {
        const auto* owned = &look_.owned_[static_cast<std::size_t>(groups[i]) * places];
        double p = 0;
        for (const auto& part : r_.clock.spells[d].parts) {
          const std::size_t w = begin + static_cast<std::size_t>(part.turn);
          p += slope_[w] * owned[w].part;
        }
        for (const auto& fed : look_.feeds_of(groups[i]))
          p += static_cast<std::size_t>(fed.engine) == e ? fed_hour * static_cast<double>(fed.ms) : 0;
        one_[e * n_ + i] = p;
        profit(k, e)[i] += p;
      }
      fixed(k, e) += sum;
      most = std::max(most, sum);
    }
    fixed(k, engines_) += most;
    for (std::size_t i = 0; i < n_; ++i) {
      double top = 0;
      for (std::size_t e = 0; e < engines_; ++e) top = std::max(top, one_[e * n_ + i]);
      profit(k, engines_)[i] += top;
    }
  }

  void visit_cases(const Frame<W>& f) {
    std::size_t usable = 0, active = 0;
    for (std::size_t e = 0; e < engines_; ++e) {
      usable += look_.usable_[e] != 0 ? 1 : 0;
      active += look_.active_[e] != 0 ? 1 : 0;
    }
    // What each sleeping engine needs that no other sleeping one needs: the two lightest such.
    std::int64_t least = 0, next = 0;
    std::size_t asleep = 0;
    Mask<W> paid;
    for (std::size_t e = 0; e < engines_; ++e) {
      if (look_.usable_[e] == 0 || look_.active_[e] != 0) continue;
      Mask<W> own = look_.keys_[e];
      for (std::size_t o = 0; o < engines_ && usable > 1; ++o) {
        if (o != e && look_.usable_[o] != 0) own.take_away(look_.keys_[o]);
      }
      const std::int64_t weighs = mass_of(own);
      paid.join(own);
      if (asleep == 0 || weighs < least) {
        next = least;
        least = weighs;
      } else if (asleep == 1 || weighs < next) {
        next = weighs;
      }
      ++asleep;
    }
    if (active <= 1) {
      for (std::size_t e = 0; e < engines_; ++e) {
        if (look_.usable_[e] != 0 && (active == 0 || look_.active_[e] != 0))
          buy(e, look_.keys_[e], true, f.left - mass_of(look_.keys_[e]));
      }
    }
    if (usable > 1) {
      const std::int64_t keys = active == 0 ? least + next : active == 1 ? least : 0;
      buy(engines_, paid, false, f.left - keys);
    }
    if (usable == 0) all_ = 0;
  }
  [[nodiscard]] std::int64_t mass_of(const Mask<W>& mask) const {
    std::int64_t sum = 0;
    mask.each([&](int g) { sum += look_.mg(g); });
    return sum;
  }

  /// One case: its least bound over the prices of the hour; as it is, and with each group decided. `paid` is not
  /// paid again; all of it is needed, or some.
  void buy(std::size_t which, const Mask<W>& paid, bool all_needed, std::int64_t room) {
    if (room < 0) return;
    double whole = std::numeric_limits<double>::infinity();
    case_with_.assign(n_, whole);
    case_without_.assign(n_, whole);
    for (std::size_t k = 0; k < prices_; ++k) {
      const double* profit_of = profit(k, which);
      double sum = fixed(k, which);
      shelf_.clear();
      for (std::size_t i = 0; i < n_; ++i) {
        const int g = look_.candidates_[i];
        if (paid.has(g) || look_.mg(g) == 0) {
          sum += profit_of[i];
        } else if (profit_of[i] > 0) {
          shelf_.push_back({profit_of[i] / static_cast<double>(look_.mg(g)), profit_of[i], look_.mg(g), i});
        }
      }
      std::sort(shelf_.begin(), shelf_.end(), [](const Good& a, const Good& b) {
        return a.per_mg != b.per_mg ? a.per_mg > b.per_mg : a.i < b.i;
      });
      mg_.assign(1, 0);
      worth_.assign(1, 0);
      for (const auto& good : shelf_) {
        mg_.push_back(mg_.back() + good.mg);
        worth_.push_back(worth_.back() + good.profit);
      }
      const double as_it_is = sum + filled(room, shelf_.size());
      if (as_it_is < whole) {
        whole = as_it_is;
        const auto over = std::upper_bound(mg_.begin(), mg_.end(), room);
        case_per_mg_ =
            over == mg_.end() ? 0 : shelf_[static_cast<std::size_t>(over - mg_.begin()) - 1].per_mg;
        case_profit_.assign(profit_of, profit_of + n_);
      }
      place_.assign(n_, shelf_.size());
      for (std::size_t p = 0; p < shelf_.size(); ++p) place_[shelf_[p].i] = p;
      for (std::size_t i = 0; i < n_; ++i) {
        const int g = look_.candidates_[i];
        const std::int64_t weighs = look_.mg(g);
        double with = as_it_is, without = as_it_is;
        if (paid.has(g) || weighs == 0) {
          without = all_needed && paid.has(g) ? impossible : as_it_is - profit_of[i];
        } else {
          with = room < weighs ? impossible
                               : sum + std::max(0.0, profit_of[i]) + filled(room - weighs, place_[i]);
          if (place_[i] < shelf_.size()) without = sum + filled(room, place_[i]);
        }
        case_with_[i] = std::min(case_with_[i], with);
        case_without_[i] = std::min(case_without_[i], without);
      }
    }
    if (whole > all_) {
      all_ = whole;
      per_mg_ = case_per_mg_;
      learnt_.swap(case_profit_);
    }
    for (std::size_t i = 0; i < n_; ++i) {
      with_[i] = std::max(with_[i], case_with_[i]);
      without_[i] = std::max(without_[i], case_without_[i]);
    }
  }
  /// The fractional knapsack of the shelf less the good at one place.
  [[nodiscard]] double filled(std::int64_t room, std::size_t gone) const {
    const bool passes_it = gone < shelf_.size() && mg_[gone] <= room;
    const std::int64_t extra_mg = passes_it ? shelf_[gone].mg : 0;
    const double extra = passes_it ? shelf_[gone].profit : 0;
    // The first good that does not fit whole.
    const auto from = mg_.begin() + static_cast<std::ptrdiff_t>(passes_it ? gone + 1 : 0);
    const auto over = std::upper_bound(from, mg_.end(), room + extra_mg);
    const auto count = static_cast<std::size_t>(over - mg_.begin()) - 1;
    double sum = worth_[count] - extra;
    if (over != mg_.end()) sum += shelf_[count].per_mg * static_cast<double>(room + extra_mg - mg_[count]);
    return sum;
  }

  struct Good {
    double per_mg = 0, profit = 0;
    std::int64_t mg = 0;
    std::size_t i = 0;
  };

  Look<W>& look_;
  const Ready& r_;
  std::size_t engines_, spells_, n_ = 0, prices_ = 1;
  std::vector<double> slope_;           ///< at clock.where(engine, turn)
  std::vector<double> fixed_, profit_;  ///< per price, engine (the last: several), candidate
  std::vector<double> one_;             ///< per engine, candidate: of one spell
  double all_ = 0;
  double per_mg_ = 0, case_per_mg_ = 0;       ///< what the last of the room brings, in the greatest case
  std::vector<double> learnt_, case_profit_;  ///< what the groups are worth there
  std::vector<double> with_, without_, case_with_, case_without_;
  std::vector<Good> shelf_;
  std::vector<std::int64_t> mg_;
  std::vector<double> worth_;
  std::vector<std::size_t> place_;
};

}  // namespace skerry::choose
