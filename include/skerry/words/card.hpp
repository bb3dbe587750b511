// The field card as plain text for a slow link.
// Layer: words. Sees everything above it. Computes nothing.
#pragma once

#include <string>

#include "skerry/advice/advise.hpp"
#include "skerry/advice/field_card.hpp"
#include "skerry/circuit/path_answer.hpp"

namespace skerry::words {

inline constexpr std::size_t card_limit_bytes = 2000;

/// "Hawaii (open 41 of 41 h)", "Japan (closed)": of a region that a card has no room for.
[[nodiscard]] std::string left_off_text(const advice::RegionHours& region, const std::string& name);

/// Under card_limit_bytes of ASCII, lines of at most 80 characters: sites and dates, sun times, the best band
/// of each hour for up to seven regions (advice::regions_by_opening) with bearings ("~" before a band that
/// stands on fewer days than wanted, "L" or then "l" where it goes the long way), the antenna of each of these
/// bands and the mode, kit, battery hours, cautions. Regions left off are named with the reason. Local hours
/// are those of most days; a change of the clock is told. What does not fit is left out from the least needed
/// on, and counted: further regions over four, names of things, further sites; cautions stay.
[[nodiscard]] std::string card_text(const kit::Trip& trip, const advice::Advice& advice);

/// One path in some fifteen lines of ASCII of at most 44 characters: which band to use in which part of the
/// day and which else (circuit::day_parts); when each opens (UTC, to a quarter of an hour) and its best hour,
/// bands on fewer days, closed bands; what the ground wave carries and needs. The first way asked about.
[[nodiscard]] std::string quick_card_text(const circuit::PathAnswer& answer);

}  // namespace skerry::words
