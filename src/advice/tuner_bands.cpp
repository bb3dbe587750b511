#include <algorithm>
#include <map>
#include <set>
#include <tuple>

#include "advise_parts.hpp"
#include "skerry/core/nth.hpp"

namespace skerry::advice {

namespace {

bool same_metal(const kit::Setup& a, const kit::Setup& b) {
  return a.site == b.site && a.antenna == b.antenna && a.support == b.support &&
         a.far_support == b.far_support && a.shape == b.shape;
}

/// A mast that makes the gain uncertain does so behind a tuner too.
bool tuner_may_help(const Unfit& why) {
  const auto* note = std::get_if<antenna::Note>(&why);
  return note == nullptr || note->kind != antenna::NoteKind::mast_unsettled;
}

/// The setup with a tuner put into the line; none: the rig's own. No bands yet.
kit::Setup with_tuner(const kit::Trip& trip, const kit::Setup& plain, std::optional<Id<kit::Tuner>> tuner) {
  kit::Setup out = plain;
  out.tuned = true;
  out.tuner = tuner;
  out.bands.clear();
  if (tuner) {
    const auto& id = trip.at(*tuner).item.id;
    out.needs.insert(std::upper_bound(out.needs.begin(), out.needs.end(), id), id);
  }
  return out;
}

/// Places of the setups that are `plain` with a tuner; they are made where there are none yet.
std::vector<std::size_t> tuned_siblings(const kit::Trip& trip, std::size_t plain, kit::Setups& setups,
                                        PatternBook& book, std::map<std::size_t, std::size_t>& made) {
  std::vector<std::size_t> out;
  auto& all = setups.possible;
  for (std::size_t s = 0; s < all.size(); ++s) {
    if (all[s].tuned && all[s].rig == all[plain].rig && all[s].cable == all[plain].cable &&
        same_metal(all[s], all[plain]))
      out.push_back(s);
  }
  if (!out.empty()) return out;
  for (const auto tuner : kit::tuners_for(trip, trip.at(all[plain].rig))) {
    out.push_back(all.size());
    made[all.size()] = plain;
    all.push_back(with_tuner(trip, all[plain], tuner));
    book.setups.emplace_back();
  }
  return out;
}

/// Takes away what was made in vain; what was refused of it is then said of the setup it was made from.
void forget_useless(const std::map<std::size_t, std::size_t>& made, kit::Setups& setups, PatternBook& book) {
  std::map<int, int> moved;
  std::size_t kept = setups.possible.size() - made.size();
  for (const auto& [s, plain] : made) {
    if (setups.possible[s].bands.empty()) {
      moved[static_cast<int>(s)] = static_cast<int>(plain);
      continue;
    }
    moved[static_cast<int>(s)] = static_cast<int>(kept);
    if (kept != s) {
      setups.possible[kept] = std::move(setups.possible[s]);
      book.setups[kept] = std::move(book.setups[s]);
    }
    ++kept;
  }
  setups.possible.resize(kept);
  book.setups.resize(kept);
  for (auto& r : book.refused) {
    if (const auto to = moved.find(r.setup); to != moved.end()) r.setup = to->second;
  }
}

void find_tuned_bands(const kit::Trip& trip, kit::Setups& setups, PatternBook& book) {
  std::map<std::size_t, std::size_t> made;  // from which setup
  std::map<std::size_t, std::set<int>> wanted;
  const std::vector<RefusedBand> refused = book.refused;
  for (const auto& r : refused) {
    const auto s = static_cast<std::size_t>(r.setup);
    if (setups.possible[s].tuned || !tuner_may_help(r.why)) continue;
    for (const std::size_t sibling : tuned_siblings(trip, s, setups, book, made)) {
      const auto& has = setups.possible[sibling].bands;
      if (std::find(has.begin(), has.end(), r.band) == has.end()) wanted[sibling].insert(r.band);
    }
  }
  if (wanted.empty()) return;
  std::vector<kit::Setup> asked;
  std::vector<std::size_t> place;
  for (const auto& [sibling, bands] : wanted) {
    asked.push_back(setups.possible[sibling]);
    asked.back().bands.assign(bands.begin(), bands.end());
    place.push_back(sibling);
  }
  PatternBook more = pattern_book(trip, asked, &book);
  const int offset = static_cast<int>(book.radiators.size());
  std::move(more.radiators.begin(), more.radiators.end(), std::back_inserter(book.radiators));
  for (std::size_t a = 0; a < asked.size(); ++a) {
    auto& bands = setups.possible[place[a]].bands;
    auto& uses = book.setups[place[a]];
    for (SetupBand use : more.setups[a]) {
      use.radiator += offset;
      uses.push_back(use);
      bands.push_back(use.band);
    }
    std::sort(bands.begin(), bands.end());
    std::sort(uses.begin(), uses.end(), [](const auto& x, const auto& y) { return x.band < y.band; });
  }
  for (auto& r : more.refused) {
    r.setup = static_cast<int>(nth(place, r.setup));
    book.refused.push_back(std::move(r));
  }
  forget_useless(made, setups, book);
}

/// Setup::matches_tuned of each.
void tell_tuned_bands(kit::Setups& setups, const PatternBook& book) {
  auto& all = setups.possible;
  for (std::size_t s = 0; s < all.size(); ++s) {
    std::set<int> bands;
    for (std::size_t t = 0; t < all.size(); ++t) {
      const bool same = all[s].tuned ? s == t
                                     : all[t].tuned && all[t].rig == all[s].rig &&
                                           all[t].cable == all[s].cable && same_metal(all[t], all[s]);
      if (!same) continue;
      for (const auto& use : book.setups[t]) bands.insert(use.band);
    }
    for (const auto& use : book.setups[s]) {
      if (!all[s].tuned) bands.erase(use.band);
    }
    all[s].matches_tuned.assign(bands.begin(), bands.end());
  }
}

}  // namespace

void offer_tuners(const kit::Trip& trip, kit::Setups& setups, PatternBook& book) {
  find_tuned_bands(trip, setups, book);
  tell_tuned_bands(setups, book);
}

std::vector<UnfitBands> bands_that_cannot_be(const kit::Setups& setups, const PatternBook& book) {
  const auto place_of = [](const kit::Setup& s) { return std::tuple(s.site, s.support, s.far_support); };
  using Place = decltype(place_of(kit::Setup{}));
  struct Band {
    const RefusedBand* told = nullptr;
    std::set<Place> places;
  };
  struct Line {
    Id<kit::Antenna> antenna;
    antenna::Shape shape{};
    std::map<int, Band> bands;
  };
  std::vector<Line> lines;
  for (const auto& r : book.refused) {
    const auto& setup = nth(setups.possible, r.setup);
    bool otherwise = false;
    for (std::size_t other = 0; other < setups.possible.size() && !otherwise; ++other) {
      const auto& uses = book.setups[other];
      otherwise = same_metal(setups.possible[other], setup) &&
                  std::any_of(uses.begin(), uses.end(), [&](const SetupBand& u) { return u.band == r.band; });
    }
    if (otherwise) continue;
    auto line = std::find_if(lines.begin(), lines.end(), [&](const Line& l) {
      return l.antenna == setup.antenna && l.shape == setup.shape;
    });
    if (line == lines.end()) line = lines.insert(line, {setup.antenna, setup.shape, {}});
    Band& band = line->bands[r.band];
    const bool fresh = band.places.insert(place_of(setup)).second;
    // The last word on a place is that of the setup with a tuner; the first place is told.
    if (band.told != nullptr &&
        (fresh || place_of(nth(setups.possible, band.told->setup)) != place_of(setup)))
      continue;
    band.told = &r;
  }
  std::vector<UnfitBands> out;
  for (const auto& line : lines) {
    UnfitBands one{line.antenna, line.shape, {}};
    for (const auto& [index, band] : line.bands) one.bands.push_back({*band.told, band.places.size() - 1});
    out.push_back(std::move(one));
  }
  return out;
}

}  // namespace skerry::advice
