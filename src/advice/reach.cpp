#include "skerry/advice/reach.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>
#include <map>

#include "reach_data.hpp"
#include "reduced.hpp"
#include "skerry/core/parallel.hpp"
#include "skerry/core/units.hpp"

namespace skerry::advice {

namespace {

constexpr double closed_dbw = -std::numeric_limits<double>::infinity();
/// Days are compared with this much slack, so that a wish of 5 days is met by 5 computed as 4.9999999.
constexpr double days_slack = 1e-9;

/// Margin at which circuit::reliability gives p: its inverse. p in 0..1, deciles > 0.
double margin_for(double p, double upper_db, double lower_db) {
  return p >= 0.5 ? lower_db * (0.80 / (1.30 - p) - 1) : upper_db * (1 - 0.80 / (p + 0.30));
}

bool between_azimuths(double azimuth_deg, double from_deg, double to_deg) {
  const double width = to_deg - from_deg >= 360 ? 360 : wrap_360(to_deg - from_deg);
  return wrap_360(azimuth_deg - from_deg) <= width;
}

}  // namespace

void ReachModel::Data::lay_out_cells() {
  hours = session_hours(trip);
  site_hours.resize(trip.sites.size());
  slot_of.resize(trip.sites.size());
  for (auto& row : slot_of) row.fill(-1);
  for (const auto& h : hours) {
    auto& row = site_hours[static_cast<std::size_t>(h.site)];
    slot_of[static_cast<std::size_t>(h.site)][static_cast<std::size_t>(h.utc_hour)] =
        static_cast<int>(row.size());
    row.push_back(h.utc_hour);
  }
  for (std::size_t t = 0; t < trip.targets.size(); ++t) {
    first_person.push_back(people);
    people += static_cast<int>(trip.targets[t].people.size());
    target_of.resize(static_cast<std::size_t>(people), static_cast<int>(t));
  }
  for (const auto& h : hours) {
    for (std::size_t t = 0; t < trip.targets.size(); ++t) {
      const auto& target = trip.targets[t];
      for (std::size_t p = 0; p < target.people.size(); ++p) {
        WantedCell cell;
        cell.site = h.site;
        cell.utc_hour = h.utc_hour;
        cell.target = static_cast<int>(t);
        cell.person = static_cast<int>(p);
        cell.weight = h.minutes * target.weight * target.people[p].weight;
        cells.push_back(cell);
        total_weight += cell.weight;
      }
    }
  }
  band_used.assign(bands(), 0);
  for (const auto& uses : book.setups) {
    for (const auto& use : uses) band_used[static_cast<std::size_t>(use.band)] = 1;
  }
}

void ReachModel::Data::make_paths() {
  std::vector<geodesy::Path> paths;
  std::vector<circuit::Circuits::Horizon> horizons;
  for (const auto& site : trip.sites) {
    for (const auto& target : trip.targets) {
      for (const auto& person : target.people) {
        for (const auto way : {geodesy::Way::short_way, geodesy::Way::long_way}) {
          paths.push_back(geodesy::make_path(site.at, person.where, way));
          horizons.push_back({site.horizon.elevation_deg(paths.back().bearing_deg), 0.0});
        }
      }
    }
  }
  auto climate = trip.climate;
  if (stress.r12) climate.r12 = *stress.r12;
  month = static_cast<unsigned>(climate.day.month());
  circuits = std::make_unique<circuit::Circuits>(paths, climate, circuit::Settings{}, horizons);
}

circuit::Station ReachModel::Data::partner_station(int person, bool with_gain) const {
  const auto& partner =
      trip.targets[static_cast<std::size_t>(target_of[static_cast<std::size_t>(person)])].partner;
  circuit::Station out;
  out.power_w = partner.power_w;
  out.gain_dbi = with_gain ? partner.gain_dbi : 0;
  out.environment = partner.environment;
  return out;  // near_land: people live on land
}

circuit::Station ReachModel::Data::own_station(std::size_t setup, const SetupBand& use, double layout_deg,
                                               double bearing_deg, double power_w) const {
  const auto& radiator = book.radiators[static_cast<std::size_t>(use.radiator)];
  const auto& site = trip.sites[static_cast<std::size_t>(setups[setup].site)];
  circuit::Station out;
  out.power_w = power_w;
  const bool sea =
      radiator.has_sea && between_azimuths(bearing_deg, site.sea_azimuth_from_deg, site.sea_azimuth_to_deg);
  out.pattern = sea ? &radiator.towards_sea : &radiator.pattern;
  out.layout_azimuth_deg = layout_deg;
  out.efficiency_db = std::min(0.0, radiator.pattern.system_efficiency_db);
  out.receiver_noise_figure_db = trip.rigs[static_cast<std::size_t>(setups[setup].rig)].noise_figure_db;
  out.environment = stress.noisier_site ? noise::noisier(site.environment) : site.environment;
  out.near_land = site.near_land;
  return out;
}

circuit::Noise ReachModel::Data::partner_noise(int site, int person, int hour, int band) const {
  const auto index = path_index(site, person, 0);
  return circuit::noise_at(circuits->to_sky(index, hour), circuits->path(index).to, month,
                           partner_station(person, true), trip.bands[static_cast<std::size_t>(band)].mhz);
}

circuit::Noise ReachModel::Data::own_noise(std::size_t setup, const SetupBand& use, int hour) const {
  const int site = setups[setup].site;
  const auto index = path_index(site, 0, 0);
  return circuit::noise_at(circuits->from_sky(index, hour), trip.sites[static_cast<std::size_t>(site)].at,
                           month, own_station(setup, use, 0, 0, 1),
                           trip.bands[static_cast<std::size_t>(use.band)].mhz);
}

void ReachModel::Data::fill_sky() {
  std::size_t total = 0;
  for (std::size_t s = 0; s < trip.sites.size(); ++s) {
    sky_base.push_back(total);
    total += static_cast<std::size_t>(people) * site_hours[s].size() * bands();
  }
  sky.resize(total * 2);
  far_noise.resize(total);
  least_dbw.assign(total * 2, 0);
  if (trip.modes.empty()) return;
  struct Job {
    int site, person;
  };
  std::vector<Job> jobs;
  for (int s = 0; s < static_cast<int>(trip.sites.size()); ++s) {
    for (int p = 0; p < people; ++p) jobs.push_back({s, p});
  }
  parallel_for(jobs.size(), 1, [&](std::size_t begin, std::size_t end) {
    for (std::size_t j = begin; j < end; ++j) {
      const auto [site, person] = jobs[j];
      const auto& row = site_hours[static_cast<std::size_t>(site)];
      for (std::size_t slot = 0; slot < row.size(); ++slot) {
        for (int b = 0; b < static_cast<int>(bands()); ++b) {
          if (band_used[static_cast<std::size_t>(b)] == 0) continue;
          far_noise[noise_index(site, person, slot, b)] = partner_noise(site, person, row[slot], b);
          for (int way = 0; way < 2; ++way) {
            const auto index = sky_index(site, person, way, slot, b);
            auto& cell_here = sky[index];
            cell_here = circuits->cell(path_index(site, person, way), row[slot],
                                       trip.bands[static_cast<std::size_t>(b)].mhz);
            const auto& noise = far_noise[noise_index(site, person, slot, b)];
            const auto spread = circuit::link(cell_here, {}, noise, trip.modes.front());
            least_dbw[index] = noise.dbw_per_hz + margin_for(trip.want_days_in_ten / 10, spread.snr_upper_db,
                                                             spread.snr_lower_db);
          }
        }
      }
    }
  });
}

void ReachModel::Data::fill_levels() {
  struct Job {
    std::size_t setup;
    SetupBand use;
  };
  std::map<std::pair<int, int>, int> known;  // site and radiator
  std::vector<Job> jobs;
  level_of.resize(setups.size());
  for (std::size_t s = 0; s < setups.size(); ++s) {
    for (const auto& use : book.setups[s]) {
      const auto [where, fresh] =
          known.try_emplace({setups[s].site, use.radiator}, static_cast<int>(jobs.size()));
      if (fresh) jobs.push_back({s, use});
      level_of[s].push_back(where->second);
    }
  }
  levels.resize(jobs.size());
  parallel_for(jobs.size(), 1, [&](std::size_t begin, std::size_t end) {
    for (std::size_t j = begin; j < end; ++j) {
      const auto& [s, use] = jobs[j];
      const int site = setups[s].site;
      auto& out = levels[j];
      out.layouts = layouts_of(book.radiators[static_cast<std::size_t>(use.radiator)]);
      const std::size_t n = slots(site);
      out.dbw.reserve(static_cast<std::size_t>(out.layouts * people) * 2 * n);
      for (int layout = 0; layout < out.layouts; ++layout) {
        for (int person = 0; person < people; ++person) {
          const auto partner = partner_station(person, false);
          for (int way = 0; way < 2; ++way) {
            const auto& path = circuits->path(path_index(site, person, way));
            const auto own = own_station(s, use, layout * layout_step_deg, path.bearing_deg, 1);
            for (std::size_t slot = 0; slot < n; ++slot) {
              const auto got =
                  circuit::strength(cell(site, person, way, slot, use.band), path, own, partner, true);
              out.dbw.push_back(got.open ? got.received_dbw + stress.antenna_db : closed_dbw);
            }
          }
        }
      }
    }
  });
  home_noise.resize(setups.size());
  parallel_for(setups.size(), 4, [&](std::size_t begin, std::size_t end) {
    for (std::size_t s = begin; s < end; ++s) {
      for (const auto& use : book.setups[s]) {
        auto& row = home_noise[s].emplace_back();
        for (const int hour : site_hours[static_cast<std::size_t>(setups[s].site)])
          row.push_back(own_noise(s, use, hour));
      }
    }
  });
}

ReachModel::Data::Both ReachModel::Data::days(std::size_t setup, std::size_t use, int layout, int person,
                                              int way, std::size_t slot) const {
  const auto& u = book.setups[setup][use];
  const int site = setups[setup].site;
  const double one_watt_dbw = level_dbw(setup, use, layout, person, way, slot);
  Both out;
  if (one_watt_dbw == closed_dbw) return out;
  const auto& partner =
      trip.targets[static_cast<std::size_t>(target_of[static_cast<std::size_t>(person)])].partner;
  const auto& mode = trip.modes[static_cast<std::size_t>(u.mode)];
  const auto& sky_cell = cell(site, person, way, slot, u.band);
  // The way is the same in both directions; only the powers and the noise at the far end differ.
  circuit::Strength strength;
  strength.open = true;
  strength.received_dbw = one_watt_dbw + partner.gain_dbi + to_db(u.power_w);
  out.there =
      circuit::link(sky_cell, strength, far_noise[noise_index(site, person, slot, u.band)], mode).days_in_ten;
  strength.received_dbw = one_watt_dbw + partner.gain_dbi + to_db(partner.power_w);
  out.back = circuit::link(sky_cell, strength, home_noise[setup][use][slot], mode).days_in_ten;
  return out;
}

CellSet ReachModel::Data::served(std::size_t setup, int layout, std::vector<CellSet>* by_band) const {
  CellSet out(cells.size());
  const auto& uses = book.setups[setup];
  if (by_band != nullptr) by_band->assign(uses.size(), CellSet(cells.size()));
  // What a use adds to the level of one watt, less what its mode asks for.
  std::vector<double> lift_db;
  for (const auto& use : uses) {
    const auto& mode = trip.modes[static_cast<std::size_t>(use.mode)];
    lift_db.push_back(to_db(use.power_w) - to_db(mode.bandwidth_hz) - mode.required_snr_db);
  }
  constexpr double rounding_db = 1e-6;
  const int site = setups[setup].site;
  for (std::size_t c = 0; c < cells.size(); ++c) {
    const auto& wanted = cells[c];
    if (wanted.site != site) continue;
    const auto target = static_cast<std::size_t>(wanted.target);
    const int person = first_person[target] + wanted.person;
    const double gain = trip.targets[target].partner.gain_dbi;
    const auto slot = static_cast<std::size_t>(
        slot_of[static_cast<std::size_t>(site)][static_cast<std::size_t>(wanted.utc_hour)]);
    for (std::size_t u = 0; u < uses.size(); ++u) {
      if (by_band == nullptr && out.has(c)) break;
      for (int way = 0; way < 2; ++way) {
        const double heard = level_dbw(setup, u, layout, person, way, slot) + gain + lift_db[u];
        if (heard < least_dbw[sky_index(site, person, way, slot, uses[u].band)] - rounding_db) continue;
        const auto both = days(setup, u, layout, person, way, slot);
        if (circuit::both_ways(both.there, both.back) < trip.want_days_in_ten - days_slack) continue;
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
  const auto weigh = [&](const CellSet& set) {
    double sum = 0;
    for (std::size_t c = 0; c < cells.size(); ++c) sum += set.has(c) ? cells[c].weight : 0;
    return total_weight > 0 ? sum / total_weight : 0.0;
  };
  parallel_for(setups.size(), 1, [&](std::size_t begin, std::size_t end) {
    for (std::size_t s = begin; s < end; ++s) {
      auto& reach = reaches[s];
      int layouts = 1;
      for (const auto& use : book.setups[s]) {
        layouts = std::max(layouts, layouts_of(book.radiators[static_cast<std::size_t>(use.radiator)]));
      }
      reach.turns = layouts > 1;
      int layout = 0;
      if (reach.turns && !layouts_deg.empty()) {
        layout = static_cast<int>(std::lround(wrap_360(layouts_deg[s]) / layout_step_deg)) % layouts;
      } else if (reach.turns) {
        double best = -1;
        for (int l = 0; l < layouts; ++l) {
          const double share = weigh(served(s, l, nullptr));
          if (share <= best) continue;
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
    data_->fill_levels();
  }
  data_->evaluate(layouts_deg);
}

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

double ReachModel::share(const CellSet& served) const {
  double sum = 0;
  each_cell(served.words().data(), served.words().size(), [&](std::size_t c) {
    sum += data_->cells[c].weight;
    return true;
  });
  return data_->total_weight > 0 ? sum / data_->total_weight : 0.0;
}

CellSet ReachModel::served_by(std::span<const int> setups) const {
  CellSet out(data_->cells.size());
  for (const int s : setups) out.merge(data_->reaches[static_cast<std::size_t>(s)].served);
  return out;
}

std::vector<double> ReachModel::best_days(std::span<const int> setups) const {
  const auto& d = *data_;
  std::vector<double> out(d.cells.size(), 0);
  for (std::size_t c = 0; c < out.size(); ++c) {
    const auto& wanted = d.cells[c];
    const int person = d.first_person[static_cast<std::size_t>(wanted.target)] + wanted.person;
    const auto slot = static_cast<std::size_t>(
        d.slot_of[static_cast<std::size_t>(wanted.site)][static_cast<std::size_t>(wanted.utc_hour)]);
    for (const int s : setups) {
      const auto setup = static_cast<std::size_t>(s);
      if (d.setups[setup].site != wanted.site) continue;
      const int layout = static_cast<int>(std::lround(d.reaches[setup].layout_azimuth_deg / layout_step_deg));
      for (std::size_t u = 0; u < d.book.setups[setup].size(); ++u) {
        for (int way = 0; way < 2; ++way) {
          const auto both = d.days(setup, u, layout, person, way, slot);
          out[c] = std::max(out[c], circuit::both_ways(both.there, both.back));
        }
      }
    }
  }
  return out;
}

const geodesy::Path& ReachModel::path(int site, int target, int person) const {
  return data_->circuits->path(
      data_->path_index(site, data_->first_person[static_cast<std::size_t>(target)] + person, 0));
}

}  // namespace skerry::advice
