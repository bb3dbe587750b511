#include "skerry/advice/picture.hpp"

#include <algorithm>
#include <cmath>

#include "reach_data.hpp"
#include "skerry/advice/people.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/parallel.hpp"
#include "skerry/core/units.hpp"
#include "skerry/geodesy/land.hpp"
#include "skerry/sun/greyline.hpp"
#include "skerry/sun/position.hpp"

namespace skerry::advice {

namespace {

using std::chrono::hours;

// Judgement: points of a terminator; on a picture of 1000 units a step is about 16.
constexpr int edge_points = 120;
constexpr double skip_most_km = 4000;

constexpr std::size_t skip_steps = static_cast<std::size_t>(skip_most_km / skip_step_km);

/// Distances 100, 200, ... 4000 km towards each region, and away from those that a cell serves the long way
/// round.
struct Skip {
  std::vector<geodesy::Path> paths;
  std::vector<std::array<std::size_t, 2>> first;  ///< of each way, by the way round
};

Skip skip_paths(const std::vector<PictureWay>& ways) {
  Skip out;
  for (const auto& way : ways) {
    out.first.push_back({});
    const bool round = std::any_of(way.cells.begin(), way.cells.end(), [](const PictureCell& c) {
      return c.open() && c.way == geodesy::Way::long_way;
    });
    for (std::size_t turn = 0; turn <= (round ? 1U : 0U); ++turn) {
      out.first.back()[turn] = out.paths.size();
      for (std::size_t i = 1; i <= skip_steps; ++i) {
        const auto to = geodesy::destination(way.path.from, way.path.bearing_deg + (turn == 1 ? 180 : 0),
                                             skip_step_km * static_cast<double>(i));
        out.paths.push_back(geodesy::make_path(way.path.from, to, geodesy::Way::short_way));
      }
    }
  }
  return out;
}

/// Whether some layer carries it on such a share of days at least: sporadic E where the cell's own ray is that.
bool returns(const circuit::Passage& passage, bool by_es, double share) {
  if (by_es) return passage.es_count > 0 && passage.es[0].mode.hops == 1;
  const auto modes = passage.in_use();
  return std::any_of(modes.begin(), modes.end(),
                     [&](const circuit::Mode& m) { return m.support_probability >= share; });
}

std::optional<double> skip_km(const circuit::Circuits& circuits, std::size_t first, int hour, double mhz,
                              const PictureCell& cell) {
  // On the days on which the cell's own ray is carried, or half of them: the picture shows both.
  const bool drawn = cell.open() && cell.ray().hops > 0;
  const double share = drawn ? std::min(0.5, cell.ray().support_probability) : 0.5;
  // Where it comes down itself there is no skip zone.
  const double own = drawn ? cell.distance_km / cell.ray().hops : skip_most_km + skip_step_km;
  for (std::size_t i = 0; i < skip_steps; ++i) {
    const double km = skip_step_km * static_cast<double>(i + 1);
    if (km > own) break;
    if (returns(circuits.passage(first + i, hour, mhz), drawn && cell.es.has_value(), share))
      return i == 0 ? 0 : km;
  }
  if (drawn) return std::min(own, skip_most_km);
  return std::nullopt;
}

class Gather {
 public:
  Gather(const kit::Trip& trip, const Advice& advice)
      : trip_(trip), advice_(advice), data_(trip, advice.setups.possible, advice.book, Stress{}) {
    data_.lay_out_cells();
    if (data_.people > 0) data_.make_paths();
  }

  [[nodiscard]] PictureWay way(int site, int target) const {
    PictureWay out;
    out.site = site;
    out.target = target;
    out.person = largest_group(nth(trip_.targets, target));
    const auto index = path_index(site, target, out.person, geodesy::Way::short_way);
    out.path = data_.circuits->path(index);
    out.far_zone = clock_of(nth(trip_.targets, target));
    const UtcTime midnight = start_of(trip_.climate.day);
    for (int h = 0; h < 24; ++h) {
      const auto slot = static_cast<std::size_t>(h);
      out.far_sun_deg[slot] = sun::elevation_deg(out.path.to, midnight + hours(h));
      const auto muf = data_.circuits->muf(index, h);
      out.muf_mhz[slot] = muf.basic_mhz;
      out.optimum_mhz[slot] = muf.optimum_mhz;
    }
    return out;
  }

