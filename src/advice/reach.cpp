#include "skerry/advice/reach.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <map>
#include <tuple>

#include "reach_data.hpp"
#include "skerry/advice/people.hpp"
#include "skerry/circuit/explain.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/parallel.hpp"
#include "skerry/core/units.hpp"

namespace skerry::advice {

namespace {

/// Days are compared with this much slack, so that a wish of 5 days is met by 5 computed as 4.9999999.
constexpr double days_slack = 1e-9;

}  // namespace

int largest_group(const kit::Target& target) {
  const auto largest = std::max_element(target.people.begin(), target.people.end(),
                                        [](const auto& a, const auto& b) { return a.weight < b.weight; });
  return static_cast<int>(largest - target.people.begin());
}

double land_share_of(const kit::Site& site) {
  if (site.near_land) return *site.near_land ? 1 : 0;
  return circuit::land_share(site.at);
}

void ReachModel::Data::find_like() {
  const auto number = [](const auto& id) { return id ? id->value() : -1; };
  using Key = std::tuple<int, int, int, int, int, int, int, bool, antenna::Shape>;
  std::map<Key, std::size_t> first;
  for (std::size_t s = 0; s < setups.size(); ++s) {
    const auto& x = setups[s];
    const Key key{x.site.value(),
                  x.rig.value(),
                  x.antenna.value(),
                  number(x.support),
                  number(x.far_support),
                  number(x.cable),
                  number(x.tuner),
                  x.tuned,
                  x.shape};
    const std::size_t of = first.try_emplace(key, s).first->second;
    const auto bands = [&](std::size_t k) { return std::pair(setups[k].bands, book.setups[k].size()); };
    like.push_back(bands(of) == bands(s) ? of : s);
  }
}

void ReachModel::Data::lay_out_cells() {
  hours = session_hours(trip);
  for (const auto& site : trip.sites) site_land.push_back(land_share_of(site));
  site_hours.resize(trip.sites.size());
  mode_shares.resize(trip.sites.size());
  slot_of.resize(trip.sites.size());
  for (auto& row : slot_of) row.fill(-1);
  for (const auto& h : hours) {
    auto& row = nth(site_hours, h.site);
    nth(nth(slot_of, h.site), h.utc_hour) = static_cast<int>(row.size());
    row.push_back(h.utc_hour);
    auto& shares = nth(mode_shares, h.site).emplace_back(h.mode_shares);
    if (stress.mode) {
      std::fill(shares.begin(), shares.end(), 0.0);
      nth(shares, stress.mode->value()) = 1;
    }
  }
  for (std::size_t t = 0; t < trip.targets.size(); ++t) {
    first_person.push_back(people);
    people += static_cast<int>(trip.targets[t].people.size());
    target_of.resize(static_cast<std::size_t>(people), static_cast<int>(t));
    for (const auto& person : trip.targets[t].people) {
      auto partner = trip.targets[t].partner;
      if (stress.noisier) partner.environment = noise::noisier(partner.environment);
      partners.push_back(advice::partner_station(partner, person.where));
      spread_of.push_back(circuit::unknown_db({}, partners.back()));
    }
  }
  const auto there = listeners_of(trip);
  if (clocks.empty()) clocks = clocks_of(trip);
  std::vector<DayHour> slices = session_slices(trip);
  for (const auto& h : hours) {
    std::vector<DayHour> mine;
    std::copy_if(slices.begin(), slices.end(), std::back_inserter(mine),
                 [&](const DayHour& x) { return x.site == h.site && x.utc_hour == h.utc_hour; });
    // Few clocks serve many people.
    std::map<std::string_view, double> awake;
    const auto awake_minutes = [&](const sun::Zone& clock) {
      const auto [known, fresh] = awake.try_emplace(clock.name(), 0);
      if (fresh) {
        for (const auto& slice : mine) known->second += slice.minutes * there.at(slice.begun, clock);
      }
      return known->second;
    };
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
        cell.people_weight = share * awake_minutes(clocks[static_cast<std::size_t>(first_person[t]) + p]);
        cells.push_back(cell);
        total_weight += cell.weight;
      }
    }
  }
  for (const auto& mode : trip.modes) needed_db.push_back(to_db(mode.bandwidth_hz) + mode.required_snr_db);
  for (const int t : target_of) partner_dbw.push_back(to_db(nth(trip.targets, t).partner.power_w));
  for (const auto& uses : book.setups) {
    auto& row = power_dbw.emplace_back();
    for (const auto& use : uses) row.push_back(to_db(use.power_w));
  }
  band_used.assign(bands(), 0);
  for (const auto& uses : book.setups) {
    for (const auto& use : uses) nth(band_used, use.band) = 1;
  }
}

