// Causes in plain words: skerry.explain/1.

#include "common.hpp"
#include "skerry/forms/json.hpp"

namespace skerry::forms {

namespace {

const char* verdict_key(circuit::Verdict verdict) {
  static constexpr std::array keys{"works", "sometimes", "too-weak", "closed", "no-antenna"};
  return nth(keys, verdict);
}

const char* factor_key(circuit::Factor factor) {
  static constexpr std::array keys{"layer", "d-layer", "antenna", "skyline", "noise", "distance", "e-layer"};
  return nth(keys, factor);
}

Json band_json(const words::ExplainSheet& sheet, const circuit::BandExplanation& e) {
  const bool none = e.verdict == circuit::Verdict::no_antenna;
  const bool carried = !none && e.verdict != circuit::Verdict::layer_thin;
  return {{"band", or_null(e.band)},
          {"mhz", rounded(e.mhz, 4)},
          {"verdict", verdict_key(e.verdict)},
          {"utc_hour", none ? Json(nullptr) : Json(e.utc_hour)},
          {"way", way_key(e.path.way)},
          {"days_in_ten", rounded(e.days, 2)},
          {"days_in_ten_along_ground", rounded(e.ground_days, 2)},
          {"margin_db", or_null(carried, e.margin_db, 2)},
          {"antenna", or_null(e.antenna)},
          {"causes", list(e.causes,
                          [](const auto& cause) -> Json {
                            return {{"factor", factor_key(cause.factor)},
                                    {"db", or_null(cause.db < circuit::closing_db, cause.db, 2)},
                                    {"days_in_ten_without", rounded(cause.days_without, 2)}};
                          })},
          {"sentences", words::explain_sentences(sheet, e)},
          {"days_in_ten_by_utc_hour", list(e.days_by_hour, [](double days) { return rounded(days, 2); })}};
}

}  // namespace

std::string explain_json(const std::vector<words::ExplainSheet>& sheets) {
  return dump(Json{{"schema", "skerry.explain/1"},
                   {"paths", list(sheets, [](const auto& sheet) -> Json {
                      return {
                          {"from", sheet.from_name},
                          {"to", sheet.to_name},
                          {"month", to_iso(month_of(start_of(sheet.climate.day)))},
                          {"r12", rounded(sheet.climate.r12, 2)},
                          {"activity_note", or_null(sheet.activity_note)},
                          {"distance_km", rounded(sheet.distance_km, 1)},
                          {"want_days_in_ten", rounded(sheet.want_days_in_ten, 2)},
                          {"bands", list(sheet.bands, [&](const auto& e) { return band_json(sheet, e); })}};
                    })}});
}

}  // namespace skerry::forms
