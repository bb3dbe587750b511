// A piece of ground as elevation files give it, and the simplest of those files.
// Layer: terrain. Sees geodesy. Numbers only: bytes are handed in.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "skerry/core/result.hpp"
#include "skerry/geodesy/point.hpp"

namespace skerry::terrain {

/// A part of the Earth's surface. `east_deg` > `west_deg`, and either may lie beyond 180 degrees, so that the date
/// line is no edge.
struct Box {
  double south_deg = 0, west_deg = 0, north_deg = 0, east_deg = 0;
};
/// All that lies within so many kilometres, 0..200, of a place.
[[nodiscard]] Box box_about(GeoPoint at, double km);
/// By how many degrees (whole turns) a longitude moves to lie in the box or next to it.
[[nodiscard]] double turns_into(const Box& box, double west_deg, double east_deg);

/// Heights on a grid of latitude and longitude, rows from north to south.
struct Tile {
  double north_deg = 0, west_deg = 0;         ///< of the first height
  double lat_step_deg = 0, lon_step_deg = 0;  ///< > 0
  int rows = 0, columns = 0;
  std::vector<float> height_m;  ///< [row][column]; NaN: a void
  [[nodiscard]] double south_deg() const { return north_deg - (rows - 1) * lat_step_deg; }
  [[nodiscard]] double east_deg() const { return west_deg + (columns - 1) * lon_step_deg; }
};

/// The rows and columns of a grid that a box needs, with one more all round for what lies between.
struct Cut {
  int first_row = 0, rows = 0, first_column = 0, columns = 0;
  [[nodiscard]] bool empty() const { return rows <= 0 || columns <= 0; }
};
/// `tile` without its heights; its west_deg already turned into the box.
[[nodiscard]] Cut cut_out(const Tile& tile, const Box& box);
/// The grid of the part that is cut out, with no heights yet.
[[nodiscard]] Tile cropped(const Tile& whole, const Cut& cut);

/// The south-west corner that the name of an HGT file tells, as N19E063.hgt; case and folders do not matter.
[[nodiscard]] std::optional<GeoPoint> hgt_corner(std::string_view name);
/// Whether a square degree with that corner has anything of the box.
[[nodiscard]] bool overlaps(GeoPoint corner, const Box& box);

/// An HGT file: one square degree, heights as big-endian 16-bit integers in metres, 1201 or 3601 a row (3 or 1
/// arc-seconds), -32768 a void; edges stand in both neighbours. Only what the box needs is kept; without anything of
/// it, no rows.
///   errors  another size; a name that tells no corner
///   source  the format's public description by its makers (from memory)
[[nodiscard]] Result<Tile> decode_hgt(std::string_view bytes, const std::string& name, const Box& box);

/// Judgement: what no ground has: the deepest sea is 11 km, the highest summit 8849 m; files use such numbers for
/// voids. NaN counts too.
[[nodiscard]] inline bool is_void(double height_m) {
  return !(height_m > -12000 && height_m < 9000);
}

}  // namespace skerry::terrain
