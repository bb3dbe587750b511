#include <fmt/format.h>

#include <memory>
#include <optional>

#include "options.hpp"
#include "skerry/antenna/lines.hpp"
#include "skerry/antenna/mast.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/parallel.hpp"
#include "skerry/core/text.hpp"
#include "skerry/files/fields.hpp"
#include "skerry/files/trip_file.hpp"
#include "skerry/forms/csv.hpp"
#include "skerry/forms/json.hpp"
#include "skerry/os/files.hpp"
#include "skerry/words/antenna.hpp"

namespace skerry::cli {

namespace {

struct Options {
  Common common;
  std::string file, mhz = "14.1", ground = "average", height = "5.1", end_height = "1", far_height = "0", id;
  std::string standoff, cable, cable_m = "10", shape, sea_from, slope = "0", toward, eps_r, sigma;
  bool conductive = false, tuner = false, explain = false;
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

antenna::Ground ground_of(const Options& o) {
  if (o.eps_r.empty() && o.sigma.empty()) return must(antenna::find_ground(o.ground, {"--ground"}));
  if (o.eps_r.empty() || o.sigma.empty())
    refuse({o.eps_r.empty() ? "--sigma" : "--eps-r"}, "one constant of a ground", "both --eps-r and --sigma");
  antenna::Ground out;
  out.eps_r = number_of(o.eps_r, files::field("site.ground", "eps_r"));
  out.sigma_s_per_m = number_of(o.sigma, files::field("site.ground", "sigma_s_per_m"), "--sigma");
  out.name = fmt::format("eps_r {:g}, {:g} S/m", out.eps_r, out.sigma_s_per_m);
  return out;
}

/// The far ground, if any is asked for; without a direction the pattern shows it on every side.
std::optional<antenna::Foreground> foreground_of(const Options& o, const antenna::Ground& ground) {
  const double slope = number_of(o.slope, files::field("site", "slope_deg"));
  if (o.sea_from.empty() && slope == 0) {
    if (!o.toward.empty()) refuse({"--toward-deg"}, o.toward, "a direction with --sea-from-m or --slope-deg");
    return std::nullopt;
  }
  if (ground.kind == antenna::GroundKind::free_space)
    refuse({"--ground"}, "free", "a ground, with --sea-from-m or --slope-deg");
  antenna::Foreground f;
  f.all_round = o.toward.empty();
  if (!f.all_round)
    f.azimuth_deg = number_of(o.toward, "--toward-deg", 0, 360, "degrees clockwise from north");
  f.slope_deg = slope;
  f.beyond = ground;
  if (!o.sea_from.empty()) {
    f.from_m = number_of(o.sea_from, files::field("site", "sea_from_m"));
    f.beyond = must(antenna::find_ground("sea", {}));
  }
  return f;
}

struct Job {
  const kit::Antenna* antenna = nullptr;
  antenna::Design design;
  double mhz = 0;
  std::optional<antenna::Raised> way;  ///< of a kind; wires as drawn otherwise
};

class Solver {
 public:
  Solver(const Options& o, antenna::Ground ground, const antenna::Support& support)
      : explain_(o.explain),
        ground_(std::move(ground)),
        support_(support),
        line_(line_of(o)),
        foreground_(foreground_of(o, ground_)) {}

  [[nodiscard]] words::AntennaRow row(const Job& job) const {
    words::AntennaRow out;
    out.id = job.antenna->item.id;
    out.mhz = job.mhz;
    out.ground = ground_.name;
    auto way = job.way;
    if (way) {
      out.shape = antenna::to_text(way->shape);
      *way = antenna::trimmed(job.design, support_, *way, ground_, job.mhz);
      out.notes = way->notes;
    }
    const auto solve = [&](const antenna::WireAntenna& wires) {
      return antenna::radiate(wires, ground_, job.mhz, job.design.coil_q,
                              std::span(foreground_ ? &*foreground_ : nullptr, foreground_ ? 1U : 0U));
    };
    const auto leaving = [](const antenna::Radiated& r, const antenna::Chain& through) {
      return antenna::pattern_of(r, through, r.beyond.empty() ? r.field : r.beyond[0]);
    };
    const auto radiated = solve(way ? way->antenna : *job.antenna->wires);
    if (!radiated) {
      out.error = radiated.error().to_line();
      return out;
    }
    out.possible = true;
    const auto chain = antenna::chain_for(job.design, job.mhz, line_);
    out.pattern = leaving(*radiated, chain);
    if (way && way->mast_wire > 0) {
      if (const auto doubt = mast_doubt(*way, job)) out.notes.push_back(*doubt);
      if (const auto bare = solve(antenna::without_mast(job.design, support_, *way, ground_, job.mhz))) {
        out.mast_cost_db = leaving(*bare, chain).mean_dbi(20) - out.pattern.mean_dbi(20);
      }
    }
    out.mast_left_out = !way && support_.conductive;
    out.foreground = foreground_;
    if (explain_)
      out.workings = {antenna::energy_balance(*radiated), antenna::current_summary(radiated->solution),
                      radiated->solution.currents, radiated->solution.unknowns};
    return out;
  }