  [[nodiscard]] PictureCell cell(int site, int target, int hour, int band) const {
    const auto& slot = advice_.openings.at(site, target, hour, band);
    PictureCell out;
    out.no_setup = !band_carried(site, band);
    if (!slot.by) return out;
    const auto [setup, mode, person_id] = *slot.by;
    const SetupBand* use = nullptr;
    for (const auto& u : nth(advice_.book.setups, setup.value())) {
      if (u.band == band) use = &u;
    }
    if (use == nullptr) return out;
    const auto person = nth(data_.first_person, target) + person_id.value();
    const auto index = path_index(site, target, person_id.value(), slot.way);
    const auto& path = data_.circuits->path(index);
    const auto& emission = nth(trip_.modes, mode);
    const auto contact =
        circuit::contact(*data_.circuits, index, hour, nth(trip_.bands, band).mhz,
                         data_.own_station(static_cast<std::size_t>(setup.value()), *use,
                                           layout_of(setup.value()), path.bearing_deg, use->power_w),
                         data_.partner_station(person, true), emission);

    out.by = slot.by;
    out.long_method = contact.long_method();
    out.strongest = contact.strongest();
    if (contact.by_es() && contact.es_way) out.es = nth(contact.passage.es, *contact.es_way).mode;
    out.way = path.way;
    out.distance_km = path.distance_km;
    out.bearing_deg = path.bearing_deg;
    out.there = contact.there;
    out.back = contact.back;
    out.there_terms = contact.there_terms;
    out.back_terms = contact.back_terms;
    out.days_both = contact.days_in_ten;
    out.es_days = contact.es_days();
    return out;
  }

  [[nodiscard]] bool has_people() const { return data_.people > 0; }

 private:
  [[nodiscard]] std::size_t path_index(int site, int target, int person, geodesy::Way way) const {
    return data_.path_index(site, nth(data_.first_person, target) + person,
                            way == geodesy::Way::long_way ? 1 : 0);
  }
  [[nodiscard]] double layout_of(int setup) const {
    for (const auto& use : advice_.uses) {
      if (use.setup == setup) return use.layout_azimuth_deg;
    }
    return 0;
  }
  [[nodiscard]] bool band_carried(int site, int band) const {
    return std::any_of(advice_.uses.begin(), advice_.uses.end(), [&](const SetupUse& use) {
      if (nth(advice_.setups.possible, use.setup).site.value() != site) return false;
      const auto& bands = nth(advice_.book.setups, use.setup);
      return std::any_of(bands.begin(), bands.end(), [&](const SetupBand& b) { return b.band == band; });
    });
  }

