// Whether a site's time zone can be right.
// Layer: kit. Sees everything above it.
#pragma once

#include <string>

#include "skerry/kit/trip.hpp"

namespace skerry::kit {

/// Why the zone of a site may be wrong in the days of the trip, one sentence; "" for no doubt. See
/// sun::zone_doubt.
[[nodiscard]] std::string zone_doubt(const Trip& trip, const Site& site);

}  // namespace skerry::kit
