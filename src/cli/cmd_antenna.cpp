#include <fmt/format.h>

#include "options.hpp"
#include "skerry/antenna/lines.hpp"
#include "skerry/core/text.hpp"
#include "skerry/kit/trip_file.hpp"
#include "skerry/report/antenna_report.hpp"

namespace skerry::cli {

namespace {

struct Options {
  Common common;
  std::string file, mhz = "14.1", ground = "average", height = "5.1", end_height = "1", far_height = "0", id;
  std::string cable, cable_m = "10";
  bool conductive = false, tuner = false;
};

antenna::FeedLine line_of(const Options& o) {
  antenna::FeedLine line;
  line.cable = o.cable;
  if (!o.cable.empty()) {
    line.cable = must(antenna::find_cable(o.cable, {"--cable"}))->id;
    line.length_m = number_of(o.cable_m, "--cable-m", 0, 500, "a length in metres");
  }
  line.tuner = o.tuner;
  return line;
}

void run_antenna(const Options& o, World& world) {
  const Format format = format_of(o.common);
  const auto ground = must(antenna::find_ground(o.ground, {"--ground"}));
  std::vector<double> frequencies;
  for (const auto& part : split_list(o.mhz, "--mhz")) frequencies.push_back(number_of(part, "--mhz", 1.6, 60, "a frequency in MHz"));
  antenna::Support support;
  support.usable_height_m = number_of(o.height, "--height-m", 0.1, 100, "a height in metres");
  support.end_height_m = number_of(o.end_height, "--end-height-m", 0, 100, "a height in metres");
  support.far_height_m = number_of(o.far_height, "--far-height-m", 0, 100, "a height in metres");
  support.conductive = o.conductive;
  const auto text = must(read_file(o.file, 1U << 20U, {}));
  const auto antennas = must(kit::read_antennas(text, o.file));
  const auto line = line_of(o);
  std::vector<report::AntennaRow> rows;
  for (const auto& a : antennas) {
    if (!o.id.empty() && a.item.id != o.id) continue;
    for (const double mhz : frequencies) {
      const auto chain = antenna::chain_for(a.design, mhz, line);
      const auto add = [&](const antenna::WireAntenna& wires, const std::string& shape, const std::vector<std::string>& notes) {
        report::AntennaRow row{a.item.id, shape, mhz, ground.name, true, {}, notes, {}};
        row.pattern = antenna::compute_pattern(wires, ground, mhz, chain);
        rows.push_back(std::move(row));
      };
      if (a.wires) {
        add(*a.wires, "", {});
        continue;
      }
      const auto raising = antenna::raise(a.design, support, mhz);
      for (const auto& way : raising.ways) add(way.antenna, antenna::to_text(way.shape), way.notes);
      if (raising.ways.empty()) {
        rows.push_back({a.item.id, "", mhz, ground.name, false, {}, {}, fmt::format("{}", fmt::join(raising.why_not, "; "))});
      }
    }
  }
  if (rows.empty()) refuse({"--id"}, "'" + o.id + "'", "the id of an antenna in " + o.file);
  switch (format) {
    case Format::json: return write(report::antenna_json(rows), o.common, world);
    case Format::csv: return write(report::antenna_csv(rows), o.common, world);
    case Format::text: return write(report::antenna_text(rows, style_of(world)), o.common, world);
  }
}

}  // namespace

Command add_antenna(CLI::App& app) {
  auto options = std::make_shared<Options>();
  auto& o = *options;
  auto* sub = app.add_subcommand("antenna", "gain against elevation and where the power goes, for the antennas of a file");
  sub->add_option("FILE", o.file, "TOML file with [[antenna]] tables; a trip file will do")->required()->type_name("FILE");
  sub->add_option("--id", o.id, "only this antenna")->type_name("ID");
  sub->add_option("--mhz", o.mhz, "frequencies in MHz")->type_name("LIST")->default_str("14.1");
  sub->add_option("--ground", o.ground, "average, poor, rock, sand, sea, ... perfect, free")->type_name("NAME")->default_str("average");
  sub->add_option("--height-m", o.height, "height at which the support holds the wire")->type_name("M")->default_str("5.1");
  sub->add_option("--end-height-m", o.end_height, "height of the far or low wire ends")->type_name("M")->default_str("1");
  sub->add_option("--far-height-m", o.far_height, "height of a second support, 0 for none")->type_name("M")->default_str("0");
  sub->add_flag("--conductive", o.conductive, "the support conducts (carbon, metal)");
  sub->add_option("--cable", o.cable, "cable type between rig and feed point")->type_name("TYPE");
  sub->add_option("--cable-m", o.cable_m, "its length")->type_name("M")->default_str("10");
  sub->add_flag("--tuner", o.tuner, "a tuner at the rig");
  add_format(*sub, o.common);
  sub->footer("Example: skerry antenna examples/rodrigues.toml --mhz 14.06 --ground rock --height-m 5.1");
  return {sub, [options](World& world) { run_antenna(*options, world); }};
}

}  // namespace skerry::cli
