// Written by hand rather than through a JSON tree: an answer holds some 2000 numbers, and the tree would cost
// ten times what computing them costs.

#include "skerry/forms/path_line.hpp"

#include "json_common.hpp"
#include "skerry/core/decimal.hpp"

namespace skerry::forms {

namespace {

/// Builds JSON text; commas come by themselves.
class Writer {
 public:
  explicit Writer(std::string& out) : out_(out) {}
  void open(char bracket) {
    separate();
    out_ += bracket;
    first_ = true;
  }
  void close(char bracket) {
    out_ += bracket;
    first_ = false;
  }
  void key(const char* name) {
    separate();
    out_ += '"';
    out_ += name;
    out_ += "\":";
    first_ = true;
  }
  void number(double value, int digits) {
    separate();
    append_fixed(out_, value, digits);
  }
  void raw(const std::string& json) {
    separate();
    out_ += json;
  }
  void boolean(bool value) { raw(value ? "true" : "false"); }
  void null() { raw("null"); }
  void text(const std::string& value) {
    raw(Json(value).dump(-1, ' ', false, nlohmann::json::error_handler_t::replace));
  }

  void number(const char* name, double value, int digits) {
    key(name);
    number(value, digits);
  }
  void number_or_null(const char* name, bool there, double value, int digits) {
    key(name);
    if (there) {
      number(value, digits);
    } else {
      null();
    }
  }
  void text(const char* name, const std::string& value) {
    key(name);
    text(value);
  }
  void list(const char* name, const auto& items, const auto& each) {
    key(name);
    open('[');
    for (const auto& item : items) each(item);
    close(']');
  }

