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
  std::vector<antenna::Note> notes;    ///< of the geometry
  std::optional<double> mast_cost_db;  ///< what a conductive mast takes of the gain (negative: it gives)
  bool mast_left_out = false;          ///< of wires as drawn: a mast counts only when it is one of them
  std::optional<antenna::Foreground> foreground;  ///< over which the gain is
  std::vector<antenna::Note> why_not;
  std::string error;  ///< what the solver found wrong
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
/// All that is to be noted of a row that stands, and why another does not.
[[nodiscard]] std::vector<std::string> row_notes(const AntennaRow& row);
[[nodiscard]] std::string row_why_not(const AntennaRow& row);

}  // namespace skerry::words
