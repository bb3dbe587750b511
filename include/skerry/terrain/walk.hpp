// How long it takes to get there on foot, and back.
// Layer: terrain. Sees geodesy.
#pragma once

#include <vector>

#include "skerry/geodesy/spot.hpp"
#include "skerry/terrain/island.hpp"

namespace skerry::terrain {

// Source: Naismith's rule (Scottish Mountaineering Club Journal, 1892; common practice in metres): an hour for 5 km, and
// ten minutes more for every 100 m of climb. Going down is counted as level.
inline constexpr double minutes_per_km = 12, minutes_per_100_m_up = 10;

/// Of each cell; infinite where one cannot walk.
struct Walks {
  std::vector<float> out_minutes;   ///< from the start
  std::vector<float> back_minutes;  ///< to the start
  std::vector<float> climb_m;       ///< all that goes up on the way out
};

/// The quickest way over the grid, in sixteen directions, over ground no steeper than geodesy::steepest_walk_deg between cells.
///   accuracy  against straight lines over level ground 0 to 3 % more (the directions); a path, a wall, a bog or a fence
///             is not known
///   source    Dijkstra, Numerische Mathematik 1, 1959
[[nodiscard]] Walks walks(const Island& island);

}  // namespace skerry::terrain
