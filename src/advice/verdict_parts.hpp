// What the verdict says beyond the plain choice.
// Layer: advice, internal. Sees advise.hpp.
#pragma once

#include "skerry/advice/advise.hpp"

namespace skerry::advice {

/// Of a choice that reaches nothing: the lightest kit that works and is over the limit, what cannot come, no
/// power, or the sky, in this order of asking. Fills outcome, lightest and in_the_way.
void find_why_nothing_works(Advice& advice, const kit::Trip& trip);

}  // namespace skerry::advice
