// What is still possible from a point of the search, and what it costs to take a thing or to leave it.
// Room: choose, internal. Sees ready.hpp.
#pragma once

#include <algorithm>

#include "mask.hpp"
#include "meter.hpp"
#include "ready.hpp"

namespace skerry::choose {

/// A point of the search: what goes, what stays, and what this leaves.
template <std::size_t W>
struct Frame {
  Mask<W> in, out;
  std::int64_t left = 0, mg = 0, value = 0, bound = 0;
  std::vector<int> open;           ///< ways that may still come to work
  std::vector<std::int64_t> need;  ///< what each of them still weighs
  std::vector<std::int32_t> base;  ///< per number of a slot: the gain that works already
  const Ready::Lists* lists = nullptr;
  std::vector<std::int32_t> at;  ///< per slot of the lists: its best open way that gives more; or the end
  std::vector<std::int64_t> ms;  ///< hours of each engine, by what goes
};

template <std::size_t W>
class Look {
 public:
  Look(const Ready& ready, const Question& question, Meter& meter)
      : r_(ready), q_(question), meter_(meter), scales_(ready.clock), feeds_of_(ready.group.size()) {
    masks_.resize(r_.ways.size());
    for (std::size_t s = 0; s < masks_.size(); ++s) {
      for (const int g : r_.ways[s].groups) masks_[s].add(g);
    }
    for (std::size_t e = 0; e < r_.feeds.size(); ++e) {
      for (const auto& feed : r_.feeds[e])
        feeds_of_[static_cast<std::size_t>(feed.group)].push_back({static_cast<int>(e), feed.ms});
    }
    std::int64_t longest_ms = 0;
    for (const auto& spell : r_.clock.spells) longest_ms = std::max(longest_ms, spell.all_ms);
    for (int e = 0; e < r_.clock.engines; ++e) enough_ms_.push_back(r_.clock.fed_for(e, longest_ms));
    is_open_.resize(r_.ways.size());
    fits_.resize(r_.ways.size());
    kept_.resize(r_.ways.size());
    top_.resize(r_.clock.places());
    floor_.resize(r_.clock.places());
    without_.resize(r_.clock.places());
    up_.resize(r_.feeds.size());
    extra_.resize(r_.feeds.size());
    up_then_.resize(r_.feeds.size());
    keys_.resize(r_.feeds.size());
    usable_.resize(r_.feeds.size());
    active_.resize(r_.feeds.size());
    owned_.resize(r_.group.size() * r_.clock.places());
    way_load_.resize(r_.ways.size());
    load_ = q_.mg;
    free_.resize(r_.clock.places());
  }

  [[nodiscard]] const Ready& ready() const { return r_; }
  [[nodiscard]] const Question& question() const { return q_; }
  [[nodiscard]] Scales& scales() { return scales_; }
  [[nodiscard]] std::int64_t mg(int g) const { return q_.mg[static_cast<std::size_t>(g)]; }
  struct Fed {
    int engine = 0;
    std::int64_t ms = 0;
  };
  [[nodiscard]] const std::vector<Fed>& feeds_of(int g) const {
    return feeds_of_[static_cast<std::size_t>(g)];
  }

  /// Where every search of the question begins.
  [[nodiscard]] Frame<W> root(std::int64_t left) {
    Frame<W> f;
    f.left = left;
    f.base.assign(r_.lists.slots.size(), 0);
    f.lists = &r_.lists;
    f.at.resize(r_.lists.slots.size());
    for (std::size_t i = 0; i < f.at.size(); ++i) f.at[i] = r_.lists.slots[i].begin;
    f.ms = r_.clock.own_ms;
    for (const int g : q_.in) {
      f.in.add(g);
      feed(f, g);
    }
    for (const int g : q_.out) f.out.add(g);
    for (std::size_t s = 0; s < masks_.size(); ++s) {
      if (masks_[s].meets(f.out) || breaks_order(r_.ways[s])) continue;
      f.open.push_back(static_cast<int>(s));
      f.need.push_back(0);
      for (const int g : r_.ways[s].groups) f.need.back() += f.in.has(g) ? 0 : mg(g);
    }
    return f;
  }

