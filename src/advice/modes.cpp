// The kit in each of the wanted modes, and what each would carry if it alone decided.
#include <algorithm>

#include "advise_parts.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/parallel.hpp"
#include "ways.hpp"

namespace skerry::advice {

std::vector<ModeCase> mode_cases_of(const kit::Trip& trip, const Advice& base, const ReachModel& model) {
  std::vector<ModeCase> out;
  for (const auto m : ids_of(trip.modes)) {
    if (std::any_of(trip.rigs.begin(), trip.rigs.end(),
                    [&](const kit::Rig& rig) { return rig_has_mode(rig, nth(trip.modes, m)); }))
      out.push_back({m, {}});
  }
  const auto shares = counted_shares(trip);
  parallel_for(out.size(), 1, [&](std::size_t begin, std::size_t end) {
    for (std::size_t k = begin; k < end; ++k) {
      if (nth(shares, out[k].mode.value()) >= 1) continue;
      Stress stress;
      stress.mode = out[k].mode;
      out[k].rows = rows_of(trip, base.setups, model.under(stress));
    }
  });
  return out;
}

void ask_each_mode(Advice& advice, const kit::Trip& trip, const std::vector<ModeCase>& cases,
                   const AdviceOptions& options) {
  const auto shares = counted_shares(trip);
  advice.modes.assign(cases.size(), {Id<noise::Mode>(0)});
  parallel_for(cases.size(), 1, [&](std::size_t begin, std::size_t end) {
    for (std::size_t k = begin; k < end; ++k) {
      auto& out = advice.modes[k];
      out.mode = cases[k].mode;
      out.share = nth(shares, out.mode.value());
      if (out.share >= 1) {
        out.reach = advice.kit.reach;
        out.best = advice.optimum;
      } else {
        kit::Trip alone = trip;
        alone.mode_shares.assign(trip.modes.size(), 0);
        nth(alone.mode_shares, out.mode.value()) = 1;
        for (auto& session : alone.sessions) session.mode_shares.clear();
        auto problem = advice.problem;
        problem.rows = cases[k].rows;
        lay_out_things(problem, alone, take_inventory(alone), advice.setups);
        const choose::Solver solver(problem);
        out.reach = solver.reach_of(advice.kit.items);
        out.best = solver.best({.start = advice.kit.items}, aside(options, cases.size()));
      }
      differences(advice.kit.items, out.best.items, out.comes, out.goes);
    }
  });
}

}  // namespace skerry::advice
