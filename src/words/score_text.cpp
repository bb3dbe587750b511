#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "skerry/core/decimal.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/text.hpp"
#include "skerry/words/score.hpp"

namespace skerry::words {

namespace {

std::string or_dash(const std::optional<double>& value, int digits, const char* form) {
  return value ? fmt::format(fmt::runtime(form), plus_zero(*value, digits)) : "-";
}

std::string diagram(const after::SpotScore& s) {
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

std::string row_text(const after::SpotScore& s) {
  std::string snr = "       -       -";
  if (s.snr.count > 0) snr = fmt::format("{:>+8.1f}{:>8.1f}", plus_zero(s.snr.mean, 1), s.snr.deviation);
  return fmt::format("  {:<9}{:>8.0f}{:>9.0f}{:>7.3f}{:>8}{:>8}{:>7}{}{:>8.0f}\n", s.band, s.heard, s.silent,
                     s.brier.score, or_dash(s.brier.skill, 2, "{:+.2f}"),
                     or_dash(s.skill_against_hours, 2, "{:+.2f}"), or_dash(s.roc_area, 2, "{:.2f}"), snr,
                     s.heard_though_closed);
}

std::string kilometres(const after::SpotScores::Class& c) {
  return c.to_km > 20100 ? fmt::format("from {:.0f}", c.from_km)
                         : fmt::format("{:.0f} to {:.0f}", c.from_km, c.to_km);
}

std::string hours_row(const after::SpotScore& s, const std::string& km) {
  const std::string rank = s.hours ? fmt::format("{:>+8.2f}{:>6}", plus_zero(s.hours->mean, 2), s.hours->ways)
                                   : std::string("       -     -");
  return fmt::format("  {:<6}{:<15}{:>8.0f}{:>7.3f}{:>7.3f}{:>8.4f}{:>8}{:>7}{}{:>8.0f}\n", s.band, km,
                     s.heard + s.silent, s.brier.base_rate, s.brier.mean_forecast, s.brier.score,
                     or_dash(s.brier.skill, 2, "{:+.2f}"), or_dash(s.roc_area, 3, "{:.3f}"), rank,
                     s.heard_though_closed);
}

std::string sonde_text(const after::SondeScore& s) {
  std::string out = fmt::format(
      "\n{}, map less measured{}\n  {:<32}    n    bias     rms   bias %    rms %\n",
      quantity_text(s.quantity), s.quantity == after::SondeScore::Quantity::fof2 ? ", MHz" : "", "");
  const char* last = "";
  each_group(s, [&](const char* kind, const after::SondeError& e) {
    if (std::string_view(kind) != last && *last != '\0') out += "\n";
    last = kind;
    out += fmt::format("  {:<32}{:>5}{:>+8.2f}{:>8.2f}{:>+9.1f}{:>9.1f}\n", one_line(group_text(e.group), 32),
                       e.count, plus_zero(e.bias, 2), e.rms, plus_zero(e.bias_percent, 1), e.rms_percent);
  });
  return out;
}

}  // namespace

std::string group_text(const after::SondeGroup& group) {
  struct Text {
    std::string operator()(std::monostate) const { return "all"; }
    std::string operator()(after::LocalHour local) const { return fmt::format("{:02} local", local.hour); }
    std::string operator()(after::Latitudes latitudes) const {
      static constexpr std::array names{"low latitudes (to 20)", "middle latitudes (20 to 60)",
                                        "high latitudes (from 60)"};
      return nth(names, latitudes);
    }
    std::string operator()(after::Season season) const {
      static constexpr std::array names{"winter", "equinox", "summer"};
      return nth(names, season);
    }
    std::string operator()(const std::string& station) const { return station; }
  };
  return std::visit(Text{}, group);
}

const char* quantity_text(after::SondeScore::Quantity quantity) {
  return quantity == after::SondeScore::Quantity::fof2 ? "foF2" : "M(3000)F2";
}

std::string score_text(const after::SpotScores& s, const ScoreShown& shown, const Style& style) {
  const auto columns = style.width(100);
  std::string out = fmt::format("Forecasts against reception reports ({})\n", one_line(shown.file));
  out += wrapped(
      fmt::format(
          "{} reports of {} to {}, {} stations, {} paths; {}. Heard: a median of at least {:g} dB in {:g} Hz "
          "({}).",
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
      "both known only afterwards. ROC: 0.5 is a coin, 1 perfect. S/N diff: measured less predicted of what "
      "was heard, dB: silent paths are not in it, so it leans high. Closed: heard though no mode carried the "
      "path by the forecast.",
      columns, "", "");
  return on_screen(out, style);
}

std::string hours_text(const after::SpotScores& s, const ScoreShown& shown, const Style& style) {
  const auto columns = style.width(100);
  std::string out = fmt::format("Forecasts against a month's hours ({})\n", one_line(shown.file));
  out += wrapped(
      fmt::format(
          "{} hours of ways, {} to {}, {} stations, {} paths; {}. Heard: at least {:g} dB in {:g} Hz ({}).",
          s.spots, to_iso(s.first).substr(0, 7), to_iso(s.last).substr(0, 7), s.stations, s.paths,
          shown.activity, shown.threshold_db, shown.bandwidth_hz, shown.mode),
      columns, "", "  ");
  if (shown.left_out > 0)
    out += fmt::format("{} records could not be read and are left out.\n", shown.left_out);
  out += "\n  band  km                 days  heard   said   Brier   skill    ROC   hours  ways  closed\n";
  for (const auto& band : s.bands) {
    out += hours_row(band, "all");
    for (const auto& c : s.classes) {
      if (c.score.band == band.band) out += hours_row(c.score, kilometres(c));
    }
  }
  out += hours_row(s.all, "");
  for (const auto& band : s.bands) out += fmt::format("\nRELIABILITY, {}\n", band.band) + diagram(band);
  out += "\n";
  out += wrapped(
      "Days: on which a way could be heard at that hour; heard and said: shares of them. Skill: against always "
      "saying the row's own share, known only afterwards. ROC: 0.5 is a coin, 1 perfect. Hours: rank correlation "
      "of forecast and share heard over the hours of a way, mean of the ways that are heard on a tenth of their "
      "days. Closed: days heard though no mode carried the path by the forecast. Days of one month are not "
      "independent.",
      columns, "", "");
  return on_screen(out, style);
}

std::string sondes_text(const after::SondeScores& s, const ScoreShown& shown, const Style& style) {
  std::string out = fmt::format("Maps against monthly medians of ionosondes ({}); {}\n", one_line(shown.file),
                                shown.activity);
  if (shown.left_out > 0)
    out += fmt::format("{} records could not be read and are left out.\n", shown.left_out);
  out += sonde_text(s.fof2);
  if (s.m3000f2) out += sonde_text(*s.m3000f2);
  return on_screen(
      out +
          "\nLatitudes are those of the centred dipole, hours local by longitude, seasons of the own "
          "hemisphere.\n",
      style);
}

}  // namespace skerry::words
