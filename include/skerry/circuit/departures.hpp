// At which angles the openings of a path leave.
// Layer: circuit. Sees everything above it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "skerry/circuit/path_answer.hpp"

namespace skerry::circuit {

/// Over all hours and frequencies at which some way is open; where none is on as many days as asked, over the better
/// half of what there is.
struct Departures {
  int open = 0;                                           ///< hours, each frequency counted, > 0
  double lowest_deg = 0, usual_deg = 0, highest_deg = 0;  ///< of the strongest rays; usual: the median
  std::string usual_band;                                 ///< where most of the hours are
  double best_days_in_ten = 0;                            ///< at the best hour, at least 0.5
};
/// Of several paths to one region; all answers have the same frequencies. None where nothing opens on one day in
/// twenty. By the sky only.
///   level  days in ten that count as open
[[nodiscard]] std::optional<Departures> departures(const std::vector<PathAnswer>& answers, double level);

}  // namespace skerry::circuit
