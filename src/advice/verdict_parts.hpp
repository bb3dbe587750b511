// What the verdict says beyond the plain choice.
// Layer: advice, internal. Sees advise.hpp.
#pragma once

#include "skerry/advice/advise.hpp"

namespace skerry::advice {

/// A reason in sentences, and in a few words.
struct Reason {
  std::string text, in_short;
};

/// Of a choice that reaches nothing: the lightest kit that works and how far it is over the limit, what
/// cannot come, no power, or the sky, in this order of asking.
[[nodiscard]] Reason why_nothing_works(const Advice& advice, const kit::Trip& trip);

/// Of all hours on the air, with packs that last so long charged from day to day: PackSet::share of it.
[[nodiscard]] double share_of_hours(const kit::Trip& trip, double lasts_hours);

}  // namespace skerry::advice