  const kit::Trip& trip_;
  const Advice& advice_;
  ReachModel::Data data_;
};

void add_sites(Picture& out, const kit::Trip& trip) {
  const UtcTime midnight = start_of(trip.climate.day);
  for (std::size_t s = 0; s < trip.sites.size(); ++s) {
    const auto& site = trip.sites[s];
    PictureSite one;
    one.site = static_cast<int>(s);
    for (std::size_t h = 0; h < 24; ++h) {
      const UtcTime when = midnight + hours(h);
      one.sun_deg[h] = sun::elevation_deg(site.at, when);
      one.local_minute[h] = static_cast<int>(std::lround(site.zone.local_hour(when) * 60)) % 1440;
    }
    const auto same = std::find_if(out.maps.begin(), out.maps.end(), [&](const PictureMap& m) {
      return geodesy::distance_km(nth(trip.sites, m.site).at, site.at) < map_near_km;
    });
    one.map = static_cast<int>(same - out.maps.begin());
    if (same == out.maps.end()) {
      const auto antipode = GeoPoint::at_deg(-site.at.lat_deg, site.at.lon_deg + 180);
      out.maps.push_back({static_cast<int>(s), geodesy::is_land(antipode)});
    }
    out.sites.push_back(one);
  }
  for (const auto& hour : session_hours(trip)) {
    nth(nth(out.sites, hour.site).minutes, hour.utc_hour) += hour.minutes;
  }
}

void add_patterns(Picture& out, const kit::Trip& trip, const Advice& advice) {
  for (const auto& use : advice.uses) {
    if (!use.in_plan) continue;
    for (const auto& band : use.bands) {
      PicturePattern one;
      one.setup = use.setup;
      one.band = band.use.band;
      const auto& radiator = nth(advice.book.radiators, band.use.radiator);
      const auto seaward = std::find_if(radiator.towards.begin(), radiator.towards.end(),
                                        [](const auto& t) { return t.sea_from_m > 0; });
      one.has_sea = seaward != radiator.towards.end();
      for (std::size_t e = 0; e <= 90; ++e) {
        const auto elevation_deg = static_cast<double>(e);
        one.best_dbi[e] = radiator.pattern.best_dbi(elevation_deg);
        one.mean_dbi[e] = radiator.pattern.mean_dbi(elevation_deg);
        one.towards_sea_dbi[e] = one.has_sea ? seaward->pattern.best_dbi(elevation_deg) : one.best_dbi[e];
      }
      double all = 0;
      for (const auto& way : out.ways) {
        for (std::size_t h = 0; h < 24; ++h) {
          const auto& cell = way.cells[h * trip.bands.size() + static_cast<std::size_t>(one.band)];
          if (!cell.by || cell.by->setup.value() != one.setup || cell.days_both < 0.5) continue;
          const auto bin = static_cast<std::size_t>(std::clamp(cell.ray().elevation_deg / 5, 0.0, 17.0));
          one.needed[bin] += 1;
          all += 1;
        }
      }
      if (all <= 0) continue;
      for (auto& share : one.needed) share /= all;
      out.patterns.push_back(one);
    }
  }
}

}  // namespace

Picture make_picture(const kit::Trip& trip, const Advice& advice) {
  Picture out;
  out.day = trip.climate.day;
  out.coast = geodesy::coastline();
  const UtcTime midnight = start_of(out.day);
  for (std::size_t h = 0; h < 24; ++h) {
    const UtcTime when = midnight + hours(h);
    out.nights[h] = {sun::position(when).subsolar, sun::terminator(when, 0, edge_points)};
  }
  add_sites(out, trip);
  const Gather gather(trip, advice);
  if (gather.has_people()) {
    for (int s = 0; s < static_cast<int>(trip.sites.size()); ++s) {
      for (int t = 0; t < static_cast<int>(trip.targets.size()); ++t) out.ways.push_back(gather.way(s, t));
    }
    const std::size_t bands = trip.bands.size();
    for (auto& way : out.ways) way.cells.resize(24 * bands);
    const auto each_cell = [&](const auto& work) {
      parallel_for(out.ways.size() * 24, 1, [&](std::size_t begin, std::size_t end) {
        for (std::size_t i = begin; i < end; ++i) {
          for (std::size_t b = 0; b < bands; ++b)
            work(i / 24, static_cast<int>(i % 24), b, out.ways[i / 24].cells[(i % 24) * bands + b]);
        }
      });
    };
    if (!advice.openings.slots.empty()) {
      each_cell([&](std::size_t w, int hour, std::size_t b, PictureCell& cell) {
        cell = gather.cell(out.ways[w].site, out.ways[w].target, hour, static_cast<int>(b));
      });
    }
    const Skip skip = skip_paths(out.ways);
    const circuit::Circuits near(skip.paths, trip.climate);
    each_cell([&](std::size_t w, int hour, std::size_t b, PictureCell& cell) {
      const bool round = cell.open() && cell.way == geodesy::Way::long_way;
      cell.skip_km = skip_km(near, skip.first[w][round ? 1 : 0], hour, trip.bands[b].mhz, cell);
    });
  }
  add_patterns(out, trip, advice);
  out.frontier = advice.frontier;
  return out;
}

}  // namespace skerry::advice
