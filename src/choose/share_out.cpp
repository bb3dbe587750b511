#include "skerry/choose/share_out.hpp"

#include <algorithm>
#include <array>
#include <bit>
#include <cassert>
#include <numeric>
#include <string>
#include <unordered_set>

#include "even_out.hpp"

namespace skerry::choose {

namespace {

constexpr std::size_t most_bins_for_sets = 8;
/// Judgement: a kit of 20 kg in grams; longer rulers cost more than they cut.
constexpr std::int64_t longest_ruler = 20000;

constexpr bool in(std::uint64_t set, std::size_t b) {
  return ((set >> b) & 1U) != 0;
}

class Sharing {
 public:
  Sharing(std::span<const Bin> bins, std::span<const Parcel> parcels, std::span<const Quota> quotas,
          std::uint64_t most_nodes)
      : bins_(bins.begin(), bins.end()), most_nodes_(most_nodes) {
    assert(bins.size() <= 64);
    order_.resize(parcels.size());
    std::iota(order_.begin(), order_.end(), 0);
    // The most bound first, then the largest share of all the room, by mass or by volume.
    double mg = 1;
    double mm3 = 1;
    for (const auto& b : bins) {
      mg += static_cast<double>(std::max<std::int64_t>(b.mg, 0));
      mm3 += static_cast<double>(std::max<std::int64_t>(b.mm3, 0));
    }
    const auto size = [&](const Parcel& p) {
      return std::max(static_cast<double>(p.mg) / mg, static_cast<double>(p.mm3) / mm3);
    };
    std::sort(order_.begin(), order_.end(), [&](int a, int b) {
      const Parcel& x = parcels[static_cast<std::size_t>(a)];
      const Parcel& y = parcels[static_cast<std::size_t>(b)];
      const int bound_x = std::popcount(x.may);
      const int bound_y = std::popcount(y.may);
      if (bound_x != bound_y) return bound_x < bound_y;
      const double size_x = size(x);
      const double size_y = size(y);
      return size_x != size_y ? size_x > size_y : a < b;
    });
    std::uint64_t open = 0;
    for (std::size_t b = 0; b < bins.size(); ++b) {
      if (bins[b].mg >= 0 && bins[b].mm3 >= 0) open |= std::uint64_t{1} << b;
    }
    for (const int i : order_) {
      parcels_.push_back(parcels[static_cast<std::size_t>(i)]);
      parcels_.back().may &= open;
    }
    place_.assign(parcels.size(), -1);
    for (const auto& q : quotas) {
      // What cannot bind is not asked.
      if (std::accumulate(q.amounts.begin(), q.amounts.end(), std::int64_t{0}) <= q.most) continue;
      quotas_.push_back({q.bins, q.most, {}});
      for (const int i : order_) quotas_.back().amounts.push_back(q.amounts[static_cast<std::size_t>(i)]);
    }
  }

  Shared run() {
    for (const auto& p : parcels_) {
      if (p.may == 0) return Shared::no;
    }
    if (bins_.size() <= most_bins_for_sets) sum_up_sets();
    if (hopeless(0) || over_quota()) return Shared::no;
    same_bins();
    // The straight way first, and a few steps back.
    last_node_ = std::min<std::uint64_t>(most_nodes_, 4 * parcels_.size());
    if (visit(0)) return Shared::yes;
    if (!gave_up_ || !enough_to_make_up()) return Shared::no;
    if (most_nodes_ > last_node_) {
      std::uint64_t moves = 32 * (most_nodes_ / 2);
      const std::uint64_t before = moves;
      if (even_out(bins_, parcels_, quotas_, moves, place_)) return Shared::yes;
      nodes_ += (before - moves) / 32;
      last_node_ = most_nodes_;
      gave_up_ = false;
      if (visit(0)) return Shared::yes;
    }
    return gave_up_ ? Shared::given_up : Shared::no;
  }