double ReachModel::Data::days(std::size_t setup, std::size_t use, std::size_t mode, int layout, int person,
                              int way, std::size_t slot, double least) const {
  const auto& u = book.setups[setup][use];
  const int site = setups[setup].site.value();
  const double km = nth(short_km, site * people + person);
  if (way == 1 && km < circuit::long_way_from_km) return 0;
  const auto& arriving = one_watt(setup, use, layout, person, way, slot);
  const auto& partner = nth(trip.targets, nth(target_of, person)).partner;
  const double gain_dbi = partner.gain_dbi.value_or(0);
  const double sent_dbw = gain_dbi + power_dbw[setup][use] + trip.learned.erp_db + stress.antenna_db;
  // Rounding of the threshold's own search.
  constexpr double rounding_db = 1e-6;
  if (arriving.dbw + sent_dbw - needed_db[mode] <
      sky->least_dbw[sky_index(site, person, way, slot, u.band)] - rounding_db)
    return 0;
  // The way is the same in both directions; only the powers and the noise at the far end differ.
  const auto& carried = passage(site, person, way, slot, u.band);
  const auto& emission = trip.modes[mode];
  const double spread_db = nth(spread_of, person);
  const double there = circuit::days_in_ten(carried, arriving + sent_dbw,
                                            sky->far_noise[noise_index(site, person, slot, u.band)], emission,
                                            spread_db, least);
  if (there <= least) return there;
  const double both = circuit::both_ways(
      there,
      circuit::days_in_ten(
          carried, arriving + (gain_dbi + partner_dbw[static_cast<std::size_t>(person)] + stress.antenna_db),
          home_noise[setup][use][slot], emission, spread_db, least));
  return way == 1 && !circuit::long_way_counts(km, both) ? 0 : both;
}

Id<noise::Mode> ReachModel::Data::mode_at(const kit::Rig& rig, const SetupBand& use, int site,
                                          int utc_hour) const {
  if (nth(nth(slot_of, site), utc_hour) < 0) return use.mode;
  const auto& shares = shares_at(site, utc_hour);
  auto best = use.mode;
  for (const auto m : ids_of(trip.modes)) {
    if (nth(shares, m.value()) > nth(shares, best.value()) && rig_has_mode(rig, nth(trip.modes, m)) &&
        mode_on_band(nth(trip.modes, m), nth(trip.bands, use.band)))
      best = m;
  }
  return best;
}

double ReachModel::Data::worth(double share, double days_in_ten) const {
  if (trip.objective == kit::Objective::days)
    return share * (days_in_ten >= trip.want_days_in_ten - days_slack ? 1 : 0);
  return share * (days_in_ten / 10);
}

