#include "skerry/report/score_report.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "fixed.hpp"
#include "json_common.hpp"
#include "skerry/core/text.hpp"
#include "skerry/report/csv.hpp"
#include "skerry/report/explain.hpp"
#include "skerry/report/pack.hpp"

namespace skerry::report {

namespace {

/// Within the screen, and in ASCII where that is asked.
std::string kept(const std::string& text, const Style& style) {
  return fitted(style.ascii ? to_ascii(text) : text, static_cast<std::size_t>(style.columns));
}

std::string or_dash(const std::optional<double>& value, int digits, const char* form) {
  return value ? fmt::format(fmt::runtime(form), plus_zero(*value, digits)) : "-";
}

Json or_null(const std::optional<double>& value, int digits) {
  return value ? Json(rounded(*value, digits)) : Json(nullptr);
}

std::string diagram(const advice::SpotScore& s) {
  std::string out = "  forecast      cases   mean  heard  90 % if independent\n";
  for (const auto& bin : s.bins) {
    if (bin.trials <= 0) continue;
    constexpr double width = 40;
    std::string bar(static_cast<std::size_t>(width) + 1, ' ');
    const auto at = [&](double share) { return static_cast<std::size_t>(share * width + 0.5); };
    for (std::size_t i = at(bin.observed_low); i <= at(bin.observed_high); ++i) bar[i] = '-';
    bar[at(bin.mean_forecast)] = '|';
    bar[at(bin.observed)] = 'o';
    while (bar.back() == ' ') bar.pop_back();
    out += fmt::format("  {:.1f} to {:.1f} {:>8.0f}   {:.2f}   {:.2f}   {}\n", bin.low, bin.high, bin.trials,
                       bin.mean_forecast, bin.observed, bar);
  }
  return out + "  o heard, | forecast: right where they meet; the line runs from 0 to 1\n";
}

std::string row_text(const advice::SpotScore& s) {
  std::string snr = "       -       -";
  if (s.snr.count > 0) snr = fmt::format("{:>+8.1f}{:>8.1f}", plus_zero(s.snr.mean, 1), s.snr.deviation);
  return fmt::format("  {:<9}{:>8.0f}{:>9.0f}{:>7.3f}{:>8}{:>8}{:>7}{}{:>8.0f}\n", s.band, s.heard, s.silent,
                     s.brier.score, or_dash(s.brier.skill, 2, "{:+.2f}"),
                     or_dash(s.skill_against_hours, 2, "{:+.2f}"), or_dash(s.roc_area, 2, "{:.2f}"), snr,
                     s.heard_though_closed);
}

Json score_of_json(const advice::SpotScore& s) {
  Json bins = Json::array();
  for (const auto& bin : s.bins) {
    bins.push_back({{"low", bin.low},
                    {"high", bin.high},
                    {"cases", rounded(bin.trials, 3)},
                    {"mean_forecast", bin.trials > 0 ? Json(rounded(bin.mean_forecast, 5)) : Json(nullptr)},
                    {"heard", bin.trials > 0 ? Json(rounded(bin.observed, 5)) : Json(nullptr)},
                    {"heard_low", bin.trials > 0 ? Json(rounded(bin.observed_low, 5)) : Json(nullptr)},
                    {"heard_high", bin.trials > 0 ? Json(rounded(bin.observed_high, 5)) : Json(nullptr)}});
  }
  const bool any = s.snr.count > 0;
  const auto snr = [any](double value) { return any ? Json(rounded(value, 3)) : Json(nullptr); };
  return {{"band", s.band},
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
}

Json sonde_json(const advice::SondeError& e) {
  return {{"group", e.group},
          {"count", e.count},
          {"bias", rounded(e.bias, 4)},
          {"rms", rounded(e.rms, 4)},
          {"bias_percent", rounded(e.bias_percent, 2)},
          {"rms_percent", rounded(e.rms_percent, 2)}};
}

Json sonde_json(const advice::SondeScore& s) {
  const auto list = [](const std::vector<advice::SondeError>& rows) {
    Json out = Json::array();
    for (const auto& row : rows) out.push_back(sonde_json(row));
    return out;
  };
  return {{"quantity", s.quantity},         {"all", sonde_json(s.all)},
          {"by_hour", list(s.by_hour)},     {"by_latitude", list(s.by_latitude)},
          {"by_season", list(s.by_season)}, {"by_station", list(s.by_station)}};
}

template <class F>
void each_group(const advice::SondeScore& s, F&& f) {
  f("all", s.all);
  for (const auto& e : s.by_hour) f("hour", e);
  for (const auto& e : s.by_latitude) f("latitude", e);
  for (const auto& e : s.by_season) f("season", e);
  for (const auto& e : s.by_station) f("station", e);
}

std::string sonde_text(const advice::SondeScore& s) {
  std::string out =
      fmt::format("\n{}, map less measured{}\n  {:<32}    n    bias     rms   bias %    rms %\n", s.quantity,
                  s.quantity == "foF2" ? ", MHz" : "", "");
  const char* last = "";
  each_group(s, [&](const char* kind, const advice::SondeError& e) {
    if (std::string_view(kind) != last && *last != '\0') out += "\n";
    last = kind;
    out += fmt::format("  {:<32}{:>5}{:>+8.2f}{:>8.2f}{:>+9.1f}{:>9.1f}\n", one_line(e.group, 32), e.count,
                       plus_zero(e.bias, 2), e.rms, plus_zero(e.bias_percent, 1), e.rms_percent);
  });
  return out;
}

}  // namespace

std::string score_text(const advice::SpotScores& s, const ScoreShown& shown, const Style& style) {
  const auto columns = static_cast<std::size_t>(std::min(style.columns, 100));
  std::string out = fmt::format("Forecasts against reception reports ({})\n", one_line(shown.file));
  out += wrapped(
      fmt::format("{} reports of {} to {}, {} stations, {} paths; {}. Heard: a median of at least {:g} dB in "
                  "{:g} Hz ({}).",
                  s.spots, to_iso(s.first).substr(0, 10), to_iso(s.last).substr(0, 10), s.stations, s.paths,
                  shown.activity, shown.threshold_db, shown.bandwidth_hz, shown.mode),
      columns, "", "  ");
  if (shown.left_out > 0)
    out += fmt::format("{} records could not be read and are left out.\n", shown.left_out);
  if (s.silent_step > 1)
    out += fmt::format("Of the silent cases every {}th was computed and counts as {}.\n", s.silent_step,
                       s.silent_step);
  out += "\n  band        heard   silent  Brier   skill   hours    ROC  S/N diff  spread  closed\n";
  for (const auto& band : s.bands) out += row_text(band);
  if (s.bands.size() > 1) out += row_text(s.all);
  const auto& b = s.all.brier;
  out += fmt::format(
      "\nBrier score {:.4f} = reliability {:.4f} - resolution {:.4f} + uncertainty {:.4f} + within bins "
      "{:+.4f}\n\nRELIABILITY, all bands\n",
      b.score, b.reliability, b.resolution, b.uncertainty, plus_zero(b.within_bins, 4));
  out += diagram(s.all);
  out += "\n";
  out += wrapped(
      "Skill: against always saying this sample's own rate; hours: against its rate by band and UTC hour, "
      "both known only afterwards. ROC: 0.5 is a coin, 1 perfect. S/N diff: measured less predicted "
      "of what was heard, dB: silent paths are not in it, so it leans high. Closed: heard though no "
      "mode carried the path by the forecast.",
      columns, "", "");
  return kept(out, style);
}

std::string score_json(const advice::SpotScores& s, const ScoreShown& shown) {
  Json bands = Json::array();
  for (const auto& band : s.bands) bands.push_back(score_of_json(band));
  return dump(Json{{"schema", "skerry.score/1"},
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
                   {"all", score_of_json(s.all)}});
}

std::string score_csv(const advice::SpotScores& s) {
  std::string out =
      "band,heard,silent,base_rate,brier,reliability,resolution,uncertainty,within_bins,skill,skill_against_"
      "hours,"
      "roc_area,snr_count,snr_mean_db,snr_median_db,snr_deviation_db,heard_though_closed\n";
  const auto field = [](const std::optional<double>& v) {
    return v ? fmt::format("{:.5f}", plus_zero(*v, 5)) : std::string{};
  };
  const auto row = [&](const advice::SpotScore& x) {
    const bool any = x.snr.count > 0;
    const auto snr = [any](double v) { return any ? fmt::format("{:.3f}", plus_zero(v, 3)) : std::string{}; };
    out += fmt::format("{},{:g},{:g},{:.6f},{:.6f},{:.6f},{:.6f},{:.6f},{:.6f},{},{},{},{},{},{},{},{:g}\n",
                       x.band, x.heard, x.silent, x.brier.base_rate, x.brier.score, x.brier.reliability,
                       x.brier.resolution, x.brier.uncertainty, plus_zero(x.brier.within_bins, 6),
                       field(x.brier.skill), field(x.skill_against_hours), field(x.roc_area), x.snr.count,
                       snr(x.snr.mean), snr(x.snr.median), snr(x.snr.deviation), x.heard_though_closed);
  };
  for (const auto& band : s.bands) row(band);
  row(s.all);
  return out;
}

std::string sondes_text(const advice::SondeScores& s, const ScoreShown& shown, const Style& style) {
  std::string out = fmt::format("Maps against monthly medians of ionosondes ({}); {}\n", one_line(shown.file),
                                shown.activity);
  if (shown.left_out > 0)
    out += fmt::format("{} records could not be read and are left out.\n", shown.left_out);
  out += sonde_text(s.fof2);
  if (s.m3000f2) out += sonde_text(*s.m3000f2);
  return kept(out +
                  "\nLatitudes are those of the centred dipole, hours local by longitude, seasons of the own "
                  "hemisphere.\n",
              style);
}

std::string sondes_json(const advice::SondeScores& s, const ScoreShown& shown) {
  return dump(Json{{"schema", "skerry.sondes/1"},
                   {"activity", shown.activity},
                   {"left_out", shown.left_out},
                   {"fof2", sonde_json(s.fof2)},
                   {"m3000f2", s.m3000f2 ? sonde_json(*s.m3000f2) : Json(nullptr)}});
}

std::string sondes_csv(const advice::SondeScores& s) {
  std::string out = "quantity,kind,group,count,bias,rms,bias_percent,rms_percent\n";
  const auto rows = [&](const advice::SondeScore& score) {
    each_group(score, [&](const char* kind, const advice::SondeError& e) {
      out +=
          fmt::format("{},{},{},{},{:.4f},{:.4f},{:.2f},{:.2f}\n", score.quantity, kind, csv_field(e.group),
                      e.count, plus_zero(e.bias, 4), e.rms, plus_zero(e.bias_percent, 2), e.rms_percent);
    });
  };
  rows(s.fof2);
  if (s.m3000f2) rows(*s.m3000f2);
  return out;
}

}  // namespace skerry::report
