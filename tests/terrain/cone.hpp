// An island as a formula: a cone with a ridge to the north-east, in the sea.
#pragma once

#include <algorithm>
#include <cmath>
#include <limits>

#include "skerry/core/units.hpp"
#include "skerry/terrain/terrain.hpp"

namespace skerry::terrain {

inline const GeoPoint cone_top = GeoPoint::at_deg(59.53, -1.63);
inline constexpr double cone_km = 2, cone_m = 300;  ///< radius of the shore, height of the top
inline constexpr double ridge_m = 230,
                        ridge_km = 1.2;  ///< along 45 degrees, from the top so far out, falling

/// Metres; under 0 the sea.
inline double cone_height_m(double east_km, double north_km) {
  const double cone = cone_m * (1 - std::hypot(east_km, north_km) / cone_km);
  const double along = (east_km + north_km) / std::sqrt(2.0), aside = (east_km - north_km) / std::sqrt(2.0);
  const double ridge = along > 0 && along < ridge_km ? ridge_m - 60 * along - 1000 * std::abs(aside) : -1000;
  return std::max(cone, ridge > 0 ? ridge : cone);
}

/// Every arc-second, 4 km about the top.
inline Terrain cone() {
  const auto box = terrain::box_about(cone_top, 4);
  terrain::Tile tile;
  tile.lat_step_deg = tile.lon_step_deg = 1.0 / 3600;
  tile.north_deg = box.north_deg;
  tile.west_deg = box.west_deg;
  tile.rows = static_cast<int>((box.north_deg - box.south_deg) * 3600) + 1;
  tile.columns = static_cast<int>((box.east_deg - box.west_deg) * 3600) + 1;
  const double km_per_deg = earth_radius_km * rad_per_deg;
  for (int r = 0; r < tile.rows; ++r) {
    for (int c = 0; c < tile.columns; ++c) {
      const double north = (tile.north_deg - r * tile.lat_step_deg - cone_top.lat_deg) * km_per_deg;
      const double east =
          (tile.west_deg + c * tile.lon_step_deg - cone_top.lon_deg) * km_per_deg * cos_deg(cone_top.lat_deg);
      tile.height_m.push_back(static_cast<float>(std::max(0.0, cone_height_m(east, north))));
    }
  }
  auto made = Terrain::make({tile}, box);
  return std::move(*made);
}

}  // namespace skerry::terrain
