// Said before anything that hangs on local time.
// Layer: cli (internal).
#pragma once

#include "skerry/cli/run.hpp"
#include "skerry/kit/trip.hpp"

namespace skerry::cli {

/// A line on `err` for each site whose time zone may be wrong (words::zone_note): sunset and sessions hang on
/// it; and a question for one that lies in open water.
void warn_of_zones(const kit::Trip& trip, World& world);

}  // namespace skerry::cli
