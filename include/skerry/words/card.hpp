// The field card as plain text for a slow link.
// Layer: words. Sees everything above it. Computes nothing.
#pragma once

#include <string>

#include "skerry/advice/advise.hpp"
#include "skerry/circuit/path_answer.hpp"

namespace skerry::words {

inline constexpr std::size_t card_limit_bytes = 2000;

/// Under card_limit_bytes of ASCII, lines of at most 80 characters: sites and dates, sun times, the best band
/// of each hour for up to four regions (the heaviest) with bearings ("~" before a band that stands on fewer
/// days than wanted), kit, battery hours, cautions. Local hours are those of most days; a change of the clock
/// is told. What does not fit is left out from the least needed on, and counted: names of things, further
/// sites, further regions; cautions stay.
[[nodiscard]] std::string card_text(const kit::Trip& trip, const advice::Advice& advice);

/// One path in some ten lines of ASCII of at most 44 characters: when each band opens (UTC, to a quarter of
/// an hour) and its best hour, bands on fewer days, closed bands. The first way asked about.
[[nodiscard]] std::string quick_card_text(const circuit::PathAnswer& answer);

}  // namespace skerry::words
