#include "skerry/engine/antenna.hpp"

#include <fmt/format.h>

#include "skerry/antenna/lines.hpp"
#include "skerry/antenna/mast.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/parallel.hpp"
#include "skerry/core/text.hpp"

namespace skerry::engine {

namespace {

Result<antenna::FeedLine> line_of(const AntennaAsk& ask) {
  antenna::FeedLine line;
  line.tuner = ask.tuner;
  if (ask.cable.empty()) return line;
  const auto cable = antenna::find_cable(ask.cable, {"cable"});
  if (!cable) return tl::unexpected(cable.error());
  line.cable = (*cable)->id;
  line.length_m = ask.cable_m;
  return line;
}

Result<antenna::Ground> ground_of(const AntennaAsk& ask) {
  if (!ask.eps_r && !ask.sigma) return antenna::find_ground(ask.ground, {"ground"});
  if (!ask.eps_r || !ask.sigma)
    return fail({ask.eps_r ? "eps_r" : "sigma"}, "one constant of a ground",
                "both, permittivity and conductivity");
  antenna::Ground out;
  out.eps_r = *ask.eps_r;
  out.sigma_s_per_m = *ask.sigma;
  out.name = fmt::format("eps_r {:g}, {:g} S/m", out.eps_r, out.sigma_s_per_m);
  return out;
}

/// The far ground, if any is asked for; without a direction the pattern shows it on every side.
Result<std::optional<antenna::Foreground>> foreground_of(const AntennaAsk& ask,
                                                         const antenna::Ground& ground) {
  if (!ask.sea_from_m && ask.slope_deg == 0) {
    if (ask.toward_deg)
      return fail({"toward_deg"}, fmt::format("{:g}", *ask.toward_deg),
                  "a direction only with the sea or a slope");
    return std::nullopt;
  }
  if (ground.kind == antenna::GroundKind::free_space)
    return fail({"ground"}, "free", "a ground, with the sea or a slope");
  antenna::Foreground f;
  f.all_round = !ask.toward_deg;
  if (ask.toward_deg) f.azimuth_deg = *ask.toward_deg;
  f.slope_deg = ask.slope_deg;
  f.beyond = ground;
  if (ask.sea_from_m) {
    f.from_m = *ask.sea_from_m;
    f.beyond = antenna::sea();
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
  Solver(bool explain, antenna::Ground ground, const antenna::Support& support, antenna::FeedLine line,
         std::optional<antenna::Foreground> foreground)
      : explain_(explain),
        ground_(std::move(ground)),
        support_(support),
        line_(std::move(line)),
        foreground_(std::move(foreground)) {}

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

}  // namespace

Result<std::vector<words::AntennaRow>> antenna_rows(const std::vector<kit::Antenna>& antennas,
                                                    const AntennaAsk& ask, const std::string& file) {
  const auto ground = ground_of(ask);
  if (!ground) return tl::unexpected(ground.error());
  antenna::Support support;
  support.usable_height_m = ask.height_m;
  support.end_height_m = ask.end_height_m;
  support.far_height_m = ask.far_height_m;
  support.conductive = ask.conductive;
  if (ask.standoff_m) support.standoff_m = *ask.standoff_m;
  std::optional<antenna::Shape> shape;
  if (!ask.shape.empty()) {
    const auto found = antenna::parse_shape(ask.shape, {"shape"});
    if (!found) return tl::unexpected(found.error());
    shape = *found;
  }
  const auto line = line_of(ask);
  if (!line) return tl::unexpected(line.error());
  const auto foreground = foreground_of(ask, *ground);
  if (!foreground) return tl::unexpected(foreground.error());
  const Solver solver(ask.explain, *ground, support, *line, *foreground);
  std::vector<Job> jobs;
  std::vector<words::AntennaRow> rows;
  std::vector<int> job_of_row;
  for (const auto& a : antennas) {
    if (!ask.id.empty() && a.item.id != ask.id) continue;
    auto design = a.design;
    design.needs_tuner = design.needs_tuner || ask.tuner;
    if (shape) design.shapes = {*shape};
    for (const double mhz : ask.mhz) {
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
        rows.back().ground = ground->name;
        rows.back().why_not = raising.why_not;
      }
    }
  }
  if (rows.empty()) return fail({"id"}, "'" + one_line(ask.id) + "'", "the id of an antenna in " + file);
  parallel_for(rows.size(), 1, [&](std::size_t begin, std::size_t end) {
    for (std::size_t i = begin; i < end; ++i) {
      if (job_of_row[i] >= 0) rows[i] = solver.row(nth(jobs, job_of_row[i]));
    }
  });
  return rows;
}

}  // namespace skerry::engine
