// The land around a place as a grid of squares that one can walk on.
// Layer: terrain. Sees geodesy.
#pragma once

#include <cstddef>
#include <optional>
#include <vector>

#include "skerry/core/result.hpp"
#include "skerry/terrain/terrain.hpp"

namespace skerry::terrain {

/// Square cells about a place, rows from north to south, on the sphere's tangent plane.
///   accuracy  of distances 0.1 % up to 30 km from the middle and 70 degrees of latitude (geometry)
struct Grid {
  GeoPoint middle;
  double step_m = 0;
  int columns = 0, rows = 0;  ///< odd: the middle is the middle cell's
  [[nodiscard]] std::size_t cells() const {
    return static_cast<std::size_t>(columns) * static_cast<std::size_t>(rows);
  }
  [[nodiscard]] std::size_t index(int column, int row) const {
    return static_cast<std::size_t>(row) * static_cast<std::size_t>(columns) +
           static_cast<std::size_t>(column);
  }
  [[nodiscard]] int column(std::size_t cell) const {
    return static_cast<int>(cell % static_cast<std::size_t>(columns));
  }
  [[nodiscard]] int row(std::size_t cell) const {
    return static_cast<int>(cell / static_cast<std::size_t>(columns));
  }
  [[nodiscard]] GeoPoint at(std::size_t cell) const;
  /// None outside.
  [[nodiscard]] std::optional<std::size_t> cell_at(GeoPoint at) const;
  [[nodiscard]] double east_m(std::size_t cell) const { return (column(cell) - columns / 2) * step_m; }
  [[nodiscard]] double north_m(std::size_t cell) const { return (rows / 2 - row(cell)) * step_m; }
  [[nodiscard]] double apart_m(std::size_t a, std::size_t b) const;
};

struct Island {
  Grid grid;
  std::vector<float> height_m;
  std::vector<char> land;  ///< of this island, which the start stands on, and no other's
  std::size_t start = 0;
  std::size_t land_cells = 0;
  bool whole = false;  ///< its shore is all inside the grid
};

// Judgement: cells finer than the files tell nothing, and these are enough to see a gully; no more than 400 a side, so
// that a walk over all of them takes a tenth of a second.
inline constexpr double finest_step_m = 30;
inline constexpr int most_cells_a_side = 401;
// Judgement: a start so near the water that a coarse file puts it there is taken as the next land.
inline constexpr double start_slack_m = 500;

///   within_km  half a side of the square that is looked at, 0.2..30
///   errors     the files have no land within start_slack_m of the start
[[nodiscard]] Result<Island> island_about(const Terrain& ground, GeoPoint start, double within_km);

}  // namespace skerry::terrain
