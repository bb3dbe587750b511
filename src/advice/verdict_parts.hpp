// What the verdict says beyond the plain choice.
// Layer: advice, internal. Sees advise.hpp.
#pragma once

#include "skerry/advice/advise.hpp"

namespace skerry::advice {

/// Of a choice that reaches nothing: the lightest kit that works and is over the limit, what cannot come, no
/// power, or the sky, in this order of asking. Fills outcome, lightest and in_the_way.
void find_why_nothing_works(Advice& advice, const kit::Trip& trip);

/// Of all hours on the air, with packs that last so long charged from day to day: PackSet::share of it.
[[nodiscard]] double share_of_hours(const kit::Trip& trip, double lasts_hours);

}  // namespace skerry::advice
