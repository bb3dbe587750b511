// Antennas as text, JSON and CSV.
// Layer: report. Sees everything above it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "skerry/antenna/pattern.hpp"
#include "skerry/report/text.hpp"

namespace skerry::report {

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
[[nodiscard]] std::string antenna_json(const std::vector<AntennaRow>& rows);  ///< skerry.antenna/1
[[nodiscard]] std::string antenna_csv(const std::vector<AntennaRow>& rows);

}  // namespace skerry::report
