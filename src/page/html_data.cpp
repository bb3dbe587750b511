// What the page's script needs to know.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <nlohmann/json.hpp>

#include "html_parts.hpp"
#include "html_text.hpp"
#include "section.hpp"
#include "skerry/core/decimal.hpp"
#include "skerry/core/hash.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/page/pictures.hpp"
#include "skerry/sun/clock_spans.hpp"
#include "skerry/words/page_text.hpp"
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
        "open",          "no_setup",     "days_both",   "way",          "hops",          "hop",
        "mirror_km",     "layer",        "skip_x",      "equal_hops",   "es_days",       "setup",
        "mode",          "person",       "long_method", "skip_km",      "elevation_deg", "free_space_db",
        "absorption_db", "above_muf_db", "ground_db",   "screening_db", "auroral_db",    "skyline_db",
        "other_db",      "focusing_db"};
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

/// A number to so many digits; a whole one without them: two bytes less in each of some ten thousand.
Json brief(double value, int digits) {
  const double shown = rounded(value, digits);
  if (shown == std::floor(shown) && std::abs(shown) < 1e9) return static_cast<long>(shown);
  return shown;
}

/// The sender's gain first.
void add_side(Json& out, const circuit::Direction& d, const circuit::Ledger& t, double sender_dbi,
              double receiver_dbi) {
  for (const double v : {t.sent_dbw, sender_dbi, receiver_dbi, t.together_db, d.received_dbw, t.noise_dbw,
                         d.snr_db, t.needed_db, d.margin_db, d.snr_upper_db, d.snr_lower_db}) {
    out.push_back(brief(v, 1));
  }
  out.push_back(brief(d.days_in_ten, 2));
}

struct Place {
  const Frame& near;
  const Frame& round;
};

Json cell_json(const Place& place, const PictureCell& c, bool ledger) {
  Json out = Json::array({c.open() ? 1 : 0, c.no_setup ? 1 : 0});
  if (!c.open()) return out;
  const bool long_way = c.way == geodesy::Way::long_way;
  out.push_back(brief(c.days_both, 2));
  out.push_back(long_way ? 1 : 0);
  if (!ledger) return out;
  const bool drawn = c.ray().hops > 0;
  const auto ray = drawn ? drawn_ray(c) : DrawnRay{};
  out.push_back(drawn ? ray.hops : 0);
  const auto frame = frame_of_cell(long_way ? place.round : place.near, c);
  out.push_back(drawn ? hop_path(frame, ray, frame.km) : std::string());
  out.push_back(brief(ray.mirror_km, 0));
  out.push_back(c.ray().layer == circuit::Layer::f2 ? 0 : c.ray().layer == circuit::Layer::e ? 1 : 2);
  out.push_back(brief(ray.skip_km > 0.0 ? frame.x(*ray.skip_km) : 0, 1));
  out.push_back(ray.equal_hops ? 1 : 0);
  out.push_back(brief(c.es_days, 1));
  out.push_back(c.by->setup.value());
  out.push_back(c.by->mode.value());
  out.push_back(c.by->person.value());
  out.push_back(c.long_method ? 1 : 0);
  out.push_back(brief(ray.skip_km.value_or(-1), 0));
  out.push_back(brief(drawn ? std::abs(ray.elevation_deg) : 0, 1));
  const auto& m = c.strongest;
  for (const double v : {m.free_space_db, m.absorption_db, m.above_muf_db, m.ground_db, m.screening_db,
                         m.auroral_db, m.skyline_db, m.other_db, -m.focusing_db}) {
    out.push_back(brief(v, 1));
  }
  add_side(out, c.there, c.there_terms, c.there_terms.from_dbi, c.there_terms.to_dbi);
  add_side(out, c.back, c.back_terms, c.back_terms.to_dbi, c.back_terms.from_dbi);
  return out;
}

