// A path: skerry.path/1 whole, skerry.batch/1 on a line, and CSV.

#include <fmt/format.h>

#include <sstream>

#include "json_writer.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/text.hpp"
#include "skerry/forms/csv.hpp"
#include "skerry/forms/json.hpp"
#include "skerry/forms/path_line.hpp"
#include "skerry/words/cautions.hpp"
#include "skerry/words/conditions.hpp"
#include "skerry/words/ledger.hpp"

namespace skerry::forms {

namespace {

using Frequency = circuit::PathQuestion::Frequency;

/// What is told of an answer: all of it, or what a stream of many needs.
struct Told {
  bool whole = true, modes = true;
  const std::array<bool, 24>* hours = nullptr;  ///< all when null
};

void write_mode(Writer& w, const circuit::Mode& m, const circuit::TracedMode* traced = nullptr) {
  w.open('{');
  w.text("layer", layer_key(m.layer));
  w.integer("hops", m.hops);
  w.number("elevation_deg", m.elevation_deg, 2);
  w.number("reflection_height_km", m.reflection_height_km, 1);
  w.number("basic_muf_mhz", m.basic_muf_mhz, 3);
  w.number("support_probability", m.support_probability, 3);
  w.number("loss_db", m.loss_db, 2);
  w.number("absorption_db", m.absorption_db, 2);
  w.number("free_space_db", m.free_space_db, 2);
  w.number("above_muf_db", m.above_muf_db, 2);
  w.number("ground_db", m.ground_db, 2);
  w.number("screening_db", m.screening_db, 2);
  w.number("auroral_db", m.auroral_db, 2);
  w.number("skyline_db", m.skyline_db, 2);
  w.number("focusing_db", m.focusing_db, 2);
  w.number("other_db", m.other_db, 2);
  if (traced != nullptr) {
    w.number("traced_from_deg", traced->from_deg, 2);
    w.number("traced_to_deg", traced->to_deg, 2);
  }
  w.close('}');
}

void write_frequency(Writer& w, const Frequency& f) {
  w.text_or_null("band", f.band);
  w.number("mhz", f.mhz, 4);
}

void write_band(Writer& w, const circuit::PathQuestion& q, const Frequency& f, const circuit::BandAnswer& b,
                const Told& told) {
  w.open('{');
  write_frequency(w, f);
  if (told.modes) {
    w.key("modes").open('[');
    for (const auto& m : b.passage.in_use()) write_mode(w, m, b.traced.find(m));
    for (const auto& es : b.passage.es_in_use()) write_mode(w, es.mode);
    // Beyond 9000 km the method knows no single modes; its nominal hops stand for the path.
    if (b.passage.long_share >= 1) write_mode(w, b.passage.long_mode);
    w.close(']');
  }
  const bool any = b.any();
  w.number_or_null("snr_db", any, b.there.snr_db, 2);
  if (told.whole) w.number("required_snr_db", q.mode.required_snr_db, 2);
  w.number_or_null("margin_db", any, b.there.margin_db, 2);
  w.number("days_in_ten", b.there.days_in_ten, 2);
  w.number("days_in_ten_as_assumed", b.there.days_as_assumed, 2);
  w.number_or_null("return_snr_db", any, b.back.snr_db, 2);
  w.number_or_null("return_margin_db", any, b.back.margin_db, 2);
  w.number("return_days_in_ten", b.back.days_in_ten, 2);
  w.number("return_days_in_ten_as_assumed", b.back.days_as_assumed, 2);
  w.number("both_days_in_ten", b.both_days_in_ten, 2);
  w.number("both_days_in_ten_as_assumed", b.both_days_as_assumed, 2);
  w.number("both_es_days_in_ten", b.es_days(), 2);
  if (told.whole) {
    w.number("least_days_in_ten", b.least_days, 2);
    w.number("most_days_in_ten", b.most_days, 2);
    w.number("method_least_days_in_ten", b.method_least_days, 2);
    w.number("method_most_days_in_ten", b.method_most_days, 2);
  }
  if (b.ground_there.open) {
    w.object("ground_wave", [&] {
      w.number("snr_db", b.ground_there.snr_db, 2);
      w.number("days_in_ten", b.ground_there.days_in_ten, 2);
      w.number("return_snr_db", b.ground_back.snr_db, 2);
      w.number("return_days_in_ten", b.ground_back.days_in_ten, 2);
    });
  } else if (told.whole) {
    w.key("ground_wave").null();
  }
  if (told.whole) w.boolean("on_edge", b.on_edge);
  if (told.whole || b.skip_zone) w.boolean("skip_zone", b.skip_zone);
  w.close('}');
}

void write_point(Writer& w, const circuit::Circuits::ControlPoint& p) {
  static constexpr std::array roles{"middle",        "from_1000_km", "to_1000_km",
                                    "from_half_hop", "to_half_hop",  "hop_middle"};
  w.open('{');
  w.text("role", nth(roles, p.role));
  w.number("lat_deg", p.where.lat_deg, 4);
  w.number("lon_deg", p.where.lon_deg, 4);
  w.number("solar_hour", p.solar_hour, 3);
  w.number("sun_elevation_deg", 90 - p.zenith_deg, 2);
  w.number("fof2_mhz", p.fof2_mhz, 3);
  w.number("m3000f2", p.m3000f2, 3);
  w.number("foe_mhz", p.foe_mhz, 3);
  w.close('}');
}

void write_hour(Writer& w, const circuit::PathQuestion& q, std::size_t h, const circuit::HourAnswer& hour,
                const Told& told) {
  w.open('{');
  w.integer("utc_hour", static_cast<long long>(h));
  w.number("basic_muf_mhz", hour.muf.basic_mhz, 3);
  w.number("operational_muf_mhz", hour.muf.operational_mhz, 3);
  w.number("optimum_working_mhz", hour.muf.optimum_mhz, 3);
  if (told.whole) w.list("control_points", hour.control_points, [&](const auto& p) { write_point(w, p); });
  w.key("bands").open('[');
  for (std::size_t i = 0; i < hour.bands.size(); ++i) write_band(w, q, q.frequencies[i], hour.bands[i], told);
  w.close(']');
  w.close('}');
}

void write_way(Writer& w, const circuit::PathQuestion& q, const circuit::WayAnswer& way, const Told& told) {
  w.open('{');
  w.text("way", way_key(way.path.way));
  w.number("distance_km", way.path.distance_km, 3);
  w.number("bearing_deg", way.path.bearing_deg, 3);
  w.number("return_bearing_deg", way.path.return_bearing_deg, 3);
  w.key("hours").open('[');
  for (std::size_t h = 0; h < way.hours.size(); ++h) {
    if (told.hours == nullptr || (*told.hours)[h]) write_hour(w, q, h, way.hours[h], told);
  }
  w.close(']');
  w.key("openings").open('[');
  for (const bool by_ground : {false, true}) {
    const auto& all = by_ground ? way.ground_openings : way.openings;
    for (std::size_t i = 0; i < all.size(); ++i) {
      for (const auto& o : all[i]) {
        w.open('{');
        write_frequency(w, q.frequencies[i]);
        w.number("start_utc_h", o.start_h, 3);
        w.number("end_utc_h", o.end_h, 3);
        w.number("peak_utc_h", o.peak_h, 3);
        w.number("peak_days_in_ten", o.peak_value, 2);
        w.boolean("all_day", o.all_day);
        w.boolean("by_ground", by_ground);
        w.close('}');
      }
    }
  }
  w.close(']');
  if (told.whole) {
    w.list("warnings", way.warnings, [&](const auto& warning) {
      w.open('{');
      w.text("text", words::warning_text(warning));
      w.key("utc_hours").open('[');
      for (int h = 0; h < 24; ++h) {
        if (warning.at_hour[h]) w.raw(std::to_string(h));
      }
      w.close(']');
      w.close('}');
    });
  }
  w.close('}');
}

void write_place(Writer& w, const char* name, GeoPoint where, const std::optional<geodesy::Named>& named) {
  w.object(name, [&] {
    w.number("lat_deg", where.lat_deg, 6);
    w.number("lon_deg", where.lon_deg, 6);
    w.text("locator", geodesy::to_locator(where));
    if (!named) return;
    w.text("name", std::string(named->name));
    w.text("country", std::string(named->country));
    w.text("zone", std::string(named->zone));
  });
}

void write_clock(Writer& w, const char* name, const sun::Zone& zone, UtcTime when) {
  w.object(name, [&] {
    w.text("zone", zone.name());
    w.text("label", zone.label(when));
    w.integer("utc_offset_min", zone.offset_s(when) / 60);
    w.boolean("nautical", zone.nautical());
  });
}

/// As asked; a line of many has six digits after the point.
void write_given(Writer& w, const char* name, double value, bool whole) {
  whole ? w.key(name).raw(Json(value).dump()) : w.number(name, value, 6);
}

/// What stands before and after the keys that only one of the two forms has.
void write_head(Writer& w, const char* schema, const circuit::PathAnswer& a, bool whole) {
  const auto& q = a.question;
  w.text("schema", schema);
  write_place(w, "from", q.from.at, a.from_named);
  write_place(w, "to", q.to.at, a.to_named);
  w.text("month", to_iso(month_of(start_of(q.climate.day))));
  w.text("day", to_iso(q.climate.day));
  w.number("r12", q.climate.r12, 2);
  w.text("mode", q.mode.id);
  write_given(w, "reference_bandwidth_hz", q.mode.bandwidth_hz, whole);
  if (!whole) w.number("required_snr_db", q.mode.required_snr_db, 2);
  write_given(w, "power_w", q.from.power_w, whole);
  write_given(w, "return_power_w", q.to.power_w, whole);
  if (!whole) return;
  const UtcTime noon = start_of(q.climate.day) + std::chrono::hours{12};
  write_clock(w, "from_clock", a.from_clock, noon);
  write_clock(w, "to_clock", a.to_clock, noon);
}

void write_ways(Writer& w, const circuit::PathAnswer& a, const Told& told) {
  w.list("ways", a.ways, [&](const auto& way) { write_way(w, a.question, way, told); });
  w.list("cautions", words::caution_texts(a), [&](const auto& caution) { w.text(caution); });
}

void write_noise(Writer& w, const char* name, const circuit::Noise& n) {
  const auto& galactic = n.sources.galactic;
  w.object(name, [&] {
    w.number("man_made_fam_db", n.sources.man_made.fam_db, 2);
    w.number("atmospheric_fam_db", n.sources.atmospheric.fam_db, 2);
    w.number_or_null("galactic_fam_db", galactic.has_value(), galactic ? galactic->fam_db : 0, 2);
    w.number("total_fam_db", n.sources.total.fam_db, 2);
    w.number("dbw_per_hz", n.dbw_per_hz, 2);
  });
}

void write_explained(Writer& w, const circuit::PathAnswer& a, const PathCell& cell) {
  w.object("explained", [&] {
    w.integer("utc_hour", static_cast<long long>(cell.hour));
    write_frequency(w, a.question.frequencies[cell.frequency]);
    w.list("ways", a.ways, [&](const auto& way) {
      const auto& band = way.hours[cell.hour].bands[cell.frequency];
      w.open('{');
      w.text("way", way_key(way.path.way));
      w.number_or_null("received_dbw", band.any(), band.there.received_dbw, 2);
      w.number_or_null("return_received_dbw", band.any(), band.back.received_dbw, 2);
      write_noise(w, "noise_there", band.noise_to);
      write_noise(w, "noise_here", band.noise_from);
      w.key("lines").open('[');
      std::istringstream lines(words::way_ledger(a, way, cell.hour, cell.frequency));
      for (std::string line; std::getline(lines, line);) w.text(std::string(trim(line)));
      w.close(']');
      w.close('}');
    });
  });
}

}  // namespace

std::string path_json(const circuit::PathAnswer& a, const std::optional<PathCell>& explained) {
  std::string out;
  Writer w(out, true);
  w.open('{');
  write_head(w, "skerry.path/1", a, true);
  write_ways(w, a, {});
  w.list("notes", std::array{words::atmospheric_note}, [&](const auto& note) { w.text(std::string(note)); });
  if (explained) write_explained(w, a, *explained);
  w.list("antipodal_bearings", a.antipodal, [&](const auto& b) {
    w.open('{');
    w.integer("utc_hour", b.utc_hour);
    w.number("mhz", a.question.frequencies[b.frequency].mhz, 4);
    w.number("bearing_deg", b.bearing_deg, 1);
    w.number("days_in_ten", b.days_in_ten, 2);
    w.close('}');
  });
  w.close('}');
  return out + '\n';
}

std::string path_line(const circuit::PathAnswer& a, const LineOptions& options) {
  std::string out;
  out.reserve(1024 + a.ways.size() * 24 * (128 + a.question.frequencies.size() * 200));
  Writer w(out, false);
  w.open('{');
  if (!options.id_json.empty()) w.key("id").raw(options.id_json);
  write_head(w, "skerry.batch/1", a, false);
  write_ways(w, a, {false, options.modes, &options.hours});
  w.close('}');
  out += '\n';
  return out;
}

}  // namespace skerry::forms
