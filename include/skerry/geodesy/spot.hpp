// A place on an island where a station could stand, and the way there. Layer: geodesy. Sees core.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "skerry/geodesy/point.hpp"

namespace skerry::geodesy {

struct Spot {
  enum class Kind : std::uint8_t {
    planned,  ///< where the trip puts its site
    listed,   ///< asked for
    summit,
    shore,
    between  ///< one of an even net over what lies within the walk
  };
  Kind kind = Kind::planned;
  std::string name;  ///< listed: as it was asked for
  GeoPoint at;
  double height_m = 0;
  std::optional<double> faces_deg{};  ///< a shore's: from the island's middle out
  /// On foot from the start and back; none: no way that one can walk, or off this island.
  std::optional<double> out_minutes{}, back_minutes{};
  double climb_m = 0;
  double steepest_deg = 0;  ///< of the ground within cliff_within_m
};

// Judgement: steeper ground wants hands, and nobody goes there with a pack and a pole.
inline constexpr double steepest_walk_deg = 40;
// Judgement: a drop so near is a danger to somebody who puts up a mast in wind or dusk.
inline constexpr double cliff_within_m = 60;

}  // namespace skerry::geodesy
