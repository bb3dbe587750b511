// What the page's script needs to know.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "html_parts.hpp"
#include "html_text.hpp"
#include "skerry/core/decimal.hpp"
#include "skerry/core/hash.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/page/pictures.hpp"
#include "skerry/words/setup.hpp"
#include "svg.hpp"

namespace skerry::page {

namespace {

/// Keys in the order they are written.
using Json = nlohmann::ordered_json;
using advice::PictureCell;

const std::vector<std::string>& cell_keys() {
  static const std::vector<std::string> keys = [] {
    std::vector<std::string> out{
        "open",          "no_setup",      "skip_km",   "days_both",    "long_method", "e_layer",
        "hops",          "elevation_deg", "mirror_km", "muf_mhz",      "support",     "way",
        "distance_km",   "bearing_deg",   "setup",     "mode",         "person",      "free_space_db",
        "absorption_db", "above_muf_db",  "ground_db", "screening_db", "auroral_db",  "other_db",
        "focusing_db",   "es_days"};
    for (const char* side : {"there_", "back_"}) {
      for (const char* key : {"power_dbw", "from_dbi", "to_dbi", "rest_db", "received_dbw", "noise_dbw",
                              "snr_db", "required_db", "margin_db", "upper_db", "lower_db", "days"}) {
        out.push_back(std::string(side) + key);
      }
    }
    return out;
  }();
  return keys;
}

/// The sender's gain first.
void add_side(Json& out, const circuit::Direction& d, const circuit::Ledger& t, double sender_dbi,
              double receiver_dbi) {
  for (const double v : {t.sent_dbw, sender_dbi, receiver_dbi, t.together_db, d.received_dbw, t.noise_dbw,
                         d.snr_db, t.needed_db, d.margin_db, d.snr_upper_db, d.snr_lower_db}) {
    out.push_back(rounded(v, 1));
  }
  out.push_back(rounded(d.days_in_ten, 2));
}

Json cell_json(const PictureCell& c, bool ledger) {
  Json out = Json::array({c.open() ? 1 : 0, c.no_setup ? 1 : 0, rounded(c.skip_km.value_or(-1), 0)});
  if (!c.open()) return out;
  out.push_back(rounded(c.days_both, 2));
  if (!ledger) return out;
  out.push_back(c.long_method ? 1 : 0);
  const auto& ray = c.ray();
  out.push_back(ray.layer == circuit::Layer::f2 ? 0 : ray.layer == circuit::Layer::e ? 1 : 2);
  out.push_back(ray.hops);
  out.push_back(rounded(ray.elevation_deg, 1));
  out.push_back(rounded(ray.reflection_height_km, 0));
  out.push_back(rounded(ray.basic_muf_mhz, 1));
  out.push_back(rounded(ray.support_probability, 2));
  out.push_back(c.way == geodesy::Way::long_way ? 1 : 0);
  out.push_back(rounded(c.distance_km, 0));
  out.push_back(rounded(c.bearing_deg, 0));
  out.push_back(c.by->setup.value());
  out.push_back(c.by->mode.value());
  out.push_back(c.by->person.value());
  const auto& m = c.strongest;
  for (const double v : {m.free_space_db, m.absorption_db, m.above_muf_db, m.ground_db, m.screening_db,
                         m.auroral_db, m.other_db, -m.focusing_db}) {
    out.push_back(rounded(v, 1));
  }
  out.push_back(rounded(c.es_days, 2));
  add_side(out, c.there, c.there_terms, c.there_terms.from_dbi, c.there_terms.to_dbi);
  add_side(out, c.back, c.back_terms, c.back_terms.to_dbi, c.back_terms.from_dbi);
  return out;
}

template <class List>
Json numbers(const List& values, int digits) {
  Json out = Json::array();
  for (const auto v : values) out.push_back(rounded(static_cast<double>(v), digits));
  return out;
}

Json sites_json(const kit::Trip& trip, const advice::Picture& picture) {
  Json out = Json::array();
  for (const auto& s : picture.sites) {
    const auto& site = nth(trip.sites, s.site);
    out.push_back({{"name", plain(site.name)},
                   {"zone", plain(site.zone.name())},
                   {"map", s.map},
                   {"sun_deg", numbers(s.sun_deg, 1)},
                   {"session_minutes", numbers(s.minutes, 0)},
                   {"local_minute", s.local_minute}});
  }
  return out;
}

Json targets_json(const kit::Trip& trip) {
  Json out = Json::array();
  for (const auto& t : trip.targets) {
    Json people = Json::array();
    for (const auto& p : t.people) people.push_back(plain(p.name));
    out.push_back({{"name", plain(t.region.name)}, {"people", std::move(people)}});
  }
  return out;
}

Json ways_json(const advice::Picture& picture) {
  long open = 0;
  for (const auto& way : picture.ways) {
    open += std::count_if(way.cells.begin(), way.cells.end(), [](const PictureCell& c) { return c.open(); });
  }
  Json out = Json::array();
  const UtcTime midnight = start_of(picture.day);
  for (const auto& way : picture.ways) {
    Json cells = Json::array();
    for (const auto& cell : way.cells)
      cells.push_back(cell_json(cell, open <= ledger_cells || cell.days_both >= 0.5));
    out.push_back({{"site", way.site},
                   {"target", way.target},
                   {"km", rounded(way.path.distance_km, 0)},
                   {"bearing_deg", rounded(way.path.bearing_deg, 0)},
                   {"far_zone", plain(way.far_zone.name())},
                   {"far_offset_min", way.far_zone.offset_s(midnight) / 60},
                   {"far_sun_deg", numbers(way.far_sun_deg, 1)},
                   {"muf_mhz", numbers(way.muf_mhz, 1)},
                   {"optimum_mhz", numbers(way.optimum_mhz, 1)},
                   {"cells", std::move(cells)}});
  }
  return out;
}

}  // namespace

PageStart way_start(const kit::Trip& trip, const advice::Picture& picture, std::size_t w) {
  PageStart out{w, 12, 0};
  double best = -1;
  const std::size_t bands = trip.bands.size();
  const auto& way = picture.ways[w];
  const auto& site = nth(picture.sites, way.site);
  for (std::size_t h = 0; h < 24; ++h) {
    for (std::size_t b = 0; b < bands; ++b) {
      const auto& cell = way.cells[h * bands + b];
      const double worth = cell.open() ? cell.days_both + (site.minutes[h] > 0 ? 1000 : 0) : -1;
      if (worth > best) {
        best = worth;
        out = {w, h, b};
      }
    }
  }
  return out;
}

PageStart page_start(const kit::Trip& trip, const advice::Picture& picture) {
  PageStart out;
  double best = -1;
  for (std::size_t w = 0; w < picture.ways.size(); ++w) {
    const auto& way = picture.ways[w];
    const auto start = way_start(trip, picture, w);
    const auto& cell = way.cells[start.hour * trip.bands.size() + start.band];
    if (!cell.open()) continue;
    const double worth = cell.days_both * nth(trip.targets, way.target).weight +
                         (nth(picture.sites, way.site).minutes[start.hour] > 0 ? 1000 : 0);
    if (worth > best) {
      best = worth;
      out = start;
    }
  }
  return out;
}

std::string page_json(const kit::Trip& trip, const advice::Advice& advice, const advice::Picture& picture) {
  Json bands = Json::array();
  for (const auto& b : trip.bands) bands.push_back({{"id", plain(b.id)}, {"mhz", rounded(b.mhz, 4)}});
  Json modes = Json::array();
  for (const auto& m : trip.modes)
    modes.push_back({{"name", plain(m.name)}, {"bandwidth_hz", rounded(m.bandwidth_hz, 1)}});
  Json setups = Json::object();
  for (const auto& use : advice.uses) {
    setups[std::to_string(use.setup)] = plain(words::setup_label(trip, advice, use.setup));
  }
  Json nights = Json::array();
  for (std::size_t m = 0; m < picture.maps.size(); ++m) {
    Json hours = Json::array();
    for (std::size_t h = 0; h < 24; ++h) hours.push_back(night_path(trip, picture, m, h));
    nights.push_back(std::move(hours));
  }
  const auto start = page_start(trip, picture);
  return Json{{"schema", "skerry.page/1"},
              {"id", content_hash(fmt::format("{}\n{}\n{}\n", trip.name, to_iso(trip.first_day),
                                              to_iso(trip.last_day)))
                         .substr(0, 16)},
              {"day", to_iso(picture.day)},
              {"want_days", rounded(trip.want_days_in_ten, 2)},
              {"start", {{"way", start.way}, {"hour", start.hour}, {"band", start.band}}},
              {"bands", std::move(bands)},
              {"modes", std::move(modes)},
              {"setups", std::move(setups)},
              {"sites", sites_json(trip, picture)},
              {"targets", targets_json(trip)},
              {"cell_keys", cell_keys()},
              {"ways", ways_json(picture)},
              {"nights", std::move(nights)},
              {"picture_style", picture_style()}}
      .dump(-1, ' ', false, nlohmann::json::error_handler_t::replace);
}

}  // namespace skerry::page
