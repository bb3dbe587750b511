// The sky over the paths of a trip, the noise at both ends, and what each radiator puts into it.
#include <algorithm>
#include <cassert>
#include <cmath>
#include <limits>
#include <map>
#include <tuple>

#include "reach_data.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/parallel.hpp"
#include "skerry/core/units.hpp"

namespace skerry::advice {

namespace {

/// What a way makes at most of one watt, dBW: every mode at the radiator's strongest.
double most_arriving_dbw(const circuit::Passage& passage, double own_dbi, const circuit::HomeAntenna* home,
                         double partner_dbi) {
  double best_dbi = -std::numeric_limits<double>::infinity();  // the partner's gain less what the way takes
  const auto take = [&](const circuit::Mode& mode) {
    const double gain_dbi =
        home != nullptr ? home->gain_dbi(mode.elevation_deg) - circuit::home_feed_db : partner_dbi;
    best_dbi = std::max(best_dbi, gain_dbi - mode.loss_db);
  };
  for (const auto& mode : passage.in_use()) take(mode);
  // All modes together are no more than the best so many times.
  best_dbi += to_db(std::max(1, passage.count));
  for (const auto& way : passage.es_in_use()) take(way.mode);
  if (passage.long_share > 0)
    best_dbi = std::max(best_dbi, (home != nullptr ? home->most_dbi() : partner_dbi) - passage.long_loss_db);
  return own_dbi + best_dbi;
}

}  // namespace

circuit::Station partner_station(const kit::Partner& partner, GeoPoint where) {
  auto out = circuit::unknown_station(partner.power_w, partner.environment, where);
  if (partner.gain_dbi) {
    out.home = false;
    out.gain_dbi = *partner.gain_dbi;
    out.man_made_above_db = 0;
  }
  if (partner.spread_db) out.spread_db = *partner.spread_db;
  return out;
}

void ReachModel::Data::make_paths() {
  sky = std::make_shared<Sky>();
  std::vector<geodesy::Path> paths;
  std::vector<circuit::Circuits::Horizon> horizons;
  for (const auto& site : trip.sites) {
    for (const auto& target : trip.targets) {
      for (const auto& person : target.people) {
        for (const auto way : {geodesy::Way::short_way, geodesy::Way::long_way}) {
          paths.push_back(geodesy::make_path(site.at, person.where, way));
          horizons.push_back({site.horizon.towards(paths.back().bearing_deg), {}});
        }
      }
    }
  }
  for (std::size_t i = 0; i < paths.size(); i += 2) short_km.push_back(paths[i].distance_km);
  auto climate = trip.climate;
  if (stress.r12) climate.r12 = *stress.r12;
  month = static_cast<unsigned>(climate.day.month());
  circuit::Settings settings;
  settings.sporadic_e = trip.sporadic_e && !stress.no_es;
  if (stress.method) settings.far = *stress.method;
  circuits = std::make_shared<circuit::Circuits>(paths, climate, settings, horizons);
}

circuit::Station ReachModel::Data::partner_station(int person, bool with_gain) const {
  auto out = nth(partners, person);
  if (!with_gain) out.gain_dbi = 0;
  return out;
}

circuit::Station ReachModel::Data::own_station(std::size_t setup, const SetupBand& use, double layout_deg,
                                               double bearing_deg, double power_w) const {
  const auto& radiator = nth(book.radiators, use.radiator);
  const auto& site = trip.at(setups[setup].site);
  circuit::Station out;
  out.power_w = power_w;
  out.pattern = &radiator.at_bearing(site, bearing_deg);
  out.layout_azimuth_deg = layout_deg;
  out.efficiency_db = std::min(0.0, radiator.pattern.system_efficiency_db);
  out.receiver_noise_figure_db = trip.at(setups[setup].rig).noise_figure_db;
  out.environment = stress.noisier ? noise::noisier(site.environment) : site.environment;
  out.land_share = nth(site_land, setups[setup].site.value());
  return out;
}

circuit::Noise ReachModel::Data::partner_noise(int site, int person, int hour, int band) const {
  const auto index = path_index(site, person, 0);
  return circuit::noise_at(circuits->to_sky(index, hour), circuits->path(index).to, month,
                           partner_station(person, true), nth(trip.bands, band).mhz);
}

circuit::Noise ReachModel::Data::own_noise(std::size_t setup, const SetupBand& use, int hour) const {
  const int site = setups[setup].site.value();
  const auto index = path_index(site, 0, 0);
  return circuit::noise_at(circuits->from_sky(index, hour), nth(trip.sites, site).at, month,
                           own_station(setup, use, 0, 0, 1), nth(trip.bands, use.band).mhz);
}

void ReachModel::Data::fill_sky() {
  std::size_t total = 0;
  for (std::size_t s = 0; s < trip.sites.size(); ++s) {
    sky_base.push_back(total);
    total += static_cast<std::size_t>(people) * site_hours[s].size() * bands();
  }
  sky->passages.resize(total * 2);
  sky->far_noise.resize(total);
  sky->least_dbw.assign(total * 2, 0);
  std::vector<int> used;
  std::vector<double> mhz;
  for (int band = 0; band < static_cast<int>(bands()); ++band) {
    if (nth(band_used, band) == 0) continue;
    used.push_back(band);
    mhz.push_back(nth(trip.bands, band).mhz);
  }
  for_each_path([&](int site, int person) {
    for (int way = 0; way < 2; ++way) {
      circuit::Circuits::Tuned tuned(*circuits, path_index(site, person, way), mhz);
      for (std::size_t slot = 0; slot < slots(site); ++slot) {
        tuned.begin(nth(nth(site_hours, site), slot));
        for (std::size_t k = 0; k < used.size(); ++k)
          tuned.fill(k, sky->passages[sky_index(site, person, way, slot, used[k])]);
      }
    }
  });
  fill_far_noise();
}

void ReachModel::Data::fill_far_noise() {
  for_each_way([&](int site, int person, int way, std::size_t slot, int band) {
    auto& noise = sky->far_noise[noise_index(site, person, slot, band)];
    if (way == 0) noise = partner_noise(site, person, nth(nth(site_hours, site), slot), band);
    const auto index = sky_index(site, person, way, slot, band);
    sky->least_dbw[index] = circuit::least_dbw(sky->passages[index], noise, no_days, nth(spread_of, person));
  });
}

void ReachModel::Data::for_each_way(
    const std::function<void(int site, int person, int way, std::size_t slot, int band)>& what) const {
  for_each_path([&](int site, int person) {
    for (std::size_t slot = 0; slot < slots(site); ++slot) {
      for (int band = 0; band < static_cast<int>(bands()); ++band) {
        if (nth(band_used, band) == 0) continue;
        for (int way = 0; way < 2; ++way) what(site, person, way, slot, band);
      }
    }
  });
}

void ReachModel::Data::for_each_path(const std::function<void(int site, int person)>& what) const {
  const auto jobs = trip.modes.empty() ? 0 : trip.sites.size() * static_cast<std::size_t>(people);
  parallel_for(jobs, 1, [&](std::size_t begin, std::size_t end) {
    for (std::size_t j = begin; j < end; ++j)
      what(static_cast<int>(j) / people, static_cast<int>(j) % people);
  });
}

void ReachModel::Data::fill_levels(std::span<const double> layouts_deg) {
  field = std::make_shared<Field>();
  struct Job {
    std::size_t setup;
    SetupBand use;
    double only_deg;  // the one layout wanted; negative: all
  };
  std::map<std::tuple<int, int, double>, int> known;  // site, radiator and layout
  std::vector<Job> jobs;
  field->level_of.resize(setups.size());
  for (std::size_t s = 0; s < setups.size(); ++s) {
    for (const auto& use : book.setups[s]) {
      double only = -1;
      if (!layouts_deg.empty()) {
        const int layouts = layouts_of(nth(book.radiators, use.radiator));
        only = static_cast<int>(std::lround(wrap_360(layouts_deg[s]) / layout_step_deg)) % layouts *
               layout_step_deg;
      }
      const auto [where, fresh] =
          known.try_emplace({setups[s].site.value(), use.radiator, only}, static_cast<int>(jobs.size()));
      if (fresh) jobs.push_back({s, use, only});
      field->level_of[s].push_back(where->second);
    }
  }
  field->levels.resize(jobs.size());
  // Where nobody can hear it at all, no pattern is asked: the largest power and the least that a mode needs.
  constexpr double none = -std::numeric_limits<double>::infinity();
  double sent_dbw = none;
  for (const auto& row : power_dbw) {
    for (const double dbw : row) sent_dbw = std::max(sent_dbw, dbw);
  }
  sent_dbw += trip.learned.erp_db + most_better_db;
  const double least_needed_db =
      needed_db.empty() ? 0 : *std::min_element(needed_db.begin(), needed_db.end());
  std::vector<circuit::HomeAntenna> homes;
  for (const auto& band : trip.bands) homes.emplace_back(band.mhz);
  assert(stress.antenna_db <= most_better_db);
  parallel_for(jobs.size(), 1, [&](std::size_t begin, std::size_t end) {
    for (std::size_t j = begin; j < end; ++j) {
      const auto& [s, use, only] = jobs[j];
      const int site = setups[s].site.value();
      auto& out = field->levels[j];
      if (only < 0) out.layouts = layouts_of(nth(book.radiators, use.radiator));
      const std::size_t n = slots(site);
      const double own_dbi = nth(book.radiators, use.radiator).strongest_dbi;
      out.arriving.reserve(static_cast<std::size_t>(out.layouts * people) * 2 * n);
      for (int layout = 0; layout < out.layouts; ++layout) {
        for (int person = 0; person < people; ++person) {
          const auto partner = partner_station(person, false);
          for (int way = 0; way < 2; ++way) {
            const auto& path = circuits->path(path_index(site, person, way));
            const auto own =
                own_station(s, use, only < 0 ? layout * layout_step_deg : only, path.bearing_deg, 1);
            const auto* home = partner.home ? &nth(homes, use.band) : nullptr;
            const double partner_dbi = nth(partners, person).gain_dbi;
            for (std::size_t slot = 0; slot < n; ++slot) {
              const auto& carried = passage(site, person, way, slot, use.band);
              if (most_arriving_dbw(carried, own_dbi, home, partner_dbi) + sent_dbw - least_needed_db <
                  sky->least_dbw[sky_index(site, person, way, slot, use.band)]) {
                out.arriving.emplace_back();
                continue;
              }
              const auto level = circuit::level(carried, path, own, partner);
              out.arriving.push_back(level.received(0));
            }
          }
        }
      }
    }
  });
}

void ReachModel::Data::fill_home_noise() {
  home_noise.resize(setups.size());
  parallel_for(setups.size(), 4, [&](std::size_t begin, std::size_t end) {
    for (std::size_t s = begin; s < end; ++s) {
      if (like[s] != s) continue;
      for (const auto& use : book.setups[s]) {
        auto& row = home_noise[s].emplace_back();
        for (const int hour : nth(site_hours, setups[s].site.value())) row.push_back(own_noise(s, use, hour));
      }
    }
  });
  for (std::size_t s = 0; s < setups.size(); ++s) {
    if (like[s] != s) home_noise[s] = home_noise[like[s]];
  }
}

}  // namespace skerry::advice
