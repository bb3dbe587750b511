// At which angles the openings of a path leave.
// Layer: circuit. Sees everything above it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "skerry/circuit/path_answer.hpp"

namespace skerry::circuit {

/// Over all hours and frequencies at which some way is open.
struct Departures {
  int open = 0;  ///< hours, each frequency counted, > 0
  double lowest_deg = 0, usual_deg = 0, highest_deg = 0;  ///< of the strongest rays; usual: the median
  std::string usual_band;                                 ///< where most of the hours are
};
/// Of several paths to one region; all answers have the same frequencies. None where nothing opens. By the sky only.
///   level  days in ten that count as open
[[nodiscard]] std::optional<Departures> departures(const std::vector<PathAnswer>& answers, double level);

}  // namespace skerry::circuit