void ReachModel::Data::weigh_chances(std::size_t setup, int layout, std::vector<float>& chance) const {
  const auto& uses = book.setups[setup];
  std::fill(chance.begin(), chance.end(), 0.0F);
  const int site = setups[setup].site.value();
  const auto& rig = trip.at(setups[setup].rig);
  // The band that was best an hour ago is tried first: what cannot beat it need not be computed.
  std::vector<std::size_t> first(static_cast<std::size_t>(people), 0);
  for (std::size_t m = 0; m < trip.modes.size(); ++m) {
    const auto& mode = trip.modes[m];
    if (!rig_has_mode(rig, mode)) continue;
    for (std::size_t c = 0; c < cells.size(); ++c) {
      const auto& wanted = cells[c];
      if (wanted.site != site) continue;
      const int person = nth(first_person, wanted.target) + wanted.person;
      const auto slot = static_cast<std::size_t>(nth(nth(slot_of, site), wanted.utc_hour));
      const double share = nth(mode_shares, site)[slot][m];
      if (share <= 0) continue;
      double best = 0;
      std::size_t best_use = nth(first, person);
      for (std::size_t k = 0; k < uses.size(); ++k) {
        const std::size_t u = (nth(first, person) + k) % uses.size();
        if (!mode_on_band(mode, nth(trip.bands, uses[u].band))) continue;
        for (int way = 0; way < 2; ++way) {
          const double here = days(setup, u, m, layout, person, way, slot, best);
          if (here <= best) continue;
          best = here;
          best_use = u;
        }
      }
      nth(first, person) = best_use;
      chance[c] += static_cast<float>(worth(share, best));
    }
  }
}

void ReachModel::Data::evaluate_one(std::size_t s, std::optional<double> layout_deg, SetupReach& other) {
  const auto weigh = [&](const std::vector<float>& chance) {
    double sum = 0;
    for (std::size_t c = 0; c < cells.size(); ++c) sum += static_cast<double>(chance[c]) * cells[c].weight;
    return total_weight > 0 ? sum / total_weight : 0.0;
  };
  auto& reach = reaches[s];
  int layouts = 1;
  for (const auto& use : book.setups[s])
    layouts = std::max(layouts, layouts_of(nth(book.radiators, use.radiator)));
  const std::vector<float> none(cells.size(), 0.0F);
  reach.turns = layouts > 1;
  reach.chance = other.chance = none;
  reach.alone = -1;
  const bool told = !reach.turns || layout_deg;
  const int first = reach.turns && told
                        ? static_cast<int>(std::lround(wrap_360(*layout_deg) / layout_step_deg)) % layouts
                        : 0;
  for (int l = first; l < (told ? first + 1 : layouts); ++l) {
    weigh_chances(s, l, other.chance);
    other.alone = weigh(other.chance);
    // Of layouts worth the same the first is taken, whatever the last bit of the sum.
    if (other.alone <= reach.alone + 1e-9) continue;
    reach.alone = other.alone;
    reach.layout_azimuth_deg = l * layout_step_deg;
    reach.chance.swap(other.chance);
  }
}

void ReachModel::Data::evaluate(std::span<const double> layouts_deg) {
  reaches.resize(setups.size());
  std::vector<std::size_t> firsts, others;
  for (std::size_t s = 0; s < setups.size(); ++s) (like[s] == s ? firsts : others).push_back(s);
  const auto all_of = [&](const std::vector<std::size_t>& some) {
    parallel_for(some.size(), 1, [&](std::size_t begin, std::size_t end) {
      SetupReach other;
      for (std::size_t k = begin; k < end; ++k) {
        const std::size_t s = some[k];
        std::optional<double> layout;
        if (!layouts_deg.empty()) layout = layouts_deg[s];
        if (like[s] != s) layout = reaches[like[s]].layout_azimuth_deg;
        evaluate_one(s, layout, other);
      }
    });
  };
  all_of(firsts);
  all_of(others);
}

std::unique_ptr<ReachModel::Data> ReachModel::Data::under_this_sky(const kit::Trip& other,
                                                                   std::span<const kit::Setup> others,
                                                                   const PatternBook& patterns,
                                                                   const Stress& under) const {
  auto out = std::make_unique<Data>(other, others, patterns, under);
  out->clocks = clocks;
  out->lay_out_cells();
  out->month = month;
  out->short_km = short_km;
  out->sky_base = sky_base;
  out->circuits = circuits;
  out->sky = sky;
  return out;
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
  if (stress.r12 != d.stress.r12 || stress.method != d.stress.method || (d.stress.no_es && !stress.no_es))
    return {d.trip, d.setups, d.book, stress, layouts};
  auto data = d.under_this_sky(d.trip, d.setups, d.book, stress);
  data->field = d.field;
  if (data->people > 0 && (stress.noisier != d.stress.noisier || stress.no_es != d.stress.no_es)) {
    data->sky = std::make_shared<Data::Sky>(*d.sky);
    if (stress.no_es) {
      for (auto& passage : data->sky->passages) passage.es_count = 0;
    }
    data->fill_far_noise();
  }
  if (stress.noisier == d.stress.noisier) {
    data->home_noise = d.home_noise;
  } else if (data->people > 0) {
    data->fill_home_noise();
  }
  data->evaluate(layouts);
  return ReachModel(std::move(data));
}