 private:
  void separate() {
    if (!first_) out_ += ',';
    first_ = false;
  }
  std::string& out_;
  bool first_ = true;
};

void write_mode(Writer& w, const circuit::Mode& m) {
  w.open('{');
  w.text("layer", m.layer == circuit::Layer::e ? "E" : "F2");
  w.number("hops", m.hops, 0);
  w.number("elevation_deg", m.elevation_deg, 2);
  w.number("reflection_height_km", m.reflection_height_km, 1);
  w.number("basic_muf_mhz", m.basic_muf_mhz, 3);
  w.number("support_probability", m.support_probability, 3);
  w.number("loss_db", m.loss_db, 2);
  w.number("absorption_db", m.absorption_db, 2);
  w.number("free_space_db", m.free_space_db, 2);
  w.number("above_muf_db", m.above_muf_db, 2);
  w.number("ground_db", m.ground_db, 2);
  w.number("auroral_db", m.auroral_db, 2);
  w.number("focusing_db", m.focusing_db, 2);
  w.number("other_db", m.other_db, 2);
  w.close('}');
}

void write_frequency(Writer& w, const advice::PathQuestion::Frequency& f) {
  w.key("band");
  if (f.band.empty()) {
    w.null();
  } else {
    w.text(f.band);
  }
  w.number("mhz", f.mhz, 4);
}

void write_band(Writer& w, const advice::PathQuestion::Frequency& f, const advice::BandAnswer& b,
                bool modes) {
  w.open('{');
  write_frequency(w, f);
  if (modes) {
    w.key("modes");
    w.open('[');
    for (int i = 0; i < b.cell.count; ++i) write_mode(w, b.cell.modes[static_cast<std::size_t>(i)]);
    if (b.cell.long_share >= 1) write_mode(w, b.cell.long_mode);
    w.close(']');
  }
  const bool open = b.there.open;
  w.number_or_null("snr_db", open, b.there.snr_db, 2);
  w.number_or_null("margin_db", open, b.there.margin_db, 2);
  w.number("days_in_ten", b.there.days_in_ten, 2);
  w.number_or_null("return_snr_db", open, b.back.snr_db, 2);
  w.number_or_null("return_margin_db", open, b.back.margin_db, 2);
  w.number("return_days_in_ten", b.back.days_in_ten, 2);
  w.number("both_days_in_ten", b.both_days_in_ten, 2);
  if (b.ground_there.open) {
    w.key("ground_wave");
    w.open('{');
    w.number("snr_db", b.ground_there.snr_db, 2);
    w.number("days_in_ten", b.ground_there.days_in_ten, 2);
    w.number("return_snr_db", b.ground_back.snr_db, 2);
    w.number("return_days_in_ten", b.ground_back.days_in_ten, 2);
    w.close('}');
  }
  if (b.skip_zone) {
    w.key("skip_zone");
    w.boolean(true);
  }
  w.close('}');
}

void write_way(Writer& w, const advice::PathQuestion& q, const advice::WayAnswer& way,
               const LineOptions& options) {
  w.open('{');
  w.text("way", way.path.way == geodesy::Way::short_way ? "short" : "long");
  w.number("distance_km", way.path.distance_km, 3);
  w.number("bearing_deg", way.path.bearing_deg, 3);
  w.number("return_bearing_deg", way.path.return_bearing_deg, 3);
  w.key("hours");
  w.open('[');
  for (std::size_t h = 0; h < way.hours.size(); ++h) {
    if (!options.hours[h]) continue;
    const auto& hour = way.hours[h];
    w.open('{');
    w.number("utc_hour", static_cast<double>(h), 0);
    w.number("basic_muf_mhz", hour.muf.basic_mhz, 3);
    w.number("operational_muf_mhz", hour.muf.operational_mhz, 3);
    w.number("optimum_working_mhz", hour.muf.optimum_mhz, 3);
    w.key("bands");
    w.open('[');
    for (std::size_t i = 0; i < hour.bands.size(); ++i)
      write_band(w, q.frequencies[i], hour.bands[i], options.modes);
    w.close(']');
    w.close('}');
  }
  w.close(']');
  w.key("openings");
  w.open('[');
  for (std::size_t i = 0; i < way.openings.size(); ++i) {
    for (const auto& o : way.openings[i]) {
      w.open('{');
      write_frequency(w, q.frequencies[i]);
      w.number("start_utc_h", o.start_h, 3);
      w.number("end_utc_h", o.end_h, 3);
      w.number("peak_utc_h", o.peak_h, 3);
      w.number("peak_days_in_ten", o.peak_value, 2);
      w.key("all_day");
      w.boolean(o.all_day);
      w.close('}');
    }
  }
  w.close(']');
  w.close('}');
}

void write_place(Writer& w, const char* name, GeoPoint where) {
  w.key(name);
  w.open('{');
  w.number("lat_deg", where.lat_deg, 6);
  w.number("lon_deg", where.lon_deg, 6);
  w.text("locator", geodesy::to_locator(where));
  w.close('}');
}

}  // namespace

std::string path_line(const advice::PathAnswer& a, const LineOptions& options) {
  const auto& q = a.question;
  std::string out;
  out.reserve(1024 + a.ways.size() * 24 * (128 + q.frequencies.size() * 200));
  Writer w(out);
  w.open('{');
  if (!options.id_json.empty()) {
    w.key("id");
    w.raw(options.id_json);
  }
  w.text("schema", "skerry.batch/1");
  write_place(w, "from", q.from.at);
  write_place(w, "to", q.to.at);
  w.text("month", to_iso(Month{q.climate.day.year() / q.climate.day.month()}));
  w.text("day", to_iso(q.climate.day));
  w.number("r12", q.climate.r12, 2);
  w.text("mode", q.mode.id);
  w.number("reference_bandwidth_hz", q.mode.bandwidth_hz, 3);
  w.number("required_snr_db", q.mode.required_snr_db, 2);
  w.number("power_w", q.from.power_w, 6);
  w.number("return_power_w", q.to.power_w, 6);
  w.list("ways", a.ways, [&](const auto& way) { write_way(w, q, way, options); });
  w.list("cautions", a.cautions, [&](const auto& caution) { w.text(caution); });
  w.close('}');
  out += '\n';
  return out;
}

}  // namespace skerry::forms
