#include <fmt/format.h>

#include "options.hpp"
#include "skerry/core/text.hpp"
#include "skerry/geodesy/region.hpp"
#include "skerry/report/csv.hpp"
#include "skerry/report/json.hpp"

namespace skerry::cli {

namespace {

struct Options {
  Common common;
  std::string from, to, bands, mhz, way = "short", power = "10", to_power = "100", mode = "cw";
  std::string gain_from = "0", gain_to = "0", noise_from = "quiet", noise_to = "residential", noise_figure = "15";
  std::string explain, want = "5", kp;
  bool spread = false, disturbed = false, flare = false, protons = false;
  std::string skyline = "0", absorption = "lucas-haydon", ground_loss = "by-surface";
};

std::vector<advice::PathQuestion::Frequency> frequencies(const Options& o, GeoPoint from) {
  const int region = geodesy::itu_region(from).region;
  std::vector<advice::PathQuestion::Frequency> out;
  if (!o.mhz.empty()) {
    for (const auto& part : split_list(o.mhz, "--mhz")) {
      const double mhz = number_of(part, "--mhz", 1.6, 30, "a frequency in MHz");
      const auto band = noise::band_of(mhz, region);
      out.push_back({band ? band->id : std::string{}, mhz});
    }
  }
  if (!o.bands.empty()) {
    for (const auto& part : split_list(o.bands, "--bands")) {
      const auto band = must(noise::find_band(part, region, {"--bands"}));
      out.push_back({band.id, band.mhz});
    }
  }
  if (out.empty()) {
    for (const auto& band : noise::bands(region)) {
      if (band.low_mhz < 30) out.push_back({band.id, band.mhz});
    }
  }
  if (out.size() > 100) refuse({"--mhz"}, fmt::format("{} frequencies", out.size()), "at most 100");
  return out;
}

/// "HOUR" or "HOUR,BAND" or "HOUR,MHZ": indices of the hour and the frequency.
std::pair<std::size_t, std::size_t> explained(const std::string& text, const advice::PathQuestion& q) {
  const auto parts = split_list(text, "--explain");
  const auto hour = static_cast<std::size_t>(number_of(parts[0], "--explain", 0, 23, "a whole UTC hour"));
  if (parts.size() < 2) return {hour, 0};
  for (std::size_t i = 0; i < q.frequencies.size(); ++i) {
    if (q.frequencies[i].band == parts[1] || to_number(parts[1]) == q.frequencies[i].mhz) return {hour, i};
  }
  refuse({"--explain"}, "'" + parts[1] + "'", "a band or frequency of this question, as 18,20m");
}

void run_path(const Options& o, World& world) {
  const Format format = format_of(o.common);
  advice::PathQuestion q;
  q.from.at = must(geodesy::parse_place(o.from, {"FROM"}));
  q.to.at = must(geodesy::parse_place(o.to, {"TO"}));
  q.climate = climate_of(o.common);
  q.mode = must(noise::find_mode(o.mode, {"--mode"}));
  q.from.power_w = number_of(o.power, "--power-w", 0.001, 2000, "a power in watts");
  q.to.power_w = number_of(o.to_power, "--to-power-w", 0.001, 2000, "a power in watts");
  q.from.gain_dbi = number_of(o.gain_from, "--gain-from-dbi", -40, 30, "a gain in dBi");
  q.to.gain_dbi = number_of(o.gain_to, "--gain-to-dbi", -40, 30, "a gain in dBi");
  q.from.environment = must(noise::parse_environment(o.noise_from, {"--noise-from"}));
  q.to.environment = must(noise::parse_environment(o.noise_to, {"--noise-to"}));
  q.from.noise_figure_db = q.to.noise_figure_db =
      number_of(o.noise_figure, "--noise-figure-db", 0, 40, "a noise figure in dB");
  q.from.skyline_deg = number_of(o.skyline, "--skyline-deg", 0, 80, "an elevation in degrees");
  q.frequencies = frequencies(o, q.from.at);
  if (o.way == "both") {
    q.ways = {geodesy::Way::short_way, geodesy::Way::long_way};
  } else if (o.way == "long") {
    q.ways = {geodesy::Way::long_way};
  } else if (o.way != "short") {
    refuse({"--way"}, "'" + o.way + "'", "short, long or both");
  }
  if (o.absorption == "foe-index") {
    q.settings.absorption = circuit::Absorption::foe_index;
  } else if (o.absorption != "lucas-haydon") {
    refuse({"--absorption"}, "'" + o.absorption + "'", "lucas-haydon or foe-index");
  }
  if (o.ground_loss == "fixed") {
    q.settings.ground_loss = circuit::GroundLoss::fixed_2_db;
  } else if (o.ground_loss != "by-surface") {
    refuse({"--ground-loss"}, "'" + o.ground_loss + "'", "by-surface or fixed");
  }
  q.want_days_in_ten = number_of(o.want, "--want-days", 0.5, 9.9, "days in ten");
  q.spread = o.spread;
  if (o.disturbed) q.disturbance.kp = 5;
  if (!o.kp.empty()) q.disturbance.kp = number_of(o.kp, "--kp", 0, 9, "a Kp index");
  q.disturbance.flare = o.flare;
  q.disturbance.protons = o.protons;
  const auto answer = advice::answer(q);
  switch (format) {
    case Format::json: return write(report::path_json(answer), o.common, world);
    case Format::csv: return write(report::path_csv(answer), o.common, world);
    case Format::text: break;
  }
  if (o.explain.empty()) return write(report::path_text(answer, style_of(world)), o.common, world);
  const auto [hour, frequency] = explained(o.explain, q);
  write(report::ledger_text(answer, hour, frequency), o.common, world);
}

}  // namespace

Command add_path(CLI::App& app) {
  auto options = std::make_shared<Options>();
  auto* sub = app.add_subcommand("path", "which bands open between two places, hour by hour, and how well");
  auto& o = *options;
  sub->add_option("FROM", o.from, "your place: lat,lon or a locator")->required()->type_name("PLACE");
  sub->add_option("TO", o.to, "the far place")->required()->type_name("PLACE");
  add_when(*sub, o.common);
  add_activity(*sub, o.common);
  sub->add_option("--bands", o.bands, "bands, as 40m,20m; without it and --mhz: all below 30 MHz")->type_name("LIST");
  sub->add_option("--mhz", o.mhz, "frequencies in MHz, as 7.03,14.06")->type_name("LIST");
  sub->add_option("--way", o.way, "short, long or both ways round the Earth")->type_name("WAY")->default_str("short");
  sub->add_option("--mode", o.mode, "mode of emission: cw, ssb, ft8 ...")->type_name("MODE")->default_str("cw");
  sub->add_option("--power-w", o.power, "your power")->type_name("W")->default_str("10");
  sub->add_option("--to-power-w", o.to_power, "their power")->type_name("W")->default_str("100");
  sub->add_option("--gain-from-dbi", o.gain_from, "your antenna's gain with its losses, at all angles")->type_name("DBI")->default_str("0");
  sub->add_option("--gain-to-dbi", o.gain_to, "their antenna's gain")->type_name("DBI")->default_str("0");
  sub->add_option("--noise-from", o.noise_from, "man-made noise at your place: city, residential, rural, quiet")->type_name("CLASS")->default_str("quiet");
  sub->add_option("--noise-to", o.noise_to, "man-made noise at theirs")->type_name("CLASS")->default_str("residential");
  sub->add_option("--noise-figure-db", o.noise_figure, "of both receivers")->type_name("DB")->default_str("15");
  sub->add_option("--skyline-deg", o.skyline, "height of the ground around you towards the path")->type_name("DEG")->default_str("0");
  sub->add_option("--absorption", o.absorption, "D-region form: lucas-haydon or foe-index")->type_name("FORM")->default_str("lucas-haydon");
  sub->add_option("--ground-loss", o.ground_loss, "bounces: by-surface (sea, land) or fixed (2 dB)")->type_name("FORM")->default_str("by-surface");
  sub->add_option("--explain", o.explain, "the ledger of one hour and band, as 18,20m: every term, to add up by hand")->type_name("HOUR,BAND");
  sub->add_option("--want-days", o.want, "days in ten that count as an opening")->type_name("N")->default_str("5");
  sub->add_flag("--spread", o.spread, "also run the published alternatives and R12 -30 and +30: least and most days");
  sub->add_option("--kp", o.kp, "geomagnetic index now or forecast: marks paths it makes unreliable")->type_name("KP");
  sub->add_flag("--disturbed", o.disturbed, "the same without a number (Kp 5)");
  sub->add_flag("--flare", o.flare, "a solar flare is in progress");
  sub->add_flag("--protons", o.protons, "a solar proton event is in progress");
  add_format(*sub, o.common);
  sub->footer("Example: skerry path -19.70,63.43 JN45 --month 2027-02 --bands 40m,20m,15m --way both");
  return {sub, [options](World& world) { run_path(*options, world); }};
}

}  // namespace skerry::cli
