#include "skerry/advice/reach.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "reach_data.hpp"
#include "skerry/advice/people.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/parallel.hpp"
#include "skerry/core/units.hpp"

namespace skerry::advice {

namespace {

/// Days are compared with this much slack, so that a wish of 5 days is met by 5 computed as 4.9999999.
constexpr double days_slack = 1e-9;

}  // namespace

double land_share_of(const kit::Site& site) {
  if (site.near_land) return *site.near_land ? 1 : 0;
  return circuit::land_share(site.at);
}

void ReachModel::Data::lay_out_cells() {
  hours = session_hours(trip);
  for (const auto& site : trip.sites) site_land.push_back(land_share_of(site));
  site_hours.resize(trip.sites.size());
  slot_of.resize(trip.sites.size());
  for (auto& row : slot_of) row.fill(-1);
  for (const auto& h : hours) {
    auto& row = nth(site_hours, h.site);
    nth(nth(slot_of, h.site), h.utc_hour) = static_cast<int>(row.size());
    row.push_back(h.utc_hour);
  }
  for (std::size_t t = 0; t < trip.targets.size(); ++t) {
    first_person.push_back(people);
    people += static_cast<int>(trip.targets[t].people.size());
    target_of.resize(static_cast<std::size_t>(people), static_cast<int>(t));
    for (const auto& person : trip.targets[t].people) {
      partners.push_back(advice::partner_station(trip.targets[t].partner, person.where));
      spread_of.push_back(circuit::unknown_db({}, partners.back()));
    }
  }
  const auto there = listeners_of(trip);
  std::vector<DayHour> slices = session_slices(trip);
  for (const auto& h : hours) {
    std::vector<DayHour> mine;
    std::copy_if(slices.begin(), slices.end(), std::back_inserter(mine),
                 [&](const DayHour& x) { return x.site == h.site && x.utc_hour == h.utc_hour; });
    for (std::size_t t = 0; t < trip.targets.size(); ++t) {
      const auto& target = trip.targets[t];
      for (std::size_t p = 0; p < target.people.size(); ++p) {
        WantedCell cell;
        cell.site = h.site;
        cell.utc_hour = h.utc_hour;
        cell.target = static_cast<int>(t);
        cell.person = static_cast<int>(p);
        const double share = target.weight * target.people[p].weight;
        cell.weight = h.minutes * share;
        for (const auto& slice : mine)
          cell.people_weight += slice.minutes * share * there.at(slice.begun, target.people[p].where.lon_deg);
        cells.push_back(cell);
        total_weight += cell.weight;
      }
    }
  }
  band_used.assign(bands(), 0);
  for (const auto& uses : book.setups) {
    for (const auto& use : uses) nth(band_used, use.band) = 1;
  }
}

double ReachModel::Data::days(std::size_t setup, std::size_t use, int layout, int person, int way,
                              std::size_t slot, double least) const {
  const auto& u = book.setups[setup][use];
  const int site = setups[setup].site.value();
  const auto arriving = one_watt(setup, use, layout, person, way, slot);
  const auto& partner = nth(trip.targets, nth(target_of, person)).partner;
  const auto& mode = nth(trip.modes, u.mode);
  const double gain_dbi = partner.gain_dbi.value_or(0);
  // The way is the same in both directions; only the powers and the noise at the far end differ.
  const auto& carried = passage(site, person, way, slot, u.band);
  const double spread_db = nth(spread_of, person);
  const double there =
      circuit::days_in_ten(carried, arriving + (gain_dbi + to_db(u.power_w) + trip.learned.erp_db),
                           sky->far_noise[noise_index(site, person, slot, u.band)], mode, spread_db);
  if (there < least) return there;
  return circuit::both_ways(there,
                            circuit::days_in_ten(carried, arriving + (gain_dbi + to_db(partner.power_w)),
                                                 home_noise[setup][use][slot], mode, spread_db));
}

choose::CellSet ReachModel::Data::served(std::size_t setup, int layout,
                                         std::vector<choose::CellSet>* by_band) const {
  choose::CellSet out(cells.size());
  const auto& uses = book.setups[setup];
  if (by_band != nullptr) by_band->assign(uses.size(), choose::CellSet(cells.size()));
  // What a use adds to the level of one watt, less what its mode asks for.
  std::vector<double> lift_db;
  for (const auto& use : uses) {
    const auto& mode = nth(trip.modes, use.mode);
    lift_db.push_back(to_db(use.power_w) + trip.learned.erp_db - to_db(mode.bandwidth_hz) -
                      mode.required_snr_db);
  }
  constexpr double rounding_db = 1e-6;
  const int site = setups[setup].site.value();
  for (std::size_t c = 0; c < cells.size(); ++c) {
    const auto& wanted = cells[c];
    if (wanted.site != site) continue;
    const auto target = static_cast<std::size_t>(wanted.target);
    const int person = first_person[target] + wanted.person;
    const double gain = trip.targets[target].partner.gain_dbi.value_or(0);
    const auto slot = static_cast<std::size_t>(nth(nth(slot_of, site), wanted.utc_hour));
    for (std::size_t u = 0; u < uses.size(); ++u) {
      if (by_band == nullptr && out.has(c)) break;
      for (int way = 0; way < 2; ++way) {
        const double heard = one_watt(setup, u, layout, person, way, slot).dbw + gain + lift_db[u];
        if (heard < sky->least_dbw[sky_index(site, person, way, slot, uses[u].band)] - rounding_db) continue;
        const double least = trip.want_days_in_ten - days_slack;
        if (days(setup, u, layout, person, way, slot, least) < least) continue;
        out.add(c);
        if (by_band != nullptr) (*by_band)[u].add(c);
        break;
      }
    }
  }
  return out;
}

void ReachModel::Data::evaluate(std::span<const double> layouts_deg) {
  reaches.resize(setups.size());
  const auto weigh = [&](const choose::CellSet& set) {
    double sum = 0;
    for (std::size_t c = 0; c < cells.size(); ++c) sum += set.has(c) ? cells[c].weight : 0;
    return total_weight > 0 ? sum / total_weight : 0.0;
  };
  parallel_for(setups.size(), 1, [&](std::size_t begin, std::size_t end) {
    for (std::size_t s = begin; s < end; ++s) {
      auto& reach = reaches[s];
      int layouts = 1;
      for (const auto& use : book.setups[s]) {
        layouts = std::max(layouts, layouts_of(nth(book.radiators, use.radiator)));
      }
      reach.turns = layouts > 1;
      int layout = 0;
      if (reach.turns && !layouts_deg.empty()) {
        layout = static_cast<int>(std::lround(wrap_360(layouts_deg[s]) / layout_step_deg)) % layouts;
      } else if (reach.turns) {
        double best = -1;
        for (int l = 0; l < layouts; ++l) {
          const double share = weigh(served(s, l, nullptr));
          // Of layouts that serve the same weight the first is taken, whatever the last bit of the sum.
          if (share <= best + 1e-9) continue;
          best = share;
          layout = l;
        }
      }
      reach.layout_azimuth_deg = layout * layout_step_deg;
      reach.served = served(s, layout, &reach.by_band);
      reach.alone = weigh(reach.served);
    }
  });
}

ReachModel::ReachModel(const kit::Trip& trip, std::span<const kit::Setup> setups, const PatternBook& book,
                       const Stress& stress, std::span<const double> layouts_deg)
    : data_(std::make_unique<Data>(trip, setups, book, stress)) {
  assert(book.setups.size() == setups.size());
  assert(layouts_deg.empty() || layouts_deg.size() == setups.size());
  data_->lay_out_cells();
  if (data_->people > 0) {
    data_->make_paths();
    data_->fill_sky();
    data_->fill_levels(layouts_deg);
    data_->fill_home_noise();
  }
  data_->evaluate(layouts_deg);
}

ReachModel ReachModel::under(const Stress& stress) const {
  std::vector<double> layouts;
  for (const auto& reach : data_->reaches) layouts.push_back(reach.layout_azimuth_deg);
  const auto& d = *data_;
  if (stress.r12 != d.stress.r12) return {d.trip, d.setups, d.book, stress, layouts};
  auto data = std::make_unique<Data>(d.trip, d.setups, d.book, stress);
  data->lay_out_cells();
  data->month = d.month;
  data->sky_base = d.sky_base;
  data->circuits = d.circuits;
  data->sky = d.sky;
  data->field = d.field;
  if (data->people > 0) {
    if (stress.noisier_site == d.stress.noisier_site) {
      data->home_noise = d.home_noise;
    } else {
      data->fill_home_noise();
    }
  }
  data->evaluate(layouts);
  return ReachModel(std::move(data));
}

ReachModel::ReachModel(std::unique_ptr<Data> data) : data_(std::move(data)) {}

ReachModel::ReachModel(ReachModel&&) noexcept = default;
ReachModel::~ReachModel() = default;

const std::vector<WantedCell>& ReachModel::cells() const {
  return data_->cells;
}
const std::vector<SetupReach>& ReachModel::setups() const {
  return data_->reaches;
}
double ReachModel::total_weight() const {
  return data_->total_weight;
}

double ReachModel::share(const choose::CellSet& served) const {
  double sum = 0;
  choose::each_cell(served.words().data(), served.words().size(), [&](std::size_t c) {
    sum += data_->cells[c].weight;
    return true;
  });
  return data_->total_weight > 0 ? sum / data_->total_weight : 0.0;
}

double ReachModel::people_share(const choose::CellSet& served) const {
  double sum = 0, total = 0;
  for (std::size_t c = 0; c < data_->cells.size(); ++c) {
    total += data_->cells[c].people_weight;
    sum += served.has(c) ? data_->cells[c].people_weight : 0;
  }
  return total > 0 ? sum / total : 0.0;
}

choose::CellSet ReachModel::served_by(std::span<const int> setups) const {
  choose::CellSet out(data_->cells.size());
  for (const int s : setups) out.merge(nth(data_->reaches, s).served);
  return out;
}

std::vector<double> ReachModel::best_days(std::span<const int> setups) const {
  const auto& d = *data_;
  std::vector<double> out(d.cells.size(), 0);
  for (std::size_t c = 0; c < out.size(); ++c) {
    const auto& wanted = d.cells[c];
    const int person = nth(d.first_person, wanted.target) + wanted.person;
    const auto slot = static_cast<std::size_t>(nth(nth(d.slot_of, wanted.site), wanted.utc_hour));
    for (const int s : setups) {
      const auto setup = static_cast<std::size_t>(s);
      if (d.setups[setup].site.value() != wanted.site) continue;
      const int layout = static_cast<int>(std::lround(d.reaches[setup].layout_azimuth_deg / layout_step_deg));
      for (std::size_t u = 0; u < d.book.setups[setup].size(); ++u) {
        for (int way = 0; way < 2; ++way) {
          out[c] = std::max(out[c], d.days(setup, u, layout, person, way, slot));
        }
      }
    }
  }
  return out;
}

const geodesy::Path& ReachModel::path(int site, int target, int person) const {
  return data_->circuits->path(data_->path_index(site, nth(data_->first_person, target) + person, 0));
}

}  // namespace skerry::advice
