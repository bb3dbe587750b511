// Which places on an island are worth a look.
// Layer: terrain. Sees geodesy.
#pragma once

#include <string>
#include <vector>

#include "skerry/geodesy/spot.hpp"
#include "skerry/terrain/walk.hpp"

namespace skerry::terrain {

struct Wanted {
  double walk_minutes = 90;               ///< one way; summits and shores farther away are left out
  int summits = 6, shores = 8, net = 16;  ///< at most; shores: of as many equal sectors, one each
  struct Listed {
    std::string name;
    GeoPoint at;
  };
  std::vector<Listed> listed;
};

// Judgement: of two tops nearer than this the lower is a shoulder of the other.
inline constexpr double summit_apart_m = 400;
// Judgement: a top that stands less above the shore of its island is a beach.
inline constexpr double least_summit_m = 15;
/// The planned place first, then the listed ones, summits (highest first), shores (clockwise from north), the net (from
/// north to south, west to east). No two in one cell, and no knot of the net near another place; the first named stays.
/// The planned and listed places are there whatever the walk.
[[nodiscard]] std::vector<geodesy::Spot> spots_on(const Island& island, const Walks& walks, GeoPoint planned,
                                                  const Wanted& wanted);

}  // namespace skerry::terrain
