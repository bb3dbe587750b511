// What to ask of circuit::explain for a trip and the kit packed for it.
// Layer: advice. Sees everything above it.
#pragma once

#include <functional>
#include <optional>
#include <string>

#include "skerry/advice/advise.hpp"
#include "skerry/circuit/explain.hpp"

namespace skerry::advice {

/// The question behind a trip, its packed kit and one region: for every licensed band the packed setup that
/// does best at the band's best hour on the air (or at `utc_hour`). The far end is the region's largest group
/// of people, so days may differ from the table of the packing advice, which tells the middle of the region.
///   site, target  indices into the trip
///   advice        asked with openings; it and the trip must outlive the question
///   name          what a packed setup is called in the answer, not empty
using SetupName = std::function<std::string(const kit::Setup&)>;
[[nodiscard]] circuit::ExplainQuestion question_of(const kit::Trip& trip, const Advice& advice, int site,
                                                   int target, std::optional<int> utc_hour,
                                                   const SetupName& name);

}  // namespace skerry::advice
