// One site heard over the whole world: every cell of a grid, every hour, every frequency.
// Layer: circuit. Sees everything above it.
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <span>
#include <vector>

#include "skerry/circuit/path_answer.hpp"

namespace skerry::circuit {

/// Cells of equal steps in latitude and longitude, row by row from north to south, each row from west (180)
/// to east.
struct Grid {
  double step_deg = 2;  ///< divides 180 (within rounding); 0.5..30
  [[nodiscard]] int rows() const;
  [[nodiscard]] int columns() const;
  [[nodiscard]] std::size_t cells() const;
  [[nodiscard]] GeoPoint centre(std::size_t cell) const;  ///< cell < cells()
  /// True when the step divides 180 and lies within the limits above.
  [[nodiscard]] bool fits() const;
};

enum class WayChoice : std::uint8_t { short_way, long_way, best };

struct CoverageQuestion {
  PathEnd from;            ///< the site; its skyline holds all round
  PathEnd to = far_end();  ///< the station assumed in every cell; its place is not looked at
  WayChoice way = WayChoice::short_way;
  ionosphere::Climate climate;
  Settings settings;
  std::vector<PathQuestion::Frequency> frequencies;  ///< at least one, 1.6..30 MHz
  std::vector<int> hours;                            ///< at least one, 0..23 UTC
  noise::Mode mode;
  Grid grid;
};

/// One cell, hour and frequency. All but `open` and `long_way` are without meaning unless open.
struct CoverageValue {
  float snr_db = 0, return_snr_db = 0;  ///< medians in the mode's reference bandwidth; site -> cell, and back
  float days_in_ten = 0, return_days_in_ten = 0;
  bool open = false;
  bool long_way = false;                         ///< the way these values belong to
  [[nodiscard]] float both_days_in_ten() const;  ///< both_ways
};

/// Some cells, complete: value of cell c, hour h, frequency f at [(c - first_cell) * hours + h] * frequencies
/// + f, h and f counted in the question's lists.
struct CoveragePart {
  std::size_t first_cell = 0, cells = 0;
  std::span<const CoverageValue> values;
};

/// Calls `sink` with the cells in order, in parts of a few thousand; no more than one part is kept (up to 16
/// MB), so that memory does not grow with the grid, the hours or the frequencies.
///   best way   of each cell, hour and frequency, the way with more days in ten both ways; among equals the
///              greater margin of the worse direction; then the short way
///   returns    false when sink returned false, which stops the work
///   accuracy   the same numbers as answer() gives for the sky wave of the path to the cell's centre, to 1e-3
///              (tests/advice); ground wave, which answer() adds up to 400 km, is left out: a few cells
///              around the site
///   cost       about 0.35 us of one core a cell, hour and frequency, and 19 us a cell
///              (tests/bench/circuit_bench.cpp)
[[nodiscard]] bool coverage(const CoverageQuestion& question,
                            const std::function<bool(const CoveragePart&)>& sink);

/// Share of the world's surface, 0..1, per hour and frequency, where both directions work on at least `days`
/// days in ten.
class CoverageShare {
 public:
  CoverageShare(const CoverageQuestion& question, double days);
  void add(const CoveragePart& part);
  [[nodiscard]] double at(std::size_t hour, std::size_t frequency) const;

 private:
  Grid grid_;
  std::size_t frequencies_;
  double days_;
  std::vector<double> sums_;
  double total_ = 0;
};

}  // namespace skerry::circuit
