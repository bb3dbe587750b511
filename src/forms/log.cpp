// Planned against worked, for machines.
#include "skerry/words/log.hpp"

#include <fmt/format.h>

#include "common.hpp"
#include "skerry/core/decimal.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/text.hpp"
#include "skerry/forms/csv.hpp"
#include "skerry/words/cautions.hpp"

namespace skerry::forms {

namespace {

Json spread_json(const after::Spread& s) {
  return {{"count", s.count},
          {"mean_db", or_null(s.count > 0, s.mean, 2)},
          {"median_db", or_null(s.count > 0, s.median, 2)},
          {"deviation_db", or_null(s.count > 1, s.deviation, 2)}};
}

Json interval_json(const after::Interval& i) {
  return {{"low", rounded(i.low, 3)}, {"median", rounded(i.median, 3)}, {"high", rounded(i.high, 3)}};
}

Json tallies(const std::vector<after::LogTally>& rows) {
  return list(rows, [&](const auto& t) -> Json {
    return {{"name", t.name},     {"openings", t.planned},  {"used", t.used},
            {"missed", t.missed}, {"contacts", t.contacts}, {"unlikely", t.unlikely}};
  });
}

Json openings(const kit::Trip& trip, const std::vector<after::LogOpening>& all) {
  return list(all, [&](const auto& o) -> Json {
    return {{"site", id_at(trip.sites, o.site)},
            {"region", id_at(trip.targets, o.target)},
            {"band", id_at(trip.bands, o.band)},
            {"utc_hour", o.utc_hour},
            {"days_in_ten", rounded(o.days_in_ten, 2)},
            {"contacts", o.contacts},
            {"on_air_minutes", rounded(o.on_air_minutes, 1)}};
  });
}

Json findings_json(const after::Findings& f) {
  Json noise = Json::array();
  for (std::size_t s = 0; s < after::noise_steps.size(); ++s)
    noise.push_back(
        {{"classes_noisier", after::noise_steps[s]}, {"probability", rounded(f.noise_probability[s], 4)}});
  Json hours = Json::array();
  for (int b = 0; b < after::hour_blocks; ++b) {
    const auto k = static_cast<std::size_t>(b);
    hours.push_back({{"from_local_hour", 4 * b},
                     {"to_local_hour", 4 * b + 4},
                     {"factor", interval_json(f.hours[k])},
                     {"prior", interval_json(f.prior_hours[k])}});
  }
  return {{"contacts", f.contacts},
          {"reports", f.reports},
          {"report_groups", f.report_groups},
          {"erp_db", interval_json(f.erp_db)},
          {"prior_erp_db", interval_json(f.prior_erp_db)},
          {"net_db", interval_json(f.net_db)},
          {"far_noise", std::move(noise)},
          {"hours", std::move(hours)},
          {"interval_probability", 0.9},
          {"validated_by", "simulated logs only"}};
}

}  // namespace

std::string log_json(const kit::Trip& trip, const after::LogReport& r, const words::LogShown& shown) {
  Json contacts = Json::array();
  for (const auto& v : r.contacts) {
    const auto& c = nth(shown.log.contacts, v.contact);
    Json one{{"time", to_iso(c.time)},
             {"band", c.band},
             {"mode", c.mode_as_told},
             {"site", id_at(trip.sites, v.site)},
             {"region", id_or_null(trip.targets, v.target)},
             {"at", c.at ? place_json(*c.at) : Json(nullptr)},
             {"within_km", c.at ? Json(c.within_km) : Json(nullptr)},
             {"entity", or_null(c.entity)},
             {"days_in_ten", or_null(v.days_in_ten, 2)},
             {"predicted_snr_db", or_null(v.open, v.there_db, 2)},
             {"predicted_return_snr_db", or_null(v.open, v.back_db, 2)},
             {"received_db", c.received_db ? Json(*c.received_db) : Json(nullptr)},
             {"sent_db", c.sent_db ? Json(*c.sent_db) : Json(nullptr)}};
    if (shown.calls) one["call"] = c.call;
    contacts.push_back(std::move(one));
  }
  Json kit = list(r.kit, [&](const auto& k) -> Json {
    return {{"id", k.id},
            {"mass_g", rounded(k.mass_g, 3)},
            {"used", k.use == after::Use::unknown ? Json(nullptr) : Json(k.use == after::Use::used)},
            {"why", words::use_why(k)}};
  });
  const auto& told = shown.log.warnings.told();
  Json warnings = list(told, [&](const auto& w) { return w.to_line(); });
  if (const auto more = shown.log.warnings.size() - told.size(); more > 0)
    warnings.push_back(fmt::format("and {} more like these", more));
  return dump(Json{{"schema", "skerry.log/1"},
                   {"trip", trip.name},
                   {"learned_in_use", or_null(words::learned_note(trip.learned))},
                   {"want_days_in_ten", trip.want_days_in_ten},
                   {"contacts_in_log", r.total},
                   {"outside_days", r.outside_days},
                   {"unplaced", r.unplaced},
                   {"coarse", r.coarse},
                   {"elsewhere", r.elsewhere},
                   {"on_air_hours", rounded(r.on_air_hours, 3)},
                   {"on_air_told", r.on_air_told},
                   {"bands", tallies(r.bands)},
                   {"hours", tallies(r.hours)},
                   {"regions", tallies(r.regions)},
                   {"used", openings(trip, r.used)},
                   {"missed", openings(trip, r.missed)},
                   {"contacts", std::move(contacts)},
                   {"kit_told", r.kit_told},
                   {"kit", std::move(kit)},
                   {"report_differences",
                    {{"of_you", spread_json(r.there)},
                     {"by_you", spread_json(r.back)},
                     {"of_you_coarse", spread_json(r.there_s)},
                     {"by_you_coarse", spread_json(r.back_s)}}},
                   {"findings", findings_json(r.findings)},
                   {"warnings", std::move(warnings)}});
}

std::string log_csv(const kit::Trip& trip, const after::LogReport& r, const words::LogShown& shown) {
  std::string out =
      "time,band,mode,site,region,lat_deg,lon_deg,within_km,days_in_ten,predicted_snr_db,received_db,predicted_return_snr_db,sent_db";
  out += shown.calls ? ",call\n" : "\n";
  for (const auto& v : r.contacts) {
    const auto& c = nth(shown.log.contacts, v.contact);
    const auto given = [](const auto& value) { return value ? fmt::format("{:g}", *value) : std::string(); };
    out += fmt::format("{},{},{},{},{},{},{},{},{},{},{},{},{}", to_iso(c.time), c.band,
                       csv_field(one_line(c.mode_as_told)), csv_field(id_at(trip.sites, v.site)),
                       csv_field(v.target ? id_at(trip.targets, *v.target) : ""),
                       c.at ? fixed(c.at->lat_deg, 4) : "", c.at ? fixed(c.at->lon_deg, 4) : "",
                       c.at ? fmt::format("{:g}", c.within_km) : "", fixed(v.days_in_ten, 2),
                       v.open ? fixed(v.there_db, 2) : "", given(c.received_db),
                       v.open ? fixed(v.back_db, 2) : "", given(c.sent_db));
    out += shown.calls ? "," + csv_field(one_line(c.call)) + "\n" : "\n";
  }
  return out;
}

}  // namespace skerry::forms
