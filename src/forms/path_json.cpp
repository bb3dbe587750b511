#include "json_common.hpp"
#include "skerry/forms/json.hpp"

namespace skerry::forms {

namespace {

Json mode_json(const circuit::Mode& m) {
  return {{"layer", m.layer == circuit::Layer::e ? "E" : "F2"},
          {"hops", m.hops},
          {"elevation_deg", rounded(m.elevation_deg, 2)},
          {"reflection_height_km", rounded(m.reflection_height_km, 1)},
          {"basic_muf_mhz", rounded(m.basic_muf_mhz, 3)},
          {"support_probability", rounded(m.support_probability, 3)},
          {"loss_db", rounded(m.loss_db, 2)},
          {"absorption_db", rounded(m.absorption_db, 2)},
          {"free_space_db", rounded(m.free_space_db, 2)},
          {"above_muf_db", rounded(m.above_muf_db, 2)},
          {"ground_db", rounded(m.ground_db, 2)},
          {"auroral_db", rounded(m.auroral_db, 2)},
          {"focusing_db", rounded(m.focusing_db, 2)},
          {"other_db", rounded(m.other_db, 2)}};
}

Json opening_json(const circuit::Opening& o) {
  return {{"start_utc_h", rounded(o.start_h, 3)},
          {"end_utc_h", rounded(o.end_h, 3)},
          {"peak_utc_h", rounded(o.peak_h, 3)},
          {"peak_days_in_ten", rounded(o.peak_value, 2)},
          {"all_day", o.all_day}};
}

Json point_json(const circuit::Circuits::ControlPoint& p) {
  static constexpr const char* roles[] = {"middle", "from_1000_km", "to_1000_km", "from_half_hop",
                                          "to_half_hop"};
  return {{"role", roles[static_cast<std::size_t>(p.role)]},
          {"lat_deg", rounded(p.where.lat_deg, 4)},
          {"lon_deg", rounded(p.where.lon_deg, 4)},
          {"solar_hour", rounded(p.solar_hour, 3)},
          {"sun_elevation_deg", rounded(90 - p.zenith_deg, 2)},
          {"fof2_mhz", rounded(p.fof2_mhz, 3)},
          {"m3000f2", rounded(p.m3000f2, 3)},
          {"foe_mhz", rounded(p.foe_mhz, 3)}};
}

Json ground_json(const advice::BandAnswer& b) {
  if (!b.ground_there.open) return nullptr;
  return {{"snr_db", rounded(b.ground_there.snr_db, 2)},
          {"days_in_ten", rounded(b.ground_there.days_in_ten, 2)},
          {"return_snr_db", rounded(b.ground_back.snr_db, 2)},
          {"return_days_in_ten", rounded(b.ground_back.days_in_ten, 2)}};
}

Json band_json(const advice::PathQuestion::Frequency& frequency, const advice::BandAnswer& b,
               double required_db) {
  Json modes = Json::array();
  for (int i = 0; i < b.cell.count; ++i)
    modes.push_back(mode_json(b.cell.modes[static_cast<std::size_t>(i)]));
  // Beyond 9000 km the method knows no single modes; its nominal hops stand for the path.
  if (b.cell.long_share >= 1) modes.push_back(mode_json(b.cell.long_mode));
  const bool open = b.there.open;
  const auto or_null = [open](double value, int digits) {
    return open ? Json(rounded(value, digits)) : Json(nullptr);
  };
  return {{"band", frequency.band.empty() ? Json(nullptr) : Json(frequency.band)},
          {"mhz", rounded(frequency.mhz, 4)},
          {"modes", std::move(modes)},
          {"snr_db", or_null(b.there.snr_db, 2)},
          {"required_snr_db", rounded(required_db, 2)},
          {"margin_db", or_null(b.there.margin_db, 2)},
          {"days_in_ten", rounded(b.there.days_in_ten, 2)},
          {"return_snr_db", or_null(b.back.snr_db, 2)},
          {"return_margin_db", or_null(b.back.margin_db, 2)},
          {"return_days_in_ten", rounded(b.back.days_in_ten, 2)},
          {"both_days_in_ten", rounded(b.both_days_in_ten, 2)},
          {"least_days_in_ten", rounded(b.least_days, 2)},
          {"most_days_in_ten", rounded(b.most_days, 2)},
          {"method_least_days_in_ten", rounded(b.method_least_days, 2)},
          {"method_most_days_in_ten", rounded(b.method_most_days, 2)},
          {"ground_wave", ground_json(b)},
          {"on_edge", b.on_edge},
          {"skip_zone", b.skip_zone}};
}

}  // namespace

std::string path_json(const advice::PathAnswer& a) {
  const auto& q = a.question;
  Json out = {{"schema", "skerry.path/1"},
              {"from", place_json(q.from.at)},
              {"to", place_json(q.to.at)},
              {"month", to_iso(Month{q.climate.day.year() / q.climate.day.month()})},
              {"day", to_iso(q.climate.day)},
              {"r12", rounded(q.climate.r12, 2)},
              {"mode", q.mode.id},
              {"reference_bandwidth_hz", q.mode.bandwidth_hz},
              {"power_w", q.from.power_w},
              {"return_power_w", q.to.power_w},
              {"ways", Json::array()},
              {"cautions", a.cautions},
              {"notes", {noise::atmospheric_note}}};
  for (const auto& way : a.ways) {
    Json hours = Json::array();
    for (std::size_t h = 0; h < way.hours.size(); ++h) {
      const auto& hour = way.hours[h];
      Json bands = Json::array();
      for (std::size_t i = 0; i < hour.bands.size(); ++i) {
        bands.push_back(band_json(q.frequencies[i], hour.bands[i], q.mode.required_snr_db));
      }
      Json points = Json::array();
      for (const auto& point : hour.control_points) points.push_back(point_json(point));
      hours.push_back({{"utc_hour", h},
                       {"basic_muf_mhz", rounded(hour.muf.basic_mhz, 3)},
                       {"operational_muf_mhz", rounded(hour.muf.operational_mhz, 3)},
                       {"optimum_working_mhz", rounded(hour.muf.optimum_mhz, 3)},
                       {"control_points", std::move(points)},
                       {"bands", std::move(bands)}});
    }
    Json openings = Json::array();
    for (std::size_t i = 0; i < way.openings.size(); ++i) {
      for (const auto& o : way.openings[i]) {
        Json event = {{"band", q.frequencies[i].band.empty() ? Json(nullptr) : Json(q.frequencies[i].band)},
                      {"mhz", rounded(q.frequencies[i].mhz, 4)}};
        event.update(opening_json(o));
        openings.push_back(std::move(event));
      }
    }
    Json warnings = Json::array();
    for (const auto& w : way.warnings) {
      Json at = Json::array();
      for (int h = 0; h < 24; ++h) {
        if (w.at_hour[h]) at.push_back(h);
      }
      warnings.push_back({{"text", w.text}, {"utc_hours", std::move(at)}});
    }
    out["ways"].push_back({{"way", way.path.way == geodesy::Way::short_way ? "short" : "long"},
                           {"distance_km", rounded(way.path.distance_km, 3)},
                           {"bearing_deg", rounded(way.path.bearing_deg, 3)},
                           {"return_bearing_deg", rounded(way.path.return_bearing_deg, 3)},
                           {"hours", std::move(hours)},
                           {"openings", std::move(openings)},
                           {"warnings", std::move(warnings)}});
  }
  Json antipodal = Json::array();
  for (const auto& b : a.antipodal) {
    antipodal.push_back({{"utc_hour", b.utc_hour},
                         {"mhz", rounded(q.frequencies[b.frequency].mhz, 4)},
                         {"bearing_deg", rounded(b.bearing_deg, 1)},
                         {"days_in_ten", rounded(b.days_in_ten, 2)}});
  }
  out["antipodal_bearings"] = std::move(antipodal);
  return dump(out);
}

}  // namespace skerry::forms
