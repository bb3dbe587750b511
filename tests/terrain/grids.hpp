// Ground with a shape that is known, as tiles.
#pragma once

#include <cmath>

#include "hgt.hpp"
#include "skerry/terrain/terrain.hpp"

namespace skerry::test {

/// Heights of a surface every `seconds` over so many km about a place.
inline terrain::Tile tile_of(GeoPoint at, double km, double seconds, const Surface& surface) {
  const auto box = terrain::box_about(at, km);
  terrain::Tile t;
  t.lat_step_deg = t.lon_step_deg = seconds / 3600;
  t.north_deg = box.north_deg;
  t.west_deg = box.west_deg;
  t.rows = static_cast<int>((box.north_deg - box.south_deg) / t.lat_step_deg) + 2;
  t.columns = static_cast<int>((box.east_deg - box.west_deg) / t.lon_step_deg) + 2;
  t.height_m.reserve(static_cast<std::size_t>(t.rows) * static_cast<std::size_t>(t.columns));
  for (int r = 0; r < t.rows; ++r) {
    for (int c = 0; c < t.columns; ++c) {
      t.height_m.push_back(static_cast<float>(
          surface(GeoPoint::at_deg(t.north_deg - r * t.lat_step_deg, t.west_deg + c * t.lon_step_deg))));
    }
  }
  return t;
}

inline terrain::Terrain terrain_of(GeoPoint at, double km, double seconds, const Surface& surface) {
  return terrain::Terrain::make({tile_of(at, km, seconds, surface)}, terrain::box_about(at, km)).value();
}

/// Hills of many sizes, the same each time: sines in all directions, hundreds of metres high, the sea in the hollows.
inline Surface rough(GeoPoint at) {
  return [at](GeoPoint p) {
    const double y = (p.lat_deg - at.lat_deg) * 111.1, x = (p.lon_deg - at.lon_deg) * 111.1;
    double h = 150;
    for (int k = 0; k < 24; ++k) {
      const double turn = 2.399963 * k, km = 24 / std::pow(1.22, k);
      h += 28 * km / (1 + 0.12 * km) *
           std::sin((x * std::cos(turn) + y * std::sin(turn)) * 6.283185 / km + 1.7 * k);
    }
    return h < 0 ? 0.0 : h;
  };
}

}  // namespace skerry::test
