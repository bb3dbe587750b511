#include "even_out.hpp"

#include <algorithm>
#include <limits>
#include <random>

namespace skerry::choose {

namespace {

/// One limit over a set of bins: a bin's mass, a bin's room, a quota. All are counted alike.
struct Limit {
  std::uint64_t bins = 0;
  std::int64_t most = 0, used = 0;
  double scale = 1;  ///< of its excess, so that grams, litres and pieces compare
  [[nodiscard]] double excess(std::int64_t change) const {
    const std::int64_t over = used + change - most;
    return over > 0 ? static_cast<double>(over) * scale : 0;
  }
};

class Evening {
 public:
  Evening(std::span<const Bin> bins, std::span<const Parcel> parcels, std::span<const Quota> quotas)
      : bins_(bins), parcels_(parcels), quotas_(quotas) {
    double mg = 1, mm3 = 1;
    for (const auto& p : parcels) {
      mg += static_cast<double>(p.mg);
      mm3 += static_cast<double>(p.mm3);
    }
    for (std::size_t b = 0; b < bins.size(); ++b) {
      limits_.push_back({std::uint64_t{1} << b, std::max<std::int64_t>(bins[b].mg, 0), 0, 1 / mg});
      limits_.push_back({std::uint64_t{1} << b, std::max<std::int64_t>(bins[b].mm3, 0), 0, 1 / mm3});
    }
    for (const auto& q : quotas) {
      std::int64_t all = 1;
      for (const std::int64_t a : q.amounts) all += a;
      limits_.push_back({q.bins, q.most, 0, 1 / static_cast<double>(all)});
    }
    where_.assign(parcels.size(), 0);
  }

  bool run(std::uint64_t& moves, std::vector<int>& place) {
    if (parcels_.empty()) return false;
    spread();
    while (moves > 0) {
      while (excess() > 0 && moves > 0 && improve(moves)) {
      }
      if (excess() <= 0) {
        place.assign(where_.begin(), where_.end());
        return true;
      }
      shake();
    }
    return false;
  }

 private:
  [[nodiscard]] std::int64_t amount(std::size_t limit, std::size_t k) const {
    if (limit < 2 * bins_.size()) return limit % 2 == 0 ? parcels_[k].mg : parcels_[k].mm3;
    return quotas_[limit - 2 * bins_.size()].amounts[k];
  }
  [[nodiscard]] static bool in(std::uint64_t set, std::size_t b) { return ((set >> b) & 1U) != 0; }
  [[nodiscard]] double excess() const {
    double out = 0;
    for (const auto& l : limits_) out += l.excess(0);
    return out;
  }
  void put(std::size_t k, std::size_t b, int sign) {
    for (std::size_t l = 0; l < limits_.size(); ++l) {
      if (in(limits_[l].bins, b)) limits_[l].used += sign * amount(l, k);
    }
    if (sign > 0) where_[k] = static_cast<int>(b);
  }
  /// Each parcel in turn where it leaves most room by mass and by volume.
  void spread() {
    for (std::size_t k = 0; k < parcels_.size(); ++k) {
      std::size_t best = bins_.size();
      double best_worth = 0;
      for (std::size_t b = 0; b < bins_.size(); ++b) {
        if (!in(parcels_[k].may, b)) continue;
        double over = 0;
        double left = std::numeric_limits<double>::max();
        for (std::size_t l = 0; l < limits_.size(); ++l) {
          if (!in(limits_[l].bins, b)) continue;
          over += limits_[l].excess(amount(l, k));
          const auto rest = limits_[l].most - limits_[l].used - amount(l, k);
          if (l < 2 * bins_.size()) left = std::min(left, static_cast<double>(rest) * limits_[l].scale);
        }
        const double worth = left - 1000 * over;
        if (best == bins_.size() || worth > best_worth) {
          best = b;
          best_worth = worth;
        }
      }
      put(k, best, 1);
    }
  }
  /// What the excess changes by when k goes to b, and j, where there is one, to where k was.
  [[nodiscard]] double change(std::size_t k, std::size_t b, const std::size_t* j) const {
    const auto from = static_cast<std::size_t>(where_[k]);
    double out = 0;
    const auto look = [&](std::size_t l) {
      const bool at_from = in(limits_[l].bins, from), at_b = in(limits_[l].bins, b);
      if (at_from == at_b) return;
      std::int64_t more = amount(l, k) - (j != nullptr ? amount(l, *j) : 0);
      if (at_from) more = -more;
      out += limits_[l].excess(more) - limits_[l].excess(0);
    };
    for (const std::size_t bin : {from, b}) {
      look(2 * bin);
      look(2 * bin + 1);
    }
    for (std::size_t l = 2 * bins_.size(); l < limits_.size(); ++l) look(l);
    return out;
  }
  bool improve(std::uint64_t& moves) {
    double best = -1e-15;
    std::size_t best_k = 0, best_b = 0, best_j = parcels_.size();
    const auto consider = [&](std::size_t k, std::size_t b, std::size_t j) {
      if (moves > 0) --moves;
      const double d = change(k, b, j < parcels_.size() ? &j : nullptr);
      if (d >= best) return;
      best = d;
      best_k = k;
      best_b = b;
      best_j = j;
    };
    for (std::size_t k = 0; k < parcels_.size(); ++k) {
      const auto from = static_cast<std::size_t>(where_[k]);
      for (std::size_t b = 0; b < bins_.size(); ++b) {
        if (b != from && in(parcels_[k].may, b)) consider(k, b, parcels_.size());
      }
      for (std::size_t j = k + 1; j < parcels_.size(); ++j) {
        const auto to = static_cast<std::size_t>(where_[j]);
        if (to != from && in(parcels_[k].may, to) && in(parcels_[j].may, from)) consider(k, to, j);
      }
    }
    if (best >= -1e-15) return false;
    const auto from = static_cast<std::size_t>(where_[best_k]);
    put(best_k, from, -1);
    if (best_j < parcels_.size()) {
      put(best_j, best_b, -1);
      put(best_j, from, 1);
    }
    put(best_k, best_b, 1);
    return true;
  }
  /// Three parcels somewhere else.
  void shake() {
    for (int n = 0; n < 3; ++n) {
      const std::size_t k = random_() % parcels_.size();
      std::size_t b = random_() % bins_.size();
      while (!in(parcels_[k].may, b)) b = (b + 1) % bins_.size();
      put(k, static_cast<std::size_t>(where_[k]), -1);
      put(k, b, 1);
    }
  }

  std::span<const Bin> bins_;
  std::span<const Parcel> parcels_;
  std::span<const Quota> quotas_;
  std::vector<Limit> limits_;
  std::vector<int> where_;
  std::minstd_rand random_{20261126};
};

}  // namespace

bool even_out(std::span<const Bin> bins, std::span<const Parcel> parcels, std::span<const Quota> quotas,
              std::uint64_t& moves, std::vector<int>& place) {
  return Evening(bins, parcels, quotas).run(moves, place);
}

}  // namespace skerry::choose
