// Antennas in words.
// Layer: words. Sees everything above it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "skerry/antenna/pattern.hpp"
#include "skerry/words/path.hpp"

namespace skerry::words {

/// One antenna put up one way at one frequency; `pattern` empty with `why_not` when it cannot stand.
struct AntennaRow {
  std::string id, shape;
  double mhz = 0;
  std::string ground;
  bool possible = false;
  antenna::Pattern pattern;
  std::vector<std::string> notes;  ///< of the geometry
  std::string why_not;
  /// For --explain.
  struct Workings {
    antenna::EnergyBalance balance;
    std::vector<antenna::WireCurrent> currents;
    std::vector<antenna::SegmentCurrent> segments;  ///< to be plotted
    int unknowns = 0;
  };
  std::optional<Workings> workings;
};

[[nodiscard]] std::string antenna_text(const std::vector<AntennaRow>& rows, const Style& style);

}  // namespace skerry::words