/// What the section shows on one way round: what stays, what each hour changes, and each antenna's lobe.
Json frame_json(const kit::Trip& trip, const advice::Picture& picture, const advice::PictureWay& way,
                const Frame& frame) {
  Json hours = Json::array();
  for (int h = 0; h < 24; ++h) hours.push_back(frame_hour(frame, picture.day, h));
  Json lobes = Json::object();
  for (const auto& p : picture.patterns) {
    const bool used = std::any_of(way.cells.begin(), way.cells.end(), [&](const PictureCell& c) {
      return c.by && c.by->setup.value() == p.setup && (c.way == geodesy::Way::long_way) == frame.long_way;
    });
    if (used) lobes[fmt::format("{}-{}", p.setup, p.band)] = short_path(lobe_path(frame, p));
  }
  return {
      {"base", frame_base(frame, nth(trip.sites, way.site).name, nth(trip.targets, way.target).region.name)},
      {"end", rounded(frame.x(frame.km), 1)},
      {"up", rounded(frame.up, 4)},
      {"note", fmt::format(caption::stretched, frame.up / frame.along)},
      {"hours", std::move(hours)},
      {"lobes", std::move(lobes)}};
}

/// Where the ray comes down or is turned, on the map, for each number of hops of each way round.
Json bounces_json(const kit::Trip& trip, const advice::PictureWay& way) {
  Json out = Json::object();
  for (const auto& c : way.cells) {
    if (!c.open() || c.ray().hops <= 0) continue;
    const int hops = drawn_ray(c).hops;
    const bool long_way = c.way == geodesy::Way::long_way;
    const auto key = fmt::format("{}-{}", long_way ? 1 : 0, hops);
    if (!out.contains(key)) out[key] = bounce_path(nth(trip.sites, way.site).at, way.path.to, long_way, hops);
  }
  return out;
}

template <class List>
Json numbers(const List& values, int digits) {
  Json out = Json::array();
  for (const auto v : values) out.push_back(rounded(static_cast<double>(v), digits));
  return out;
}

/// The clock on each day of the trip: one row a day, so that whoever shows a day finds its hours.
Json clocks_json(const kit::Trip& trip, const sun::Zone& zone) {
  Json out = Json::array();
  const auto spans = sun::clock_spans(zone, trip.first_day, trip.last_day);
  for (std::chrono::sys_days d{trip.first_day}; d <= std::chrono::sys_days{trip.last_day};
       d += std::chrono::days{1}) {
    const auto& span = sun::span_of(spans, Day{d});
    out.push_back(
        {{"date", to_iso(Day{d})}, {"offset_min", span.offset_s / 60}, {"label", plain(span.label)}});
  }
  return out;
}

