#include <algorithm>
#include <cmath>

#include "reach_data.hpp"
#include "skerry/core/parallel.hpp"

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
  const auto& d = *data_;
  OpeningTable out;
  out.sites = d.trip.sites.size();
  out.targets = d.trip.targets.size();
  out.bands = d.bands();
  out.slots.resize(out.sites * out.targets * 24 * out.bands);
  if (d.people == 0) return out;
  const std::vector<int> group(setups.begin(), setups.end());

  const auto best_for = [&](int site, int person, int hour, int band,
                            const std::vector<std::pair<std::size_t, SetupBand>>& uses) {
    Slot best;
    const auto& mhz = d.trip.bands[static_cast<std::size_t>(band)].mhz;
    const auto far = d.partner_noise(site, person, hour, band);
    const auto partner = d.partner_station(person, true);
    for (int way = 0; way < 2; ++way) {
      const auto index = d.path_index(site, person, way);
      const auto& path = d.circuits->path(index);
      const auto cell = d.circuits->cell(index, hour, mhz);
      for (const auto& [s, use] : uses) {
        auto own = d.own_station(s, use, d.reaches[s].layout_azimuth_deg, path.bearing_deg, use.power_w);
        const auto& mode = d.trip.modes[static_cast<std::size_t>(use.mode)];
        auto sent = circuit::strength(cell, path, own, partner, true);
        if (!sent.open) continue;
        auto heard = circuit::strength(cell, path, partner, own, false);
        sent.received_dbw += d.stress.antenna_db + d.trip.learned.erp_db;
        heard.received_dbw += d.stress.antenna_db;
        const auto there = circuit::link(cell, sent, far, mode);
        const auto back = circuit::link(cell, heard, d.own_noise(s, use, hour), mode);
        Slot slot;
        slot.open = true;
        slot.days_there = there.days_in_ten;
        slot.days_back = back.days_in_ten;
        slot.days_both = circuit::both_ways(there.days_in_ten, back.days_in_ten);
        slot.snr_there_db = there.snr_db;
        slot.snr_back_db = back.snr_db;
        slot.there_upper_db = there.snr_upper_db;
        slot.there_lower_db = there.snr_lower_db;
        slot.back_upper_db = back.snr_upper_db;
        slot.back_lower_db = back.snr_lower_db;
        slot.there_dbw = sent.received_dbw;
        slot.back_dbw = heard.received_dbw;
        slot.elevation_deg = sent.best_elevation_deg;
        slot.support = sent.best_mode >= 0
                           ? cell.modes[static_cast<std::size_t>(sent.best_mode)].support_probability
                           : 0;
        slot.way = path.way;
        slot.setup = static_cast<int>(s);
        slot.mode = use.mode;
        const bool better = !best.open || slot.days_both > best.days_both ||
                            (slot.days_both == best.days_both && slot.snr_there_db > best.snr_there_db);
        if (better) best = slot;
      }
    }
    return best;
  };

  parallel_for(out.sites * out.targets * 24, 1, [&](std::size_t begin, std::size_t end) {
    std::vector<Ranked> people;
    std::vector<std::pair<std::size_t, SetupBand>> uses;
    for (std::size_t row = begin; row < end; ++row) {
      const int hour = static_cast<int>(row % 24);
      const auto target = (row / 24) % out.targets;
      const int site = static_cast<int>(row / 24 / out.targets);
      for (std::size_t b = 0; b < out.bands; ++b) {
        uses.clear();
        for (const int s : group) {
          if (d.setups[static_cast<std::size_t>(s)].site != site) continue;
          for (const auto& use : d.book.setups[static_cast<std::size_t>(s)]) {
            if (use.band == static_cast<int>(b)) uses.emplace_back(static_cast<std::size_t>(s), use);
          }
        }
        if (uses.empty()) continue;
        people.clear();
        const auto& whole = d.trip.targets[target].people;
        for (std::size_t p = 0; p < whole.size(); ++p) {
          Ranked one;
          one.slot =
              best_for(site, d.first_person[target] + static_cast<int>(p), hour, static_cast<int>(b), uses);
          one.slot.person = static_cast<int>(p);
          one.weight = whole[p].weight;
          people.push_back(one);
        }
        out.slots[row * out.bands + b] = weighted_median(people);
      }
    }
  });
  return out;
}

}  // namespace skerry::advice
