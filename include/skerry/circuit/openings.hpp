// Openings as events: when one begins, ends and is at its best.
// Layer: circuit. Sees everything above it.
#pragma once

#include <array>
#include <vector>

namespace skerry::circuit {

/// Hours UTC; start in [0, 24), end > start and at most start + 24, so that an opening across midnight is one
/// event.
struct Opening {
  double start_h = 0, end_h = 24;
  double peak_h = 0;  ///< in [start, end], may exceed 24 like end
  double peak_value = 0;
  bool all_day = false;
};

/// Where the 24 hourly values (hour h at h:00, the day repeating) lie at or above a level. Between hours the
/// value is taken as a straight line; where that crosses the level is told to the nearest quarter of an hour,
/// since real crossings are good to about 20 minutes: the maps themselves vary with harmonics no shorter than
/// 4 hours.
///   returns   in order of start; an opening that holds at all hours is one event with all_day set; start and
///             end are equal where it lasts some minutes only
[[nodiscard]] std::vector<Opening> openings(const std::array<double, 24>& values, double level);

}  // namespace skerry::circuit
