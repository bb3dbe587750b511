// The clock of a place over the days of a trip: what it shows, and when it is changed.
// Layer: sun. Sees core and geodesy.
#pragma once

#include <string>
#include <vector>

#include "skerry/sun/localtime.hpp"

namespace skerry::sun {

/// Days in a row on which a clock stands the same at noon.
struct ClockSpan {
  skerry::Day first{}, last{};
  int offset_s = 0;
  std::string label;  ///< Zone::label at noon
  UtcTime since{};    ///< the moment it was changed to this; of the first span, local midnight
};
/// The spans of first..last (in order, asserted), one where nothing changes.
[[nodiscard]] std::vector<ClockSpan> clock_spans(const Zone& zone, skerry::Day first, skerry::Day last);
/// The span that holds a day; the nearest one where none does.
[[nodiscard]] const ClockSpan& span_of(const std::vector<ClockSpan>& spans, skerry::Day day);

/// Minutes past the hour that the clock shows at a whole hour of UTC: 30 at +10:30.
[[nodiscard]] int odd_minutes(int offset_s);
/// Minute of the day that the clock shows at a whole hour of UTC, 0..1439.
[[nodiscard]] int local_minute(int utc_hour, int offset_s);

}  // namespace skerry::sun
