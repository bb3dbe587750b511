#include "stations.hpp"

#include <fmt/format.h>

#include "skerry/core/text.hpp"
#include "skerry/files/fields.hpp"
#include "skerry/geodesy/region.hpp"

namespace skerry::cli {

CLI::Option* offer_modes(CLI::Option* option) {
  std::vector<std::string> ids;
  for (const auto& mode : noise::modes()) ids.push_back(mode.id);
  return offers(option, ids);
}

CLI::Option* offer_bands(CLI::Option* option, bool several) {
  std::vector<std::string> ids;
  for (const auto& band : noise::bands(1)) ids.push_back(band.id);
  return offers(option, ids, several);
}

CLI::Option* offer_noise(CLI::Option* option) {
  return offers(option, {"city", "residential", "rural", "quiet"});
}

void add_stations(CLI::App& app, StationOptions& o, const std::string& without) {
  const auto add = [&](const char* name, std::string& value, const std::string& help, const char* type) {
    auto* option = app.add_option(name, value, help)->type_name(type);
    if (!value.empty()) option->default_str(value);
    return option;
  };
  offer_bands(add("--bands", o.bands, "bands, as 40m,20m; without it and --mhz: " + without, "LIST"));
  add("--mhz", o.mhz, files::field("question", "mhz").help, "LIST");
  offer_modes(add("--mode", o.mode, "mode of emission: cw, ssb, ft8 ...", "MODE"));
  const auto help = [](const char* key) { return files::field("question", key).help; };
  add("--power-w", o.power, help("power_w"), "W");
  add("--to-power-w", o.to_power, help("to_power_w"), "W");
  add("--gain-from-dbi", o.gain_from, help("gain_from_dbi"), "DBI");
  add("--gain-to-dbi", o.gain_to, help("gain_to_dbi"), "DBI");
  add("--spread-to-db", o.spread_to, help("spread_to_db"), "DB");
  offer_noise(add("--noise-from", o.noise_from,
                  "man-made noise at your place: city, residential, rural, quiet", "CLASS"));
  offer_noise(add("--noise-to", o.noise_to, "man-made noise at theirs", "CLASS"));
  add("--noise-figure-db", o.noise_figure, help("noise_figure_db"), "DB");
  add("--skyline-deg", o.skyline, help("skyline_deg"), "DEG");
  add("--skyline-km", o.skyline_km, help("skyline_km"), "KM");
  takes(add("--absorption", o.absorption, "D-region form: lucas-haydon or foe-index", "FORM"),
        {"lucas-haydon", "foe-index"});
  takes(add("--ground-loss", o.ground_loss, "bounces: by-surface (sea, land) or fixed (2 dB)", "FORM"),
        {"by-surface", "fixed"});
  takes(
      add("--far-method", o.far_method, "beyond 7000 km: hops, or the two limit frequencies: limits", "FORM"),
      {"hops", "limits"});
  takes(add("--es", o.es, "sporadic E: on or off", "WORD"), {"on", "off"});
}

std::optional<double> gain_of(const std::string& text, const char* key) {
  if (text.empty()) return std::nullopt;
  return number_of(text, files::field("question", key));
}

Stations stations_of(const StationOptions& o) {
  Stations s;
  s.mode = must(noise::find_mode(o.mode, {"--mode"}));
  s.from.power_w = number_of(o.power, files::field("question", "power_w"));
  s.to.power_w = number_of(o.to_power, files::field("question", "to_power_w"));
  s.from.gain_dbi = gain_of(o.gain_from, "gain_from_dbi");
  s.to.gain_dbi = gain_of(o.gain_to, "gain_to_dbi");
  s.to.spread_db = number_of(o.spread_to, files::field("question", "spread_to_db"));
  s.from.environment = must(noise::parse_environment(o.noise_from, {"--noise-from"}));
  s.to.environment = must(noise::parse_environment(o.noise_to, {"--noise-to"}));
  s.from.noise_figure_db = s.to.noise_figure_db =
      number_of(o.noise_figure, files::field("question", "noise_figure_db"));
  s.from.skyline = {number_of(o.skyline, files::field("question", "skyline_deg")),
                    number_of(o.skyline_km, files::field("question", "skyline_km"))};
  if (o.absorption == "foe-index") s.settings.absorption = circuit::Absorption::foe_index;
  if (o.far_method == "limits") s.settings.far = circuit::FarMethod::limits;
  if (o.ground_loss == "fixed") s.settings.ground_loss = circuit::GroundLoss::fixed_2_db;
  s.settings.sporadic_e = o.es == "on";
  return s;
}

std::vector<std::string> all_bands(GeoPoint from) {
  std::vector<std::string> out;
  for (const auto& band : noise::bands(geodesy::itu_region(from).region)) {
    if (band.mhz < 30) out.push_back(band.id);
  }
  return out;
}

std::vector<circuit::PathQuestion::Frequency> frequencies_of(const StationOptions& o, GeoPoint from,
                                                             const std::vector<std::string>& otherwise) {
  const int region = geodesy::itu_region(from).region;
  std::vector<circuit::PathQuestion::Frequency> out;
  if (!o.mhz.empty()) {
    for (const auto& part : split_list(o.mhz, "--mhz")) {
      const double mhz = number_of(part, files::field("question", "mhz"));
      const auto band = noise::band_of(mhz, region);
      out.push_back({band ? band->id : std::string{}, mhz});
    }
  }
  const bool neither = o.bands.empty() && o.mhz.empty();
  const auto names = !o.bands.empty() ? split_list(o.bands, "--bands")
                     : neither        ? otherwise
                                      : std::vector<std::string>{};
  for (const auto& name : names) {
    const auto band = must(noise::find_band(name, region, {"--bands"}));
    out.push_back({band.id, band.mhz});
  }
  if (out.size() > 100) refuse({"--mhz"}, fmt::format("{} frequencies", out.size()), "at most 100");
  return out;
}

circuit::PathQuestion question_between(Places& places, const std::string& from, const std::string& to,
                                       const Common& common, const StationOptions& options) {
  const GeoPoint here = places.read(from, "FROM");
  const GeoPoint there = places.read(to, "TO");
  check_apart(here, there, "TO");
  circuit::PathQuestion q;
  q.climate = climate_of(common);
  const auto stations = stations_of(options);
  q.from = stations.from;
  q.to = stations.to;
  q.from.at = here;
  q.to.at = there;
  q.mode = stations.mode;
  q.settings = stations.settings;
  q.frequencies = frequencies_of(options, here, all_bands(here));
  return q;
}

circuit::PathAnswer answer_between(const Places& places, const circuit::PathQuestion& question) {
  auto out = circuit::answer(question);
  out.from_named = places.named("FROM");
  out.to_named = places.named("TO");
  return out;
}

}  // namespace skerry::cli