  void take(Frame<W>& f, int g) {
    f.in.add(g);
    f.left -= mg(g);
    f.mg += mg(g);
    feed(f, g);
    for (std::size_t k = 0; k < f.open.size(); ++k) {
      if (masks_[static_cast<std::size_t>(f.open[k])].has(g)) f.need[k] -= mg(g);
    }
  }
  /// Leaves a group, and those like it that would come after it.
  void leave(Frame<W>& f, int g) const {
    for (; g >= 0; g = q_.behind[static_cast<std::size_t>(g)]) f.out.add(g);
  }

  /// Drops what can no longer be completed, takes in what is complete. Brings `value` up to date, and `bound`: what
  /// everything that still fits, each for itself, would be worth together. (Worth never falls with a way or an
  /// hour more: no kit from here on exceeds it.)
  void settle(Frame<W>& f) {
    meter_.work(f.open.size() + f.at.size());
    for (std::size_t e = 0; e < r_.feeds.size(); ++e) extra_[e] = first_feed(f, e);
    std::fill(is_open_.begin(), is_open_.end(), 0);
    std::size_t kept = 0;
    for (std::size_t k = 0; k < f.open.size(); ++k) {
      const auto s = static_cast<std::size_t>(f.open[k]);
      const auto& way = r_.ways[s];
      if (masks_[s].meets(f.out)) continue;
      if (masks_[s].within(f.in)) {
        for (auto i = way.begin; i < way.end; ++i) {
          const auto& gain = r_.gains[static_cast<std::size_t>(i)];
          auto& base = f.base[static_cast<std::size_t>(gain.slot)];
          base = std::max(base, gain.gain);
        }
        continue;
      }
      const std::int64_t extra = way.fed ? 0 : extra_[static_cast<std::size_t>(way.engine)];
      if (extra < 0 || f.need[k] + extra > f.left) continue;
      is_open_[s] = 1;
      f.open[kept] = f.open[k];
      f.need[kept] = f.need[k];
      ++kept;
    }
    f.open.resize(kept);
    f.need.resize(kept);
    top_ = f.lists->settled;
    floor_ = f.lists->settled;
    for (std::size_t i = 0; i < f.at.size(); ++i) {
      const auto& slot = f.lists->slots[i];
      const std::int32_t base = f.base[static_cast<std::size_t>(slot.number)];
      const std::int32_t at =
          next(f, f.at[i], slot.end, base, [&](std::int32_t s) { return is_open_[s] != 0; });
      f.at[i] = at;
      top_[slot.where] += at < slot.end ? f.lists->entries[static_cast<std::size_t>(at)].gain : base;
      floor_[slot.where] += base;
    }
    f.value = scales_.worth(floor_.data(), f.ms.data());
    for (std::size_t e = 0; e < up_.size(); ++e) up_[e] = most_ms(f, e, f.left, f.ms[e], -1);
    f.bound = scales_.worth(top_.data(), up_.data());
  }

  /// After settle: makes new lists of the ways that are still open, where most of the old ones are not.
  void narrow(Frame<W>& f, Ready::Lists& into) const {
    if (2 * f.open.size() >= f.lists->ways) return;
    // `into` may be what the frame has: nothing is written before it was read.
    const Ready::Lists& from = *f.lists;
    if (&into != &from) {
      into.settled = from.settled;
      into.entries.resize(from.entries.size());
      into.slots.resize(from.slots.size());
    }
    std::size_t slots = 0;
    std::int32_t entries = 0;
    for (std::size_t i = 0; i < f.at.size(); ++i) {
      Ready::Slot slot = from.slots[i];
      const std::int32_t base = f.base[static_cast<std::size_t>(slot.number)];
      const std::int32_t begin = entries;
      for (std::int32_t k = f.at[i]; k < slot.end; ++k) {
        const auto entry = from.entries[static_cast<std::size_t>(k)];
        if (entry.gain <= base) break;
        if (is_open_[static_cast<std::size_t>(entry.way)] != 0)
          into.entries[static_cast<std::size_t>(entries++)] = entry;
      }
      if (entries == begin) {
        into.settled[static_cast<std::size_t>(slot.where)] += base;
        continue;
      }
      slot.begin = begin;
      slot.end = entries;
      into.slots[slots] = slot;
      f.at[slots] = begin;
      ++slots;
    }
    meter_.work(f.at.size() + static_cast<std::size_t>(entries));
    into.entries.resize(static_cast<std::size_t>(entries));
    into.slots.resize(slots);
    f.at.resize(slots);
    into.ways = f.open.size();
    f.lists = &into;
  }

