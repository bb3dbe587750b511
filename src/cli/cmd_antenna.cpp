// `skerry antenna`.

#include <fmt/format.h>

#include <memory>

#include "options.hpp"
#include "skerry/core/text.hpp"
#include "skerry/engine/antenna.hpp"
#include "skerry/files/fields.hpp"
#include "skerry/files/trip_file.hpp"
#include "skerry/forms/csv.hpp"
#include "skerry/forms/json.hpp"
#include "skerry/os/files.hpp"

namespace skerry::cli {

namespace {

struct Options {
  Common common;
  engine::AntennaAsk ask;
  std::string file, mhz = "14.1", height = "5.1", end_height = "1", far_height = "0", standoff,
                    cable_m = "10", sea_from, slope = "0", toward, eps_r, sigma;
};

engine::AntennaAsk ask_of(const Options& o) {
  auto ask = o.ask;
  const auto maybe = [](const std::string& text, const files::Field& field, std::string option = {}) {
    return text.empty() ? std::nullopt : std::optional(number_of(text, field, std::move(option)));
  };
  ask.eps_r = maybe(o.eps_r, files::field("site.ground", "eps_r"));
  ask.sigma = maybe(o.sigma, files::field("site.ground", "sigma_s_per_m"), "--sigma");
  ask.mhz.clear();
  for (const auto& part : split_list(o.mhz, "--mhz"))
    ask.mhz.push_back(number_of(part, "--mhz", 1.6, 60, "a frequency in MHz"));
  ask.height_m = number_of(o.height, "--height-m", 0.1, 100, "a height in metres");
  ask.end_height_m = number_of(o.end_height, "--end-height-m", 0, 100, "a height in metres");
  ask.far_height_m = number_of(o.far_height, "--far-height-m", 0, 100, "a height in metres");
  if (!o.standoff.empty())
    ask.standoff_m = number_of(o.standoff, "--standoff-m", 0.01, 5, "a distance in metres");
  ask.cable_m = number_of(o.cable_m, "--cable-m", 0, 500, "a length in metres");
  ask.sea_from_m = maybe(o.sea_from, files::field("site", "sea_from_m"));
  ask.slope_deg = number_of(o.slope, files::field("site", "slope_deg"));
  if (!o.toward.empty())
    ask.toward_deg = number_of(o.toward, "--toward-deg", 0, 360, "degrees clockwise from north");
  return ask;
}

void run_antenna(const Options& o, World& world) {
  const Format format = format_of(o.common);
  if (o.ask.explain && format == Format::csv)
    refuse({"--format"}, "'csv'", "text or json with --explain", "the table of gains goes without it");
  const auto ask = ask_of(o);
  const auto text = must(os::read_file(o.file, 1U << 20U, {}));
  const auto antennas = must(files::read_antennas(text, o.file));
  const auto rows = must_by_options(engine::antenna_rows(antennas, ask, o.file));
  switch (format) {
    case Format::json:
      return write(forms::antenna_json(rows), o.common, world);
    case Format::csv:
      return write(forms::antenna_csv(rows), o.common, world);
    case Format::text:
      return write(words::antenna_text(rows, style_of(world, o.common)), o.common, world);
  }
}

}  // namespace

Command add_antenna(CLI::App& app) {
  auto options = std::make_shared<Options>();
  auto& o = *options;
  auto* sub = app.add_subcommand(
      "antenna", "gain against elevation and where the power goes, for the antennas of a file");
  sub->add_option("FILE", o.file, "TOML file with [[antenna]] tables; a trip file will do")
      ->required()
      ->type_name("FILE");
  sub->add_option("--id", o.ask.id, "only this antenna")->type_name("ID");
  sub->add_option("--mhz", o.mhz, "frequencies in MHz")->type_name("LIST")->default_str("14.1");
  sub->add_option("--ground", o.ask.ground, "average, poor, rock, sand, sea, ... perfect, free")
      ->type_name("NAME")
      ->default_str("average");
  sub->add_option("--height-m", o.height, "height at which the support holds the wire")
      ->type_name("M")
      ->default_str("5.1");
  sub->add_option("--end-height-m", o.end_height, "height of the far or low wire ends")
      ->type_name("M")
      ->default_str("1");
  sub->add_option("--far-height-m", o.far_height, "height of a second support, 0 for none")
      ->type_name("M")
      ->default_str("0");
  sub->add_flag("--conductive", o.ask.conductive, "the support conducts (carbon, metal)");
  sub->add_option("--standoff-m", o.standoff, files::field("support", "standoff_m").help)->type_name("M");
  sub->add_option("--cable", o.ask.cable, "cable type between rig and feed point")->type_name("TYPE");
  sub->add_option("--cable-m", o.cable_m, "its length")->type_name("M")->default_str("10");
  sub->add_flag("--tuner", o.ask.tuner, "a tuner at the rig; shows bands off resonance too");
  sub->add_option("--shape", o.ask.shape,
                  "only this way of hanging: vertical, inverted-v, sloper, inverted-l, horizontal")
      ->type_name("SHAPE");
  sub->add_option("--sea-from-m", o.sea_from, files::field("site", "sea_from_m").help)->type_name("M");
  sub->add_option("--slope-deg", o.slope, "the ground falls away by this much")
      ->type_name("DEG")
      ->default_str("0");
  sub->add_option("--toward-deg", o.toward, "the sea or the slope lies this way only (azimuth)")
      ->type_name("DEG");
  sub->add_option("--eps-r", o.eps_r, "a ground of your own: its relative permittivity")->type_name("NUMBER");
  sub->add_option("--sigma", o.sigma, "and its conductivity in S/m")->type_name("NUMBER");
  sub->add_flag("--explain", o.ask.explain,
                "energy balance, feed chain step by step, currents (slow for wires below 0.3 m)");
  add_format(*sub, o.common);
  sub->footer("Example: skerry antenna examples/rodrigues.toml --mhz 14.06 --ground rock --height-m 5.1");
  return {sub, [options](World& world) { run_antenna(*options, world); }};
}

}  // namespace skerry::cli
