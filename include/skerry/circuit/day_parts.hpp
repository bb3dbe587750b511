// The day in parts: which frequency to use in each, and which to fall back on.
// Layer: circuit. Sees everything above it.
#pragma once

#include <optional>
#include <vector>

#include "skerry/circuit/path_answer.hpp"

namespace skerry::circuit {

/// From half an hour before its first whole hour to half an hour after its last, UTC: start in [-0.5, 23.5),
/// end > start and at most start + 24.
struct DayPart {
  double start_h = 0, end_h = 24;
  /// Indices into the question's frequencies, never equal; none: nothing is carried on half a day in ten.
  std::optional<std::size_t> primary, fallback;
  double primary_least = 0, primary_most = 0;  ///< days in ten by the sky over its hours
  double fallback_least = 0, fallback_most = 0;
};

/// Judgement: half a day in ten or less is closed, as in all texts.
inline constexpr double least_open_days_told = 0.5;

/// The primary of each hour is open then; over the round of the day they are chosen so that the sum of days in
/// ten is highest, less change_cost for each change. The fallback is, of the others, the one with most days in
/// the part.
///   returns  in order of start, the day covered once; one part of 24 hours where nothing changes
[[nodiscard]] std::vector<DayPart> day_parts(const WayAnswer& way);
/// Judgement: each change must bring two days in ten for an hour, or one for two hours, before anybody retunes.
inline constexpr double change_cost = 2;

}  // namespace skerry::circuit
