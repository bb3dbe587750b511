// The pieces of advise(), one question each.
// Layer: advice, internal. Sees advise.hpp.
#pragma once

#include "skerry/advice/advise.hpp"

namespace skerry::advice {

/// "34 %", "under 1 %", "0 %": no more digits than the method has.
[[nodiscard]] std::string percent(double share);
[[nodiscard]] std::string grams(double mass_g);

/// Setups of which every thing is in the kit.
[[nodiscard]] std::vector<int> working_setups(const Problem& problem, const std::vector<int>& kit);

void judge_items(Advice& advice, const AdviceOptions& options);
void describe_uses(Advice& advice, const kit::Trip& trip, const ReachModel& model,
                   const AdviceOptions& options);
void plan_days(Advice& advice, const kit::Trip& trip);
void add_cautions(Advice& advice, const kit::Trip& trip, const ReachModel& model);
void weigh_firmness(Advice& advice, const kit::Trip& trip, const ReachModel& model,
                    const AdviceOptions& options);

}  // namespace skerry::advice