Json sites_json(const kit::Trip& trip, const advice::Picture& picture) {
  Json out = Json::array();
  for (const auto& s : picture.sites) {
    const auto& site = nth(trip.sites, s.site);
    out.push_back({{"name", plain(site.name)},
                   {"zone", plain(site.zone.name())},
                   {"clocks", clocks_json(trip, site.zone)},
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

Json ways_json(const kit::Trip& trip, const advice::Picture& picture) {
  std::ptrdiff_t open = 0;
  for (const auto& way : picture.ways) {
    open += std::count_if(way.cells.begin(), way.cells.end(), [](const PictureCell& c) { return c.open(); });
  }
  Json out = Json::array();
  const UtcTime midnight = start_of(picture.day);
  for (const auto& way : picture.ways) {
    const auto round = std::find_if(way.cells.begin(), way.cells.end(), [](const PictureCell& c) {
      return c.open() && c.way == geodesy::Way::long_way;
    });
    const auto near = frame_of(way, way.path.distance_km, false);
    const auto far = round == way.cells.end() ? near : frame_of(way, round->distance_km, true);
    Json cells = Json::array();
    for (std::size_t i = 0; i < way.cells.size(); ++i)
      cells.push_back(
          cell_json({near, far}, way.cells[i], open <= ledger_cells || way.cells[i].days_both >= 0.5));
    Json frames = Json::array({frame_json(trip, picture, way, near)});
    if (round != way.cells.end()) frames.push_back(frame_json(trip, picture, way, far));
    out.push_back({{"site", way.site},
                   {"target", way.target},
                   {"far_offset_min", way.far_zone.offset_s(midnight) / 60},
                   {"far_clocks", clocks_json(trip, way.far_zone)},
                   {"far_sun_deg", numbers(way.far_sun_deg, 1)},
                   {"muf_mhz", numbers(way.muf_mhz, 1)},
                   {"frames", std::move(frames)},
                   {"bounces", bounces_json(trip, way)},
                   {"cells", std::move(cells)}});
  }
  return out;
}

/// Of the set that is carried, or the first one.
double power_w(const kit::Trip& trip, const advice::Advice& a) {
  for (const int i : a.kit.items) {
    const auto& thing = nth(a.inventory.things, i);
    if (thing.kind == advice::ThingKind::rig) return nth(trip.rigs, thing.index).power_w;
  }
  return trip.rigs.empty() ? 0 : trip.rigs.front().power_w;
}

/// The ledger's lines: what is said, the cell's keys of both directions, and how it is shown.
Json ledger_json() {
  Json out = Json::array();
  for (const auto& line : caption::ledger)
    out.push_back({line.text, line.text_of_long_method, line.there, line.back, line.kind});
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
  Json nights = Json::array(), darks = Json::array();
  for (std::size_t m = 0; m < picture.maps.size(); ++m) {
    Json hours = Json::array(), deep = Json::array();
    for (std::size_t h = 0; h < 24; ++h) {
      hours.push_back(night_path(trip, picture, m, h));
      deep.push_back(dark_path(trip, picture, m, h));
    }
    nights.push_back(std::move(hours));
    darks.push_back(std::move(deep));
  }
  const auto start = page_start(trip, picture);
  return Json{{"schema", "skerry.page/2"},
              {"id", content_hash(fmt::format("{}\n{}\n{}\n", trip.name, to_iso(trip.first_day),
                                              to_iso(trip.last_day)))
                         .substr(0, 16)},
              {"day", to_iso(picture.day)},
              {"first_day", to_iso(trip.first_day)},
              {"r12", rounded(trip.climate.r12, 0)},
              {"power_w", power_w(trip, advice)},
              {"want_days", rounded(trip.want_days_in_ten, 2)},
              {"start", {{"way", start.way}, {"hour", start.hour}, {"band", start.band}}},
              {"bands", std::move(bands)},
              {"modes", std::move(modes)},
              {"setups", std::move(setups)},
              {"sites", sites_json(trip, picture)},
              {"targets", targets_json(trip)},
              {"cell_keys", cell_keys()},
              {"ways", ways_json(trip, picture)},
              {"ray_start", frame_start},
              {"nights", std::move(nights)},
              {"darks", std::move(darks)},
              {"ledger", ledger_json()},
              {"texts",
               {{"open", caption::hop_open},
                {"hop", caption::hop_one},
                {"hops", caption::hop_many},
                {"layers", {"F2", "E", "Es"}},
                {"mirror", caption::hop_mirror},
                {"long", caption::cell_long},
                {"equal", caption::drawn_hops},
                {"es", caption::hop_es},
                {"skip", caption::hop_skip},
                {"no_skip", caption::hop_no_skip},
                {"end", caption::hop_end},
                {"closed", caption::hop_closed_short},
                {"no_setup", caption::hop_no_setup_short},
                {"below", caption::below_band},
                {"weak", caption::too_weak},
                {"faint", caption::hop_faint_short},
                {"works", caption::reach_line},
                {"none", caption::reach_none},
                {"no_ledger", caption::no_ledger},
                {"there", caption::ledger_there},
                {"back", caption::ledger_back},
                {"packed", caption::packed_of},
                {"day", caption::light_day},
                {"grey", caption::light_grey},
                {"night", caption::light_night},
                {"on_air", caption::on_air},
                {"here", caption::here},
                {"far", caption::there}}},
              {"picture_style", picture_style()}}
      .dump(-1, ' ', false, nlohmann::json::error_handler_t::replace);
}

}  // namespace skerry::page
