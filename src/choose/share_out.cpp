#include "skerry/choose/share_out.hpp"

#include <algorithm>
#include <array>
#include <bit>
#include <cassert>
#include <numeric>
#include <string>
#include <unordered_set>

namespace skerry::choose {

namespace {

constexpr std::size_t most_bins_for_sets = 8;

class Sharing {
 public:
  Sharing(std::span<const Bin> bins, std::span<const Parcel> parcels, std::int64_t liquid_ul,
          std::uint64_t most_nodes)
      : bins_(bins.begin(), bins.end()), liquid_ul_(liquid_ul), most_nodes_(most_nodes) {
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
    for (const int i : order_) parcels_.push_back(parcels[static_cast<std::size_t>(i)]);
    place_.assign(parcels.size(), -1);
  }

  Shared run() {
    for (const auto& p : parcels_) {
      if (p.may == 0) return Shared::no;
    }
    if (bins_.size() <= most_bins_for_sets) sum_up_sets();
    same_bins();
    return visit(0) ? Shared::yes : (gave_up_ ? Shared::given_up : Shared::no);
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

  /// first_like_[b]: the first bin that no parcel and no liquid can tell from bin b but by its room.
  void same_bins() {
    for (std::size_t b = 0; b < bins_.size(); ++b) {
      first_like_.push_back(b);
      for (std::size_t a = 0; a < b; ++a) {
        const bool alike = bins_[a].liquid_counts == bins_[b].liquid_counts &&
                           std::all_of(parcels_.begin(), parcels_.end(), [&](const Parcel& p) {
                             return ((p.may >> a) & 1U) == ((p.may >> b) & 1U);
                           });
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

  /// What is left, as a key: two searches that stand here alike end alike.
  [[nodiscard]] std::string state(std::size_t k) const {
    std::string key(reinterpret_cast<const char*>(&k), sizeof k);
    const auto add = [&](std::int64_t v) { key.append(reinterpret_cast<const char*>(&v), sizeof v); };
    for (const auto& b : bins_) {
      add(b.mg);
      add(b.mm3);
    }
    add(liquid_ul_);
    return key;
  }

  [[nodiscard]] bool takes(std::size_t b, const Parcel& p) const {
    return ((p.may >> b) & 1U) != 0 && p.mg <= bins_[b].mg && p.mm3 <= bins_[b].mm3 &&
           (!bins_[b].liquid_counts || p.liquid_ul <= liquid_ul_);
  }

  bool visit(std::size_t k) {
    if (k == parcels_.size()) return true;
    if (++nodes_ > most_nodes_) {
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
    const Parcel p = parcels_[k];
    std::array<std::size_t, 64> tries{};
    std::size_t count = 0;
    for (std::size_t b = 0; b < bins_.size(); ++b) {
      if (!takes(b, p)) continue;
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
      const std::int64_t wet = bins_[b].liquid_counts ? p.liquid_ul : 0;
      bins_[b].mg -= p.mg;
      bins_[b].mm3 -= p.mm3;
      liquid_ul_ -= wet;
      place_[k] = static_cast<int>(b);
      if (visit(k + 1)) return true;
      bins_[b].mg += p.mg;
      bins_[b].mm3 += p.mm3;
      liquid_ul_ += wet;
      if (gave_up_) return false;
    }
    if (remembers) dead_.insert(std::move(key));
    return false;
  }

  std::vector<Bin> bins_;
  std::vector<Parcel> parcels_;
  std::vector<int> order_, place_;
  std::vector<std::array<std::int64_t, 2>> need_;
  std::size_t sets_ = 0;
  std::vector<std::size_t> first_like_;
  std::unordered_set<std::string> dead_;
  std::int64_t liquid_ul_;
  std::uint64_t nodes_ = 0, most_nodes_;
  bool gave_up_ = false;
};

}  // namespace

Shared share_out(std::span<const Bin> bins, std::span<const Parcel> parcels, std::int64_t liquid_ul,
                 std::uint64_t most_nodes, std::vector<int>& out, std::uint64_t* nodes) {
  Sharing sharing(bins, parcels, liquid_ul, most_nodes);
  const Shared answer = sharing.run();
  if (answer == Shared::yes) out = sharing.places();
  if (nodes != nullptr) *nodes = sharing.nodes();
  return answer;
}

}  // namespace skerry::choose