  [[nodiscard]] std::vector<int> places() const {
    std::vector<int> out(order_.size());
    for (std::size_t k = 0; k < order_.size(); ++k) out[static_cast<std::size_t>(order_[k])] = place_[k];
    return out;
  }
  [[nodiscard]] std::uint64_t nodes() const { return nodes_; }

 private:
  /// need_[k * sets + s]: what the parcels from k on need that may go nowhere outside the set s of bins.
  void sum_up_sets() {
    sets_ = std::size_t{1} << bins_.size();
    need_.assign((parcels_.size() + 1) * sets_, {0, 0});
    for (std::size_t k = parcels_.size(); k-- > 0;) {
      const Parcel& p = parcels_[k];
      for (std::size_t s = 0; s < sets_; ++s) {
        auto& here = need_[k * sets_ + s];
        here = need_[(k + 1) * sets_ + s];
        if ((p.may & ~static_cast<std::uint64_t>(s)) == 0) {
          here[0] += p.mg;
          here[1] += p.mm3;
        }
      }
    }
  }

  /// first_like_[b]: the first bin that no parcel and no quota can tell from bin b but by its room.
  void same_bins() {
    for (std::size_t b = 0; b < bins_.size(); ++b) {
      first_like_.push_back(b);
      for (std::size_t a = 0; a < b; ++a) {
        const bool alike = std::all_of(quotas_.begin(), quotas_.end(),
                                       [&](const Quota& q) { return in(q.bins, a) == in(q.bins, b); }) &&
                           std::all_of(parcels_.begin(), parcels_.end(),
                                       [&](const Parcel& p) { return in(p.may, a) == in(p.may, b); });
        if (alike) {
          first_like_[b] = a;
          break;
        }
      }
    }
  }

  [[nodiscard]] bool hopeless(std::size_t k) const {
    if (sets_ == 0) return false;
    std::array<std::array<std::int64_t, 2>, std::size_t{1} << most_bins_for_sets> room;
    room[0] = {0, 0};
    for (std::size_t s = 1; s < sets_; ++s) {
      const auto b = static_cast<std::size_t>(std::countr_zero(s));
      const auto& less = room[s & (s - 1)];
      room[s] = {less[0] + std::max<std::int64_t>(bins_[b].mg, 0),
                 less[1] + std::max<std::int64_t>(bins_[b].mm3, 0)};
      const auto& need = need_[k * sets_ + s];
      if (need[0] > room[s][0] || need[1] > room[s][1]) return true;
    }
    return false;
  }

  /// Whether what may go nowhere else is over a quota.
  [[nodiscard]] bool over_quota() const {
    return std::any_of(quotas_.begin(), quotas_.end(), [&](const Quota& q) {
      std::int64_t bound = 0;
      for (std::size_t k = 0; k < parcels_.size(); ++k) {
        if ((parcels_[k].may & ~q.bins) == 0) bound += q.amounts[k];
      }
      return bound > q.most;
    });
  }

  /// Whether the masses that the parcels can make up, bin by bin, are enough for all of them together.
  [[nodiscard]] bool enough_to_make_up() const {
    std::int64_t measure = 0, all = 0, most = 0;
    for (const auto& p : parcels_) {
      measure = std::gcd(measure, p.mg);
      all += p.mg;
    }
    if (measure == 0) return true;
    std::vector<char> made;
    for (std::size_t b = 0; b < bins_.size(); ++b) {
      const std::int64_t room = std::max<std::int64_t>(bins_[b].mg, 0) / measure;
      if (room > longest_ruler) return true;
      made.assign(static_cast<std::size_t>(room) + 1, 0);
      made[0] = 1;
      for (const auto& p : parcels_) {
        const std::int64_t step = p.mg / measure;
        if (!in(p.may, b) || step == 0) continue;
        for (std::int64_t m = room; m >= step; --m) {
          auto& here = made[static_cast<std::size_t>(m)];
          here = static_cast<char>(here | made[static_cast<std::size_t>(m - step)]);
        }
      }
      const auto last = std::find(made.rbegin(), made.rend(), 1);
      most += measure * (room - (last - made.rbegin()));
    }
    return most >= all;
  }