 private:
  /// A wire along the mast whose gain or match depends on what nobody knows of the mast.
  [[nodiscard]] std::optional<antenna::Note> mast_doubt(const antenna::Raised& way, const Job& job) const {
    if (!antenna::runs_along_support(way.shape)) return std::nullopt;
    const auto sway = antenna::mast_sway(
        way, ground_, antenna::chain_for(job.design, job.mhz, {}), line_.tuner,
        [&](const antenna::WireAntenna& wires) -> Result<std::shared_ptr<const antenna::Solution>> {
          auto solved = antenna::solve(antenna::with_coil_q(wires, job.design.coil_q), ground_, job.mhz);
          if (!solved) return tl::unexpected(solved.error());
          return std::make_shared<const antenna::Solution>(std::move(*solved));
        });
    return sway ? antenna::unsettled(*sway, line_.tuner) : std::nullopt;
  }

  bool explain_;
  antenna::Ground ground_;
  antenna::Support support_;
  antenna::FeedLine line_;
  std::optional<antenna::Foreground> foreground_;
};

void run_antenna(const Options& o, World& world) {
  const Format format = format_of(o.common);
  const auto ground = ground_of(o);
  std::vector<double> frequencies;
  for (const auto& part : split_list(o.mhz, "--mhz"))
    frequencies.push_back(number_of(part, "--mhz", 1.6, 60, "a frequency in MHz"));
  antenna::Support support;
  support.usable_height_m = number_of(o.height, "--height-m", 0.1, 100, "a height in metres");
  support.end_height_m = number_of(o.end_height, "--end-height-m", 0, 100, "a height in metres");
  support.far_height_m = number_of(o.far_height, "--far-height-m", 0, 100, "a height in metres");
  support.conductive = o.conductive;
  if (!o.standoff.empty())
    support.standoff_m = number_of(o.standoff, "--standoff-m", 0.01, 5, "a distance in metres");
  std::optional<antenna::Shape> shape;
  if (!o.shape.empty()) shape = must(antenna::parse_shape(o.shape, {"--shape"}));
  const auto text = must(os::read_file(o.file, 1U << 20U, {}));
  const auto antennas = must(files::read_antennas(text, o.file));
  const Solver solver(o, ground, support);
  std::vector<Job> jobs;
  std::vector<words::AntennaRow> rows;
  std::vector<int> job_of_row;
  for (const auto& a : antennas) {
    if (!o.id.empty() && a.item.id != o.id) continue;
    auto design = a.design;
    design.needs_tuner = design.needs_tuner || o.tuner;
    if (shape) design.shapes = {*shape};
    for (const double mhz : frequencies) {
      const auto add = [&](std::optional<antenna::Raised> way) {
        job_of_row.push_back(static_cast<int>(jobs.size()));
        jobs.push_back({&a, design, mhz, std::move(way)});
        rows.emplace_back();
      };
      if (a.wires) {
        add(std::nullopt);
        continue;
      }
      auto raising = antenna::raise(design, support, mhz);
      for (auto& way : raising.ways) add(std::move(way));
      if (raising.ways.empty()) {
        job_of_row.push_back(-1);
        rows.emplace_back();
        rows.back().id = a.item.id;
        rows.back().mhz = mhz;
        rows.back().ground = ground.name;
        rows.back().why_not = raising.why_not;
      }
    }
  }
  if (rows.empty()) refuse({"--id"}, "'" + o.id + "'", "the id of an antenna in " + o.file);
  parallel_for(rows.size(), 1, [&](std::size_t begin, std::size_t end) {
    for (std::size_t i = begin; i < end; ++i) {
      if (job_of_row[i] >= 0) rows[i] = solver.row(nth(jobs, job_of_row[i]));
    }
  });
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
  sub->add_option("--id", o.id, "only this antenna")->type_name("ID");
  sub->add_option("--mhz", o.mhz, "frequencies in MHz")->type_name("LIST")->default_str("14.1");
  sub->add_option("--ground", o.ground, "average, poor, rock, sand, sea, ... perfect, free")
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
  sub->add_flag("--conductive", o.conductive, "the support conducts (carbon, metal)");
  sub->add_option("--standoff-m", o.standoff, files::field("support", "standoff_m").help)->type_name("M");
  sub->add_option("--cable", o.cable, "cable type between rig and feed point")->type_name("TYPE");
  sub->add_option("--cable-m", o.cable_m, "its length")->type_name("M")->default_str("10");
  sub->add_flag("--tuner", o.tuner, "a tuner at the rig; shows bands off resonance too");
  sub->add_option("--shape", o.shape,
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
  sub->add_flag("--explain", o.explain,
                "energy balance, feed chain step by step, currents (slow for wires below 0.3 m)");
  add_format(*sub, o.common);
  sub->footer("Example: skerry antenna examples/rodrigues.toml --mhz 14.06 --ground rock --height-m 5.1");
  return {sub, [options](World& world) { run_antenna(*options, world); }};
}

}  // namespace skerry::cli
