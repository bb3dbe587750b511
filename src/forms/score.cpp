#include <fmt/format.h>

#include "common.hpp"
#include "skerry/forms/csv.hpp"
#include "skerry/forms/json.hpp"

namespace skerry::forms {

namespace {

Json score_of_json(const after::SpotScore& s) {
  Json bins = list(s.bins, [&](const auto& bin) -> Json {
    return {{"low", bin.low},
            {"high", bin.high},
            {"cases", rounded(bin.trials, 3)},
            {"mean_forecast", or_null(bin.trials > 0, bin.mean_forecast, 5)},
            {"heard", or_null(bin.trials > 0, bin.observed, 5)},
            {"heard_low", or_null(bin.trials > 0, bin.observed_low, 5)},
            {"heard_high", or_null(bin.trials > 0, bin.observed_high, 5)}};
  });
  const bool any = s.snr.count > 0;
  const auto snr = [any](double value) { return or_null(any, value, 3); };
  Json out{{"band", s.band},
           {"heard", rounded(s.heard, 3)},
           {"silent", rounded(s.silent, 3)},
           {"base_rate", rounded(s.brier.base_rate, 6)},
           {"mean_forecast", rounded(s.brier.mean_forecast, 6)},
           {"brier", rounded(s.brier.score, 6)},
           {"reliability", rounded(s.brier.reliability, 6)},
           {"resolution", rounded(s.brier.resolution, 6)},
           {"uncertainty", rounded(s.brier.uncertainty, 6)},
           {"within_bins", rounded(s.brier.within_bins, 6)},
           {"skill", or_null(s.brier.skill, 5)},
           {"skill_against_hours", or_null(s.skill_against_hours, 5)},
           {"roc_area", or_null(s.roc_area, 5)},
           {"bins", std::move(bins)},
           {"snr_difference",
            {{"count", s.snr.count},
             {"mean_db", snr(s.snr.mean)},
             {"median_db", snr(s.snr.median)},
             {"deviation_db", snr(s.snr.deviation)},
             {"rms_db", snr(s.snr.rms)},
             {"p10_db", snr(s.snr.p10)},
             {"p90_db", snr(s.snr.p90)}}},
           {"heard_though_closed", s.heard_though_closed}};
  if (s.hours) out["hour_ranks"] = {{"ways", s.hours->ways}, {"mean", rounded(s.hours->mean, 5)}};
  return out;
}

Json sonde_json(const after::SondeError& e) {
  return {{"group", words::group_text(e.group)},
          {"count", e.count},
          {"bias", rounded(e.bias, 4)},
          {"rms", rounded(e.rms, 4)},
          {"bias_percent", rounded(e.bias_percent, 2)},
          {"rms_percent", rounded(e.rms_percent, 2)}};
}

Json sonde_json(const after::SondeScore& s) {
  const auto group = [](const std::vector<after::SondeError>& rows) {
    return list(rows, [](const auto& row) { return sonde_json(row); });
  };
  return {{"quantity", words::quantity_text(s.quantity)},
          {"all", sonde_json(s.all)},
          {"by_hour", group(s.by_hour)},
          {"by_latitude", group(s.by_latitude)},
          {"by_season", group(s.by_season)},
          {"by_station", group(s.by_station)}};
}

}  // namespace

std::string score_json(const after::SpotScores& s, const words::ScoreShown& shown) {
  Json bands = list(s.bands, score_of_json);
  Json out{{"schema", "skerry.score/1"},
           {"first", to_iso(s.first)},
           {"last", to_iso(s.last)},
           {"spots", s.spots},
           {"left_out", shown.left_out},
           {"stations", s.stations},
           {"paths", s.paths},
           {"silent_step", s.silent_step},
           {"mode", shown.mode},
           {"threshold_snr_db", shown.threshold_db},
           {"reference_bandwidth_hz", shown.bandwidth_hz},
           {"activity", shown.activity},
           {"bands", std::move(bands)},
           {"all", score_of_json(s.all)}};
  if (!s.classes.empty()) {
    out["classes"] = list(s.classes, [](const auto& c) {
      Json one = score_of_json(c.score);
      one["from_km"] = c.from_km;
      one["to_km"] = c.to_km;
      return one;
    });
  }
  return dump(out);
}

std::string score_csv(const after::SpotScores& s) {
  std::string out =
      "band,heard,silent,base_rate,brier,reliability,resolution,uncertainty,within_bins,skill,skill_against_hours,roc_area,snr_count,snr_mean_db,snr_median_db,snr_deviation_db,heard_though_closed\n";
  const auto row = [&](const after::SpotScore& x) {
    const auto snr = [any = x.snr.count > 0](double v) { return any ? fixed(v, 3) : std::string(); };
    out += fmt::format("{},{:g},{:g},{:.6f},{:.6f},{:.6f},{:.6f},{:.6f},{},{},{},{},{},{},{},{},{:g}\n",
                       x.band, x.heard, x.silent, x.brier.base_rate, x.brier.score, x.brier.reliability,
                       x.brier.resolution, x.brier.uncertainty, fixed(x.brier.within_bins, 6),
                       fixed(x.brier.skill, 5), fixed(x.skill_against_hours, 5), fixed(x.roc_area, 5),
                       x.snr.count, snr(x.snr.mean), snr(x.snr.median), snr(x.snr.deviation),
                       x.heard_though_closed);
  };
  for (const auto& band : s.bands) row(band);
  row(s.all);
  return out;
}

std::string sondes_json(const after::SondeScores& s, const words::ScoreShown& shown) {
  return dump(Json{{"schema", "skerry.sondes/1"},
                   {"activity", shown.activity},
                   {"left_out", shown.left_out},
                   {"fof2", sonde_json(s.fof2)},
                   {"m3000f2", s.m3000f2 ? sonde_json(*s.m3000f2) : Json(nullptr)}});
}

std::string sondes_csv(const after::SondeScores& s) {
  std::string out = "quantity,kind,group,count,bias,rms,bias_percent,rms_percent\n";
  const auto rows = [&](const after::SondeScore& score) {
    words::each_group(score, [&](const char* kind, const after::SondeError& e) {
      out += fmt::format("{},{},{},{},{:.4f},{:.4f},{:.2f},{:.2f}\n", words::quantity_text(score.quantity),
                         kind, csv_field(words::group_text(e.group)), e.count, plus_zero(e.bias, 4), e.rms,
                         plus_zero(e.bias_percent, 2), e.rms_percent);
    });
  };
  rows(s.fof2);
  if (s.m3000f2) rows(*s.m3000f2);
  return out;
}

}  // namespace skerry::forms