  /// What is left, as a key: two searches that stand here alike end alike.
  [[nodiscard]] std::string state(std::size_t k) const {
    std::string key(reinterpret_cast<const char*>(&k), sizeof k);
    const auto add = [&](std::int64_t v) { key.append(reinterpret_cast<const char*>(&v), sizeof v); };
    for (const auto& b : bins_) {
      add(b.mg);
      add(b.mm3);
    }
    for (const auto& q : quotas_) add(q.most);
    return key;
  }

  [[nodiscard]] bool takes(std::size_t b, std::size_t k) const {
    const Parcel& p = parcels_[k];
    return in(p.may, b) && p.mg <= bins_[b].mg && p.mm3 <= bins_[b].mm3 &&
           std::all_of(quotas_.begin(), quotas_.end(),
                       [&](const Quota& q) { return !in(q.bins, b) || q.amounts[k] <= q.most; });
  }
  void put(std::size_t b, std::size_t k, int sign) {
    bins_[b].mg -= sign * parcels_[k].mg;
    bins_[b].mm3 -= sign * parcels_[k].mm3;
    for (auto& q : quotas_) {
      if (in(q.bins, b)) q.most -= sign * q.amounts[k];
    }
  }

  bool visit(std::size_t k) {
    if (k == parcels_.size()) return true;
    if (++nodes_ > last_node_) {
      gave_up_ = true;
      return false;
    }
    if (hopeless(k)) return false;
    // The straight way down needs no memory; a search that turns back does.
    const bool remembers = nodes_ > 4 * parcels_.size();
    std::string key;
    if (remembers) {
      key = state(k);
      if (dead_.count(key) != 0) return false;
    }
    std::array<std::size_t, 64> tries{};
    std::size_t count = 0;
    for (std::size_t b = 0; b < bins_.size(); ++b) {
      if (!takes(b, k)) continue;
      const bool twin =
          std::any_of(tries.begin(), tries.begin() + static_cast<std::ptrdiff_t>(count), [&](std::size_t a) {
            return first_like_[a] == first_like_[b] && bins_[a].mg == bins_[b].mg &&
                   bins_[a].mm3 == bins_[b].mm3;
          });
      if (!twin) tries[count++] = b;
    }
    // The fullest first: large rooms stay for large things.
    std::stable_sort(tries.begin(), tries.begin() + static_cast<std::ptrdiff_t>(count),
                     [&](std::size_t a, std::size_t b) { return bins_[a].mg < bins_[b].mg; });
    for (std::size_t t = 0; t < count; ++t) {
      const std::size_t b = tries[t];
      put(b, k, 1);
      place_[k] = static_cast<int>(b);
      const bool found = visit(k + 1);
      put(b, k, -1);
      if (found) return true;
      if (gave_up_) return false;
    }
    if (remembers) dead_.insert(std::move(key));
    return false;
  }

  std::vector<Bin> bins_;
  std::vector<Parcel> parcels_;
  std::vector<Quota> quotas_;
  std::vector<int> order_, place_;
  std::vector<std::array<std::int64_t, 2>> need_;
  std::size_t sets_ = 0;
  std::vector<std::size_t> first_like_;
  std::unordered_set<std::string> dead_;
  std::uint64_t nodes_ = 0, last_node_ = 0, most_nodes_;
  bool gave_up_ = false;
};

}  // namespace

Shared share_out(std::span<const Bin> bins, std::span<const Parcel> parcels, std::span<const Quota> quotas,
                 std::uint64_t most_nodes, std::vector<int>& out, std::uint64_t* nodes) {
  Sharing sharing(bins, parcels, quotas, most_nodes);
  const Shared answer = sharing.run();
  if (answer == Shared::yes) out = sharing.places();
  if (nodes != nullptr) *nodes = sharing.nodes();
  return answer;
}

}  // namespace skerry::choose
