// What is said of the conditions an answer rests on: a clock in doubt, noise that is coarse.
// Room: words.
#pragma once

#include <string>

#include "skerry/kit/trip.hpp"

namespace skerry::words {

inline constexpr const char* atmospheric_note = "atmospheric noise: coarse substitute, +/-10 dB";

/// Why the zone of a site may be wrong in the days of the trip, one sentence; "" for no doubt. See
/// sun::zone_doubt.
[[nodiscard]] std::string zone_note(const kit::Trip& trip, const kit::Site& site);

}  // namespace skerry::words
