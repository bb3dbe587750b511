// The field card as plain text for a slow link.
// Layer: report. Sees everything above it. Computes nothing.
#pragma once

#include <string>

#include "skerry/advice/advise.hpp"

namespace skerry::report {

inline constexpr std::size_t card_limit_bytes = 2000;

/// Under card_limit_bytes of ASCII, lines of at most 80 characters: sites and dates, sun times, the best band
/// of each hour for up to four regions (the heaviest) with bearings, kit, battery hours, cautions. What does
/// not fit is left out from the least needed on: further regions, further sites, names of things.
[[nodiscard]] std::string card_text(const kit::Trip& trip, const advice::Advice& advice);

}  // namespace skerry::report