  /// After settle: the groups that may be decided next, by number: those of the open ways, and what feeds an engine
  /// that wants hours.
  void find_candidates(const Frame<W>& f) {
    Mask<W> all;
    for (std::size_t e = 0; e < usable_.size(); ++e) {
      usable_[e] = 0;
      active_[e] = 0;
      for (int t = 0; t < r_.clock.turns; ++t) {
        const std::size_t w = r_.clock.where(static_cast<int>(e), t);
        usable_[e] = usable_[e] != 0 || top_[w] > 0 ? 1 : 0;
        active_[e] = active_[e] != 0 || floor_[w] > 0 ? 1 : 0;
      }
      if (usable_[e] == 0 || f.ms[e] >= enough_ms_[e]) continue;
      for (const auto& feed : r_.feeds[e]) {
        if (fits(f, feed.group, f.left)) all.add(feed.group);
      }
    }
    for (const int s : f.open) all.join(masks_[static_cast<std::size_t>(s)]);
    all.take_away(f.in);
    candidates_.clear();
    all.each([&](int g) { candidates_.push_back(g); });
  }
  [[nodiscard]] const std::vector<int>& candidates() const { return candidates_; }
  /// Whether a thing that it stands behind is still undecided.
  [[nodiscard]] bool waits(const Frame<W>& f, int g) const {
    const int first = q_.before[static_cast<std::size_t>(g)];
    return first >= 0 && !f.in.has(first);
  }

  /// After find_candidates: what each cell cannot do without. Going down a cell's open ways by falling gain, the
  /// owners of the drop from one level to the next are the groups that all ways down to it share: a kit that
  /// lacks one of them gets none of it. `lost` sums, per group, what goes when the group stays; `part` a
  /// division of each drop among its owners by load (all of them must come: any division is a valid price); `free_`
  /// what is left without an owner. The key of an engine, what all its open ways share while none works, is owner
  /// of everything there and left out.
  void find_owners(const Frame<W>& f);

  /// Lets a group bear so many times as much of what it owns with others: at first they share by mass.
  void reload(int g, double times) {
    auto& load = load_[static_cast<std::size_t>(g)];
    const double weighs = static_cast<double>(mg(g)), then = static_cast<double>(load) * times;
    if (load > 0) load = static_cast<std::int64_t>(std::clamp(then, 1 + 1e-3 * weighs, 1 + 1e3 * weighs));
  }

  /// After find_owners: what no kit exceeds that leaves a group (and those like it behind it).
  [[nodiscard]] std::int64_t bound_without(const Frame<W>& f, int g) {
    const std::size_t places = r_.clock.places();
    const auto* owned = &owned_[static_cast<std::size_t>(g) * places];
    for (std::size_t w = 0; w < places; ++w) without_[w] = top_[w] - owned[w].lost;
    for (std::size_t e = 0; e < up_.size(); ++e) {
      if (keys_[e].has(g)) {
        const auto begin = static_cast<std::ptrdiff_t>(r_.clock.where(static_cast<int>(e), 0));
        std::copy_n(floor_.begin() + begin, r_.clock.turns, without_.begin() + begin);
      }
    }
    up_then_ = up_;
    for (const auto& fed : feeds_of(g)) {
      const auto e = static_cast<std::size_t>(fed.engine);
      up_then_[e] = most_ms(f, e, f.left, f.ms[e], g);
    }
    meter_.work(places);
    return scales_.worth(without_.data(), up_then_.data());
  }

  /// After find_candidates: closes those open ways beside whose things too little fits for more than `enough`, where
  /// ways are scarce and things many; whether there were any.
  bool close_hopeless(Frame<W>& f, std::int64_t enough);

  /// After settle: the open way, or the thing that feeds an engine, that brings most when its groups come: per gram,
  /// or at all. Its groups; none when nothing brings anything.
  [[nodiscard]] std::vector<int> steepest(const Frame<W>& f, bool per_gram);

 private:
  template <std::size_t>
  friend class Shop;

