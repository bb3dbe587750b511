#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "advise_parts.hpp"

namespace skerry::advice {

namespace {

/// Reach of some setups of the advice under another solar activity, laid out as chosen.
double reach_at(const Advice& advice, const kit::Trip& trip, const ReachModel& model,
                const std::vector<int>& setups, double r12) {
  std::vector<kit::Setup> few;
  std::vector<double> layouts;
  PatternBook book;
  book.radiators = advice.book.radiators;
  for (const int s : setups) {
    few.push_back(advice.setups.possible[static_cast<std::size_t>(s)]);
    book.setups.push_back(advice.book.setups[static_cast<std::size_t>(s)]);
    layouts.push_back(model.setups()[static_cast<std::size_t>(s)].layout_azimuth_deg);
  }
  Stress stress;
  stress.r12 = r12;
  const ReachModel other(trip, few, book, stress, layouts);
  std::vector<int> all(few.size());
  for (std::size_t i = 0; i < all.size(); ++i) all[i] = static_cast<int>(i);
  return other.share(other.served_by(all));
}

/// The setups that serve anything, so that the second look is short.
std::vector<int> serving(const Advice& advice, const std::vector<int>& kit) {
  auto working = working_setups(advice.problem, kit);
  std::erase_if(working, [&](int s) {
    const auto rig = advice.setups.possible[static_cast<std::size_t>(s)].rig;
    return !advice.inventory.power[static_cast<std::size_t>(rig)].possible;
  });
  return working;
}

std::optional<Choice> find_runner_up(const Advice& advice, const AdviceOptions& options) {
  // Whatever does not contain this kit lacks one of its things: the best of the best kits without one of
  // them.
  std::optional<Choice> best;
  for (const int i : advice.kit.items) {
    if (advice.inventory.things[static_cast<std::size_t>(i)].always) continue;
    Stop stop;
    stop.max_nodes = options.nodes_per_question;
    const auto other = loss_of_dropping(advice.problem, advice.kit, i, stop).kit;
    if (!best || other.reach > best->reach || (other.reach == best->reach && other.mass_g < best->mass_g))
      best = other;
  }
  return best;
}

}  // namespace

void weigh_firmness(Advice& advice, const kit::Trip& trip, const ReachModel& model,
                    const AdviceOptions& options) {
  auto& out = advice.firmness;
  const auto working = serving(advice, advice.kit.items);
  const auto days = model.best_days(working);
  for (std::size_t c = 0; c < days.size(); ++c) {
    const double spare = days[c] - trip.want_days_in_ten;
    const double share = model.cells()[c].weight / model.total_weight();
    if (spare >= 0 && spare < edge_days) out.fragile += share;
    if (spare < 0 && spare > -edge_days) out.nearly += share;
  }
  if (advice.kit.reach <= 0) {
    out.why = "nothing is reached";
    return;
  }
  out.runner_up = find_runner_up(advice, options);
  out.low_r12 = trip.low_r12;
  out.high_r12 = trip.high_r12;
  if (options.uncertainty && trip.high_r12 > trip.low_r12) {
    out.asked_the_sun = true;
    out.reach_low = reach_at(advice, trip, model, working, trip.low_r12);
    out.reach_high = reach_at(advice, trip, model, working, trip.high_r12);
    if (out.runner_up) {
      const auto others = serving(advice, out.runner_up->items);
      out.runner_up_low = reach_at(advice, trip, model, others, trip.low_r12);
      out.runner_up_high = reach_at(advice, trip, model, others, trip.high_r12);
    }
  }
  if (!out.runner_up) {
    out.why = "no other kit to compare";
    return;
  }
  const double lead = advice.kit.reach - out.runner_up->reach;
  const bool overtaken = out.asked_the_sun && (out.runner_up_low > out.reach_low + 1e-9 ||
                                               out.runner_up_high > out.reach_high + 1e-9);
  const bool too_near =
      lead < 0.5 * (out.fragile + out.nearly) && lead < 0.02 && out.runner_up->mass_g <= advice.kit.mass_g;
  out.toss_up = overtaken || too_near;
  if (overtaken) {
    out.why =
        fmt::format("the next kit is {} behind, and ahead when the Sun is {} than expected", percent(lead),
                    out.runner_up_low > out.reach_low + 1e-9 ? "quieter" : "more active");
  } else if (too_near) {
    out.why = fmt::format(
        "the next kit is {} behind and no heavier; {} of the wanted region-hours stand within {:.1f} days in "
        "ten "
        "of the wish either way",
        percent(lead), percent(out.fragile + out.nearly), edge_days);
  } else {
    out.why = fmt::format("the next kit is {} behind", percent(lead));
  }
}

}  // namespace skerry::advice
