// The nearest known populated place, so that a point on a map can be named.
// Layer: geodesy. Sees core only.
#pragma once

#include <optional>
#include <string>

#include "skerry/geodesy/point.hpp"

namespace skerry::geodesy {

struct Town {
  std::string name;
  GeoPoint where;
  double distance_km = 0, bearing_deg = 0;  ///< from the town to the place asked about; bearing 0..360
};

/// Of the built-in places of 1000 people and more (data/places/SOURCE.md) the nearest to a place.
///   most_km   > 0; none: there is no place so near
///   cost      about 0.1 ms
[[nodiscard]] std::optional<Town> nearest_town(GeoPoint where, double most_km);

}  // namespace skerry::geodesy