  void feed(Frame<W>& f, int g) const {
    for (const auto& fed : feeds_of(g)) {
      auto& ms = f.ms[static_cast<std::size_t>(fed.engine)];
      ms = std::min(no_limit_ms, ms + fed.ms);
    }
  }
  /// A way with a thing but not the one like it that goes first: the way with that one does as well.
  [[nodiscard]] bool breaks_order(const Ready::Way& way) const {
    return std::any_of(way.groups.begin(), way.groups.end(), [&](int g) {
      const int first = q_.before[static_cast<std::size_t>(g)];
      return first >= 0 && !std::binary_search(way.groups.begin(), way.groups.end(), first);
    });
  }
  /// The next entry from `k` on that passes and gives more than `base`; `end` when there is none.
  template <class Test>
  [[nodiscard]] std::int32_t next(const Frame<W>& f, std::int32_t k, std::int32_t end, std::int32_t base,
                                  Test&& passes) const {
    for (; k < end; ++k) {
      const auto& entry = f.lists->entries[static_cast<std::size_t>(k)];
      if (entry.gain <= base) return end;
      if (passes(entry.way)) return k;
    }
    return end;
  }
  [[nodiscard]] bool fits(const Frame<W>& f, int g, std::int64_t left) const {
    return mg(g) <= left && !f.in.has(g) && !f.out.has(g);
  }
  /// The lightest thing that an engine without hours must have before it works; -1: there is none.
  [[nodiscard]] std::int64_t first_feed(const Frame<W>& f, std::size_t e) const {
    if (f.ms[e] > 0) return 0;
    std::int64_t least = -1;
    for (const auto& feed : r_.feeds[e]) {
      if (fits(f, feed.group, f.left) && (least < 0 || mg(feed.group) < least)) least = mg(feed.group);
    }
    return least;
  }
  /// Whether g stands behind `first` among its like, or is it.
  [[nodiscard]] bool follows(int g, int first) const {
    while (g >= 0 && g != first) g = q_.before[static_cast<std::size_t>(g)];
    return g >= 0;
  }
  /// Hours that an engine has, and what could still feed it: where a gram brings most first, the last in part
  /// (Dantzig 1957). `without`: a group that stays, with those behind it; -1: none.
  [[nodiscard]] std::int64_t most_ms(const Frame<W>& f, std::size_t e, std::int64_t left, std::int64_t have,
                                     int without) const {
    std::int64_t room = left;
    for (const auto& feed : r_.feeds[e]) {
      if (have >= enough_ms_[e] || room < 0) break;
      if (!fits(f, feed.group, left)) continue;
      if (without >= 0 && follows(feed.group, without)) continue;
      const std::int64_t weighs = mg(feed.group);
      if (weighs <= room) {
        have += feed.ms;
        room -= weighs;
      } else {
        // One in 10^12 upwards for the rounding of the quotient.
        const double part =
            static_cast<double>(feed.ms) * (static_cast<double>(room) / static_cast<double>(weighs));
        have += std::min(feed.ms, static_cast<std::int64_t>(part * (1 + 1e-12)) + 1);
        break;
      }
    }
    return have;
  }
  /// What a group owns at one place.
  struct Owned {
    std::int64_t lost = 0;
    double part = 0;
  };

  const Ready& r_;
  const Question& q_;
  Meter& meter_;
  Scales scales_;
  std::vector<Mask<W>> masks_;
  std::vector<std::vector<Fed>> feeds_of_;  ///< per group
  std::vector<std::int64_t> enough_ms_;     ///< per engine: more is of no use to it
  // Of the frame that was settled last:
  std::vector<char> is_open_, fits_, kept_, usable_, active_, met_;
  std::vector<std::int64_t> top_, floor_, free_, without_;  ///< at clock.where(engine, turn)
  std::vector<std::int64_t> up_, up_then_, extra_;          ///< per engine
  std::vector<int> candidates_, touched_;
  std::vector<Mask<W>> keys_;           ///< per engine
  std::vector<std::int64_t> load_;      ///< per group: by which it shares with others what they own
  std::vector<std::int64_t> way_load_;  ///< per way: of its groups without the key
  std::vector<Owned> owned_;            ///< per group, at where
};

}  // namespace skerry::choose

#include "look_long.hpp"