ReachModel ReachModel::over(const kit::Trip& trip, std::span<const kit::Setup> setups,
                            const PatternBook& book, std::span<const double> layouts_deg) const {
  auto data = data_->under_this_sky(trip, setups, book, data_->stress);
  if (data->people > 0) {
    data->fill_levels(layouts_deg);
    data->fill_home_noise();
  }
  data->evaluate(layouts_deg);
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

std::vector<std::vector<float>> ReachModel::by_band(int setup) const {
  const auto& d = *data_;
  const auto& uses = nth(d.book.setups, setup);
  const auto& own = nth(d.setups, setup);
  const auto s = static_cast<std::size_t>(setup);
  const int layout =
      static_cast<int>(std::lround(nth(d.reaches, setup).layout_azimuth_deg / layout_step_deg));
  std::vector<std::vector<float>> out(uses.size(), std::vector<float>(d.cells.size(), 0.0F));
  for (std::size_t m = 0; m < d.trip.modes.size(); ++m) {
    const auto& mode = d.trip.modes[m];
    if (!rig_has_mode(d.trip.at(own.rig), mode)) continue;
    for (std::size_t u = 0; u < uses.size(); ++u) {
      if (!mode_on_band(mode, nth(d.trip.bands, uses[u].band))) continue;
      for (std::size_t c = 0; c < d.cells.size(); ++c) {
        const auto& wanted = d.cells[c];
        if (wanted.site != own.site.value()) continue;
        const double share = d.shares_at(wanted.site, wanted.utc_hour)[m];
        if (share <= 0) continue;
        const int person = nth(d.first_person, wanted.target) + wanted.person;
        const auto slot = static_cast<std::size_t>(nth(nth(d.slot_of, wanted.site), wanted.utc_hour));
        double best = 0;
        for (int way = 0; way < 2; ++way)
          best = std::max(best, d.days(s, u, m, layout, person, way, slot, best));
        out[u][c] += static_cast<float>(d.worth(share, best));
      }
    }
  }
  return out;
}

std::vector<double> ReachModel::best_days(std::span<const int> setups) const {
  const auto& d = *data_;
  std::vector<double> out(d.cells.size(), 0);
  if (d.trip.modes.empty()) return out;
  for (std::size_t c = 0; c < out.size(); ++c) {
    const auto& wanted = d.cells[c];
    const auto& shares = d.shares_at(wanted.site, wanted.utc_hour);
    const auto mode =
        static_cast<std::size_t>(std::max_element(shares.begin(), shares.end()) - shares.begin());
    const int person = nth(d.first_person, wanted.target) + wanted.person;
    const auto slot = static_cast<std::size_t>(nth(nth(d.slot_of, wanted.site), wanted.utc_hour));
    for (const int s : setups) {
      const auto setup = static_cast<std::size_t>(s);
      if (d.setups[setup].site.value() != wanted.site) continue;
      const int layout = static_cast<int>(std::lround(d.reaches[setup].layout_azimuth_deg / layout_step_deg));
      for (std::size_t u = 0; u < d.book.setups[setup].size(); ++u) {
        for (int way = 0; way < 2; ++way)
          out[c] = std::max(out[c], d.days(setup, u, mode, layout, person, way, slot, out[c]));
      }
    }
  }
  return out;
}

const sun::Zone& ReachModel::clock(int target, int person) const {
  return nth(data_->clocks, nth(data_->first_person, target) + person);
}

const geodesy::Path& ReachModel::path(int site, int target, int person) const {
  return data_->circuits->path(data_->path_index(site, nth(data_->first_person, target) + person, 0));
}

}  // namespace skerry::advice
