#include <fmt/format.h>

#include "options.hpp"
#include "skerry/core/text.hpp"
#include "skerry/geodesy/land.hpp"
#include "skerry/geodesy/region.hpp"
#include "skerry/report/map.hpp"
#include "skerry/sun/greyline.hpp"
#include "skerry/sun/position.hpp"
#include "stream.hpp"

namespace skerry::cli {

namespace {

struct Options {
  Common common;
  std::string at, bands, mhz, hours = "all", grid = "2", way = "short", power = "10", to_power = "100",
                              mode = "cw";
  std::string gain_from = "0", gain_to = "0", noise_from = "quiet", noise_to = "residential",
              noise_figure = "15";
  std::string skyline = "0", absorption = "lucas-haydon", ground_loss = "by-surface", want = "5";
};

enum class Kind { text, json, csv, geojson, svg };

/// --format, or what the output file's name says, or text.
Kind kind_of(const Common& common) {
  static const std::vector<std::string> names{"text", "json", "csv", "geojson", "svg"};
  std::string name = common.format;
  if (name.empty()) {
    const auto dot = common.output.rfind('.');
    const std::string ending =
        dot == std::string::npos ? std::string{} : lower(common.output.substr(dot + 1));
    name = std::find(names.begin(), names.end(), ending) != names.end() ? ending : "text";
  }
  const auto found = std::find(names.begin(), names.end(), name);
  if (found == names.end())
    refuse({"--format"}, "'" + one_line(name) + "'", "text, json, csv, geojson or svg",
           did_you_mean(name, names));
  return static_cast<Kind>(found - names.begin());
}

std::vector<advice::PathQuestion::Frequency> frequencies(const Options& o, GeoPoint at) {
  const int region = geodesy::itu_region(at).region;
  std::vector<advice::PathQuestion::Frequency> out;
  if (!o.mhz.empty()) {
    for (const auto& part : split_list(o.mhz, "--mhz")) {
      const double mhz = number_of(part, "--mhz", 1.6, 30, "a frequency in MHz");
      const auto band = noise::band_of(mhz, region);
      out.push_back({band ? band->id : std::string{}, mhz});
    }
  }
  for (const auto& part : o.bands.empty() && o.mhz.empty() ? std::vector<std::string>{"20m"}
                          : o.bands.empty()                ? std::vector<std::string>{}
                                                           : split_list(o.bands, "--bands")) {
    const auto band = must(noise::find_band(part, region, {"--bands"}));
    if (band.mhz > 30) refuse({"--bands"}, "'" + band.id + "'", "bands below 30 MHz");
    out.push_back({band.id, band.mhz});
  }
  if (out.size() > 100) refuse({"--mhz"}, fmt::format("{} frequencies", out.size()), "at most 100");
  for (std::size_t i = 0; i < out.size(); ++i) {
    for (std::size_t k = 0; k < i; ++k) {
      // Two of one band would share their names in the output.
      if (out[i].band == out[k].band && !out[i].band.empty()) out[i].band.clear();
      if (out[i].mhz == out[k].mhz)
        refuse({"--mhz"}, fmt::format("{:g} MHz twice", out[i].mhz), "each frequency once");
    }
  }
  return out;
}

std::vector<int> hours_of(const std::string& text) {
  std::vector<int> out;
  if (text == "all") {
    for (int h = 0; h < 24; ++h) out.push_back(h);
    return out;
  }
  for (const auto& part : split_list(text, "--hours")) {
    const double hour = number_of(part, "--hours", 0, 23, "a whole UTC hour");
    if (hour != std::floor(hour))
      refuse({"--hours"}, "'" + part + "'", "whole UTC hours from 0 to 23, or all");
    if (std::find(out.begin(), out.end(), static_cast<int>(hour)) != out.end()) {
      refuse({"--hours"}, "'" + part + "' twice", "each hour once");
    }
    out.push_back(static_cast<int>(hour));
  }
  return out;
}

advice::CoverageQuestion question_of(const Options& o) {
  advice::CoverageQuestion q;
  q.from.at = must(geodesy::parse_place(o.at, {"AT"}));
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
  q.hours = hours_of(o.hours);
  q.grid.step_deg = number_of(o.grid, "--grid", 0.5, 30, "a step in degrees");
  if (!q.grid.fits()) refuse({"--grid"}, "'" + o.grid + "'", "a step that divides 180, as 1, 2, 2.5, 3, 5");
  if (o.way == "best") {
    q.way = advice::WayChoice::best;
  } else if (o.way == "long") {
    q.way = advice::WayChoice::long_way;
  } else if (o.way != "short") {
    refuse({"--way"}, "'" + one_line(o.way) + "'", "short, long or best");
  }
  if (o.absorption == "foe-index") {
    q.settings.absorption = circuit::Absorption::foe_index;
  } else if (o.absorption != "lucas-haydon") {
    refuse({"--absorption"}, "'" + one_line(o.absorption) + "'", "lucas-haydon or foe-index");
  }
  if (o.ground_loss == "fixed") {
    q.settings.ground_loss = circuit::GroundLoss::fixed_2_db;
  } else if (o.ground_loss != "by-surface") {
    refuse({"--ground-loss"}, "'" + one_line(o.ground_loss) + "'", "by-surface or fixed");
  }
  return q;
}

/// Head, parts and tail straight to the output, as they come.
template <class Part>
void stream(const advice::CoverageQuestion& q, const Common& common, World& world, const std::string& head,
            const Part& part, const std::string& tail) {
  Stream out(common, world);
  if (!out.put(head)) return;
  if (!advice::coverage(q, [&](const advice::CoveragePart& cells) { return out.put(part(q, cells)); }))
    return;
  if (!out.put(tail)) return;
  out.finish();
}

// Judgement: beyond this nobody looks at them, and the file grows past 10 MB.
constexpr std::size_t most_panels = 48;

void picture(const advice::CoverageQuestion& q, const Options& o, World& world) {
  const std::size_t panels = q.hours.size() * q.frequencies.size();
  if (panels > most_panels) {
    refuse({"--hours"}, fmt::format("{} worlds in one picture", panels),
           fmt::format("at most {}: fewer --hours or --bands", most_panels));
  }
  report::MapSheet sheet;
  sheet.question = q;
  sheet.site_name = one_line(o.at);
  sheet.coast = geodesy::coastline();
  const UtcTime midnight = start_of(q.climate.day);
  for (const int hour : q.hours) {
    const UtcTime when = midnight + std::chrono::hours(hour);
    sheet.nights.push_back({sun::terminator(when, 0, 180), sun::position(when).declination_deg < 0});
  }
  const std::size_t cells = q.grid.cells();
  sheet.classes.resize(panels * cells);
  const bool whole = advice::coverage(q, [&](const advice::CoveragePart& part) {
    for (std::size_t c = 0; c < part.cells; ++c) {
      for (std::size_t p = 0; p < panels; ++p) {
        sheet.classes[p * cells + part.first_cell + c] = report::days_class(part.values[c * panels + p]);
      }
    }
    return true;
  });
  if (whole) write(report::map_svg(sheet), o.common, world);
}

void run_map(const Options& o, World& world) {
  const Kind kind = kind_of(o.common);
  const auto q = question_of(o);
  const double want = number_of(o.want, "--want-days", 0.5, 10, "days in ten");
  switch (kind) {
    case Kind::csv:
      return stream(q, o.common, world, report::map_csv_head(), report::map_csv, "");
    case Kind::geojson:
      return stream(q, o.common, world, report::map_geojson_head(q), report::map_geojson,
                    report::map_geojson_tail());
    case Kind::svg:
      return picture(q, o, world);
    case Kind::text:
    case Kind::json:
      break;
  }
  advice::CoverageShare share(q, want);
  const bool whole = advice::coverage(q, [&](const advice::CoveragePart& part) {
    share.add(part);
    return true;
  });
  if (!whole) return;
  write(kind == Kind::json ? report::map_json(q, share, want) : report::map_text(q, share, want), o.common,
        world);
}

}  // namespace

Command add_map(CLI::App& app) {
  auto options = std::make_shared<Options>();
  auto* sub = app.add_subcommand("map", "where in the world a station would be heard, hour by hour");
  auto& o = *options;
  o.common.format.clear();
  sub->add_option("AT", o.at, "your place: lat,lon or a locator")->required()->type_name("PLACE");
  add_when(*sub, o.common);
  add_activity(*sub, o.common);
  sub->add_option("--bands", o.bands, "bands, as 40m,20m; without it and --mhz: 20m")->type_name("LIST");
  sub->add_option("--mhz", o.mhz, "frequencies in MHz, as 7.03,14.06")->type_name("LIST");
  sub->add_option("--hours", o.hours, "whole UTC hours, as 0,6,12,18, or all")
      ->type_name("LIST")
      ->default_str("all");
  sub->add_option("--grid", o.grid, "step of the grid in degrees; divides 180")
      ->type_name("DEG")
      ->default_str("2");
  sub->add_option("--way", o.way, "short, long or best way round the Earth")
      ->type_name("WAY")
      ->default_str("short");
  sub->add_option("--mode", o.mode, "mode of emission: cw, ssb, ft8 ...")
      ->type_name("MODE")
      ->default_str("cw");
  sub->add_option("--power-w", o.power, "your power")->type_name("W")->default_str("10");
  sub->add_option("--to-power-w", o.to_power, "power of the stations everywhere else")
      ->type_name("W")
      ->default_str("100");
  sub->add_option("--gain-from-dbi", o.gain_from, "your antenna's gain with its losses, at all angles")
      ->type_name("DBI")
      ->default_str("0");
  sub->add_option("--gain-to-dbi", o.gain_to, "their antenna's gain")->type_name("DBI")->default_str("0");
  sub->add_option("--noise-from", o.noise_from,
                  "man-made noise at your place: city, residential, rural, quiet")
      ->type_name("CLASS")
      ->default_str("quiet");
  sub->add_option("--noise-to", o.noise_to, "man-made noise at theirs")
      ->type_name("CLASS")
      ->default_str("residential");
  sub->add_option("--noise-figure-db", o.noise_figure, "of both receivers")
      ->type_name("DB")
      ->default_str("15");
  sub->add_option("--skyline-deg", o.skyline, "height of the ground around you")
      ->type_name("DEG")
      ->default_str("0");
  sub->add_option("--absorption", o.absorption, "D-region form: lucas-haydon or foe-index")
      ->type_name("FORM")
      ->default_str("lucas-haydon");
  sub->add_option("--ground-loss", o.ground_loss, "bounces: by-surface (sea, land) or fixed (2 dB)")
      ->type_name("FORM")
      ->default_str("by-surface");
  sub->add_option("--want-days", o.want, "days in ten that the text and JSON summaries count")
      ->type_name("N")
      ->default_str("5");
  sub->add_option("-f,--format", o.common.format,
                  "text, json, csv, geojson or svg; without it, by the name of the output file")
      ->type_name("FORMAT");
  sub->add_option("-o,--output", o.common.output, "write to this file instead of the screen")
      ->type_name("FILE");
  sub->footer("Example: skerry map -19.70,63.43 --month 2027-02 --bands 20m --hours 0,6,12,18 -o world.svg");
  return {sub, [options](World& world) { run_map(*options, world); }};
}

}  // namespace skerry::cli
