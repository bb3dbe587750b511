// The ground as one surface, made of all that the files have of it.
// Layer: terrain. Sees geodesy.
#pragma once

#include <cstdint>
#include <vector>

#include "skerry/terrain/tile.hpp"

namespace skerry::terrain {

// Judgement: lower than this is water; files of whole metres have the sea at 0.
inline constexpr double lowest_land_m = 0.5;

/// A grid over a box, on the lattice of the finest tile; other tiles are taken between their heights, and fill its
/// voids. What no tile has is the sea, and so is a void; both are counted. Heights below the sea are sea level (sea
/// beds, noise, and polders, which shade nobody), unless the middle of the box lies there itself.
class Terrain {
 public:
  ///   errors  no tile has anything of the box; more than most_cells
  [[nodiscard]] static Result<Terrain> make(const std::vector<Tile>& tiles, const Box& box);

  /// Metres above the sea, bilinear between the heights; the sea, 0, outside.
  [[nodiscard]] double height_m(GeoPoint at) const;
  /// Some tile has a height there.
  [[nodiscard]] bool knows(GeoPoint at) const;

  [[nodiscard]] const Box& box() const { return box_; }
  /// Metres from one height to the next, the lesser of the two ways.
  [[nodiscard]] double cell_m() const { return cell_m_; }
  [[nodiscard]] double missing_share() const { return missing_share_; }  ///< of the box, in no file
  [[nodiscard]] double void_share() const { return void_share_; }  ///< of the box, a void in all of them

  // For those who walk across it.
  /// Columns from the west, rows from the north; not whole.
  struct Cell {
    double column = 0, row = 0;
  };
  [[nodiscard]] Cell cell_of(GeoPoint at) const;
  [[nodiscard]] double columns_per_turn() const { return 360 / lon_step_deg_; }
  [[nodiscard]] double height_m(Cell cell) const {
    // Off the grid is the sea. Written so that NaN is off it as well.
    if (!(cell.column >= 0 && cell.row >= 0 && cell.column <= last_column_ && cell.row <= last_row_))
      return 0;
    const auto c = static_cast<std::size_t>(cell.column), r = static_cast<std::size_t>(cell.row);
    const double x = cell.column - static_cast<double>(c), y = cell.row - static_cast<double>(r);
    const float* p = &height_m_[r * columns_ + c];
    const double top = p[0] + x * (static_cast<double>(p[1]) - p[0]);
    const double low = p[columns_] + x * (static_cast<double>(p[columns_ + 1]) - p[columns_]);
    return top + y * (low - top);
  }
  /// No ground between two cells, in the rectangle that they span, is higher; at least 0.
  [[nodiscard]] double highest_m(Cell a, Cell b) const;

  /// Judgement: 100 km by 100 km at 1 arc-second are 11 million at the equator and 60 at 80 degrees; four bytes each.
  static constexpr double most_cells = 120e6;

 private:
  Terrain() = default;
  Box box_;
  double north_deg_ = 0, west_deg_ = 0, lat_step_deg_ = 0, lon_step_deg_ = 0;
  double last_column_ = 0, last_row_ = 0;
  std::size_t columns_ = 0,
              rows_ = 0;  ///< stored: one more each way than heights, so that an edge has a neighbour
  std::vector<float> height_m_;
  std::vector<bool> known_;
  std::vector<float> highest_m_;  ///< of blocks of cells, each with the first row and column of the next ones
  std::size_t block_columns_ = 0, block_rows_ = 0;
  double cell_m_ = 0, missing_share_ = 0, void_share_ = 0;
};

}  // namespace skerry::terrain
