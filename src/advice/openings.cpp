#include <algorithm>
#include <cmath>
#include <map>

#include "reach_data.hpp"
#include "skerry/circuit/explain.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/parallel.hpp"
#include "skerry/core/units.hpp"

namespace skerry::advice {

namespace {

struct Ranked {
  Slot slot;
  double weight = 0;
};

/// The person in the middle by weight: half of the people fare as well or better.
Slot weighted_median(std::vector<Ranked>& people) {
  if (people.empty()) return {};
  std::stable_sort(people.begin(), people.end(), [](const Ranked& a, const Ranked& b) {
    if (a.slot.days_both != b.slot.days_both) return a.slot.days_both < b.slot.days_both;
    return a.slot.snr_there_db < b.slot.snr_there_db;
  });
  double total = 0;
  for (const auto& p : people) total += p.weight;
  double sum = 0;
  for (const auto& p : people) {
    sum += p.weight;
    if (sum >= 0.5 * total) return p.slot;
  }
  return people.back().slot;
}

}  // namespace

OpeningTable ReachModel::openings(std::span<const int> setups) const {
  const std::vector<std::vector<int>> one(1, {setups.begin(), setups.end()});
  return std::move(openings(one).front());
}

std::vector<OpeningTable> ReachModel::openings(const std::vector<std::vector<int>>& groups) const {
  const auto& d = *data_;
  OpeningTable empty;
  empty.sites = d.trip.sites.size();
  empty.targets = d.trip.targets.size();
  empty.bands = d.bands();
  empty.slots.resize(empty.sites * empty.targets * 24 * empty.bands);
  std::vector<OpeningTable> out(groups.size(), empty);
  if (d.people == 0) return out;

  /// One setup on one band: its noise by hour, and which groups it is in.
  struct Use {
    std::size_t setup = 0;
    SetupBand band;
    std::vector<circuit::Noise> noise;
    std::vector<char> in_group;
  };
  std::map<int, std::vector<char>> members;
  for (std::size_t g = 0; g < groups.size(); ++g) {
    for (const int s : groups[g]) {
      auto& in = members[s];
      in.resize(groups.size());
      in[g] = 1;
    }
  }
  std::vector<std::vector<Use>> uses_at(empty.sites * empty.bands);
  for (const auto& [s, in] : members) {
    const auto setup = static_cast<std::size_t>(s);
    for (const auto& use : d.book.setups[setup]) {
      uses_at[static_cast<std::size_t>(d.setups[setup].site.value()) * empty.bands +
              static_cast<std::size_t>(use.band)]
          .push_back({setup, use, {}, in});
    }
  }
  parallel_for(uses_at.size(), 1, [&](std::size_t begin, std::size_t end) {
    for (std::size_t k = begin; k < end; ++k) {
      for (auto& use : uses_at[k]) {
        for (int hour = 0; hour < 24; ++hour) use.noise.push_back(d.own_noise(use.setup, use.band, hour));
      }
    }
  });

  /// What a use makes of one path at one hour; not open: nothing.
  const auto slot_of = [&](const Use& use, const circuit::Passage& passage, const geodesy::Path& path,
                           const circuit::Station& partner, const circuit::Noise& far, int hour,
                           Id<geodesy::WeightedPoint> person) {
    const auto own = d.own_station(use.setup, use.band, d.reaches[use.setup].layout_azimuth_deg,
                                   path.bearing_deg, use.band.power_w);
    const auto& setup = d.setups[use.setup];
    const auto mode_id = d.mode_at(d.trip.at(setup.rig), use.band, setup.site.value(), hour);
    const auto& mode = nth(d.trip.modes, mode_id);
    Slot slot;
    const auto level = circuit::level(passage, path, own, partner);
    slot.spread_db = circuit::unknown_db(own, partner);
    const auto both = circuit::directions(
        passage, level.received(to_db(own.power_w)) + (d.stress.antenna_db + d.trip.learned.erp_db),
        level.received(to_db(partner.power_w)) + d.stress.antenna_db, nth(use.noise, hour), far, mode,
        slot.spread_db);
    if (!both.open()) return Slot{};
    const auto& [there, back] = std::tie(both.there, both.back);
    const double days_both = both.days_in_ten;
    slot.days_as_assumed = both.days_as_assumed;
    slot.es_days = both.es_days();
    slot.days_there = there.days_in_ten;
    slot.days_back = back.days_in_ten;
    slot.days_both = days_both;
    slot.snr_there_db = there.snr_db;
    slot.snr_back_db = back.snr_db;
    slot.there_upper_db = there.snr_upper_db;
    slot.there_lower_db = there.snr_lower_db;
    slot.back_upper_db = back.snr_upper_db;
    slot.back_lower_db = back.snr_lower_db;
    slot.there_dbw = there.received_dbw;
    slot.back_dbw = back.received_dbw;
    slot.elevation_deg = level.best_elevation_deg;
    slot.support = level.best_mode >= 0 ? nth(passage.modes, level.best_mode).support_probability : 0;
    slot.way = path.way;
    slot.by = ServedBy{Id<kit::Setup>(use.setup), mode_id, person};
    return slot;
  };

  parallel_for(empty.sites * empty.targets * 24, 1, [&](std::size_t begin, std::size_t end) {
    std::vector<std::vector<Ranked>> people(groups.size());
    std::vector<Slot> best(groups.size());
    for (std::size_t row = begin; row < end; ++row) {
      const int hour = static_cast<int>(row % 24);
      const auto target = (row / 24) % empty.targets;
      const int site = static_cast<int>(row / 24 / empty.targets);
      for (std::size_t b = 0; b < empty.bands; ++b) {
        const auto& uses = uses_at[static_cast<std::size_t>(site) * empty.bands + b];
        if (uses.empty()) continue;
        for (auto& group : people) group.clear();
        const auto works = [&](std::size_t g) {
          return std::any_of(uses.begin(), uses.end(), [g](const Use& u) { return u.in_group[g] != 0; });
        };
        const auto& whole = d.trip.targets[target].people;
        for (std::size_t p = 0; p < whole.size(); ++p) {
          const int person = d.first_person[target] + static_cast<int>(p);
          const auto far = d.partner_noise(site, person, hour, static_cast<int>(b));
          const auto partner = d.partner_station(person, true);
          std::fill(best.begin(), best.end(), Slot{});
          const double short_km = d.circuits->path(d.path_index(site, person, 0)).distance_km;
          for (int way = 0; way < 2; ++way) {
            if (way == 1 && short_km < circuit::long_way_from_km) break;
            const auto index = d.path_index(site, person, way);
            const auto& path = d.circuits->path(index);
            const auto passage = d.circuits->passage(index, hour, d.trip.bands[b].mhz);
            for (const auto& use : uses) {
              const Slot slot =
                  slot_of(use, passage, path, partner, far, hour, Id<geodesy::WeightedPoint>(p));
              if (!slot.open() || (way == 1 && !circuit::long_way_counts(short_km, slot.days_both))) continue;
              for (std::size_t g = 0; g < groups.size(); ++g) {
                if (use.in_group[g] == 0) continue;
                const Slot& other = best[g];
                if (!other.open() || slot.days_both > other.days_both ||
                    (slot.days_both == other.days_both && slot.snr_there_db > other.snr_there_db))
                  best[g] = slot;
              }
            }
          }
          for (std::size_t g = 0; g < groups.size(); ++g) people[g].push_back({best[g], whole[p].weight});
        }
        for (std::size_t g = 0; g < groups.size(); ++g) {
          if (works(g)) out[g].slots[row * empty.bands + b] = weighted_median(people[g]);
        }
      }
    }
  });
  return out;
}

}  // namespace skerry::advice
