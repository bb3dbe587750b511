// The longer looks: who owns what, which way brings most, beside which nothing fits.
// Room: choose, internal. Sees look.hpp, which includes it.
#pragma once

#include "look.hpp"

namespace skerry::choose {

template <std::size_t W>
bool Look<W>::close_hopeless(Frame<W>& f, std::int64_t enough) {
  const std::size_t n = f.open.size();
  if (2 * n > candidates_.size()) return false;
  std::size_t kept = 0;
  for (std::size_t k = 0; k < n; ++k) {
    const auto& mine = masks_[static_cast<std::size_t>(f.open[k])];
    for (std::size_t o = 0; o < n; ++o) {
      std::int64_t both = f.need[k] + f.need[o];
      for (const int g : r_.ways[static_cast<std::size_t>(f.open[o])].groups)
        both -= mine.has(g) && !f.in.has(g) ? mg(g) : 0;
      fits_[static_cast<std::size_t>(f.open[o])] = both <= f.left ? 1 : 0;
    }
    without_ = top_;
    for (std::size_t i = 0; i < f.at.size(); ++i) {
      const auto& slot = f.lists->slots[i];
      const std::int32_t at = f.at[i];
      if (at >= slot.end) continue;
      const std::int32_t then =
          next(f, at, slot.end, f.base[static_cast<std::size_t>(slot.number)], [&](std::int32_t s) {
            return is_open_[static_cast<std::size_t>(s)] != 0 && fits_[static_cast<std::size_t>(s)] != 0;
          });
      without_[static_cast<std::size_t>(slot.where)] -=
          f.lists->entries[static_cast<std::size_t>(at)].gain -
          (then < slot.end ? f.lists->entries[static_cast<std::size_t>(then)].gain
                           : f.base[static_cast<std::size_t>(slot.number)]);
    }
    meter_.work(f.at.size() + n);
    kept_[k] = scales_.worth(without_.data(), up_.data()) >= enough ? 1 : 0;
  }
  for (std::size_t k = 0; k < n; ++k) {
    if (kept_[k] == 0) continue;
    f.open[kept] = f.open[k];
    f.need[kept] = f.need[k];
    ++kept;
  }
  f.open.resize(kept);
  f.need.resize(kept);
  return kept < n;
}

template <std::size_t W>
void Look<W>::find_owners(const Frame<W>& f) {
  std::vector<char>& met = met_;
  met.assign(keys_.size(), 0);
  for (const int s : f.open) {
    const auto e = static_cast<std::size_t>(r_.ways[static_cast<std::size_t>(s)].engine);
    if (met[e] == 0) {
      keys_[e] = masks_[static_cast<std::size_t>(s)];
      met[e] = 1;
    } else {
      keys_[e].meet(masks_[static_cast<std::size_t>(s)]);
    }
  }
  for (std::size_t e = 0; e < keys_.size(); ++e) {
    if (met[e] == 0 || active_[e] != 0) keys_[e] = Mask<W>{};
    keys_[e].take_away(f.in);
  }
  const std::size_t places = r_.clock.places();
  for (const int g : touched_) {
    std::fill_n(owned_.begin() + static_cast<std::ptrdiff_t>(static_cast<std::size_t>(g) * places), places,
                Owned{});
  }
  touched_ = candidates_;
  free_ = f.lists->settled;
  for (const int s : f.open) {
    const auto& way = r_.ways[static_cast<std::size_t>(s)];
    auto& load = way_load_[static_cast<std::size_t>(s)];
    load = 0;
    for (const int g : way.groups) {
      if (!f.in.has(g) && !keys_[static_cast<std::size_t>(way.engine)].has(g))
        load += load_[static_cast<std::size_t>(g)];
    }
  }
  std::size_t steps = 0;
  for (std::size_t i = 0; i < f.at.size(); ++i) {
    const auto& slot = f.lists->slots[i];
    std::int32_t k = f.at[i];
    if (k >= slot.end) {
      free_[static_cast<std::size_t>(slot.where)] += f.base[static_cast<std::size_t>(slot.number)];
      continue;
    }
    const auto& first = f.lists->entries[static_cast<std::size_t>(k)];
    Mask<W> owners = masks_[static_cast<std::size_t>(first.way)];
    owners.take_away(f.in);
    owners.take_away(keys_[static_cast<std::size_t>(slot.engine)]);
    std::int64_t load = way_load_[static_cast<std::size_t>(first.way)];
    Owned* const owned = &owned_[static_cast<std::size_t>(slot.where)];
    std::int32_t level = first.gain;
    double per_load = 0;  // of the drops so far, to those that still own
    while (!owners.empty()) {
      k = next(f, k + 1, slot.end, f.base[static_cast<std::size_t>(slot.number)], [&](std::int32_t s) {
        ++steps;
        return is_open_[static_cast<std::size_t>(s)] != 0 &&
               !owners.within(masks_[static_cast<std::size_t>(s)]);
      });
      const std::int32_t gain = k < slot.end ? f.lists->entries[static_cast<std::size_t>(k)].gain
                                             : f.base[static_cast<std::size_t>(slot.number)];
      if (load > 0) {
        per_load += static_cast<double>(level - gain) / static_cast<double>(load);
      } else {
        owned[static_cast<std::size_t>(owners.first()) * places].part += level - gain;
      }
      level = gain;
      Mask<W> going = owners;
      if (k < slot.end)
        going.take_away(masks_[static_cast<std::size_t>(f.lists->entries[static_cast<std::size_t>(k)].way)]);
      going.each([&](int g) {
        auto& mine = owned[static_cast<std::size_t>(g) * places];
        mine.lost += first.gain - level;
        mine.part += per_load * static_cast<double>(load_[static_cast<std::size_t>(g)]);
        load -= load_[static_cast<std::size_t>(g)];
      });
      owners.take_away(going);
    }
    free_[static_cast<std::size_t>(slot.where)] += level;
  }
  meter_.work(2 * f.at.size() + steps);
}

template <std::size_t W>
std::vector<int> Look<W>::steepest(const Frame<W>& f, bool per_gram) {
  std::vector<int> chosen, with;
  double most = 0;
  const auto weigh = [&](std::int64_t value, std::int64_t grams) {
    const double gain = static_cast<double>(value - f.value);
    const double score = per_gram ? gain / (static_cast<double>(grams) + 1) : gain;
    if (score <= most) return;
    most = score;
    chosen = with;
  };
  for (std::size_t e = 0; e < r_.feeds.size(); ++e) {
    if (f.ms[e] >= enough_ms_[e]) continue;
    for (const auto& feed : r_.feeds[e]) {
      if (!fits(f, feed.group, f.left) || waits(f, feed.group)) continue;
      up_then_ = f.ms;
      for (const auto& fed : feeds_of(feed.group)) up_then_[static_cast<std::size_t>(fed.engine)] += fed.ms;
      with.assign(1, feed.group);
      weigh(scales_.worth(floor_.data(), up_then_.data()), mg(feed.group));
    }
  }
  for (std::size_t k = 0; k < f.open.size(); ++k) {
    const auto& way = r_.ways[static_cast<std::size_t>(f.open[k])];
    const auto e = static_cast<std::size_t>(way.engine);
    without_ = floor_;
    for (auto i = way.begin; i < way.end; ++i) {
      const auto& gain = r_.gains[static_cast<std::size_t>(i)];
      const std::int32_t base = f.base[static_cast<std::size_t>(gain.slot)];
      if (gain.gain > base)
        without_[static_cast<std::size_t>(r_.lists.slots[static_cast<std::size_t>(gain.slot)].where)] +=
            gain.gain - base;
    }
    with.clear();
    for (const int g : way.groups) {
      if (!f.in.has(g)) with.push_back(g);
    }
    up_then_ = f.ms;
    std::int64_t grams = f.need[k];
    if (f.ms[e] == 0 && !way.fed) {
      // With what feeds its engine best of all that fits.
      const auto& feeds = r_.feeds[e];
      const auto feed = std::find_if(feeds.begin(), feeds.end(), [&](const Ready::Feed& one) {
        return fits(f, one.group, f.left - f.need[k]) && !waits(f, one.group);
      });
      if (feed == feeds.end()) continue;
      with.push_back(feed->group);
      grams += mg(feed->group);
    }
    for (const int g : with) {
      for (const auto& fed : feeds_of(g)) up_then_[static_cast<std::size_t>(fed.engine)] += fed.ms;
    }
    meter_.work(static_cast<std::size_t>(way.end - way.begin));
    weigh(scales_.worth(without_.data(), up_then_.data()), grams);
  }
  return chosen;
}

}  // namespace skerry::choose
