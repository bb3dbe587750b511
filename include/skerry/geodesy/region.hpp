// Target regions: where the wanted people live.
// Layer: geodesy. Sees core only.
#pragma once

#include <string>
#include <vector>

#include "skerry/core/result.hpp"
#include "skerry/geodesy/point.hpp"

namespace skerry::geodesy {

struct Region {
  std::string id;    ///< "western-europe"
  std::string name;  ///< "Western Europe"
  /// Rings of points, not closed, outer rings only; a ring may cross 180 degrees (consecutive longitudes then
  /// jump).
  std::vector<std::vector<GeoPoint>> rings;
  /// What is cut out of one of them.
  struct Hole {
    std::size_t of = 0;  ///< index into `rings`
    std::vector<GeoPoint> ring;
  };
  std::vector<Hole> holes = {};
};

struct WeightedPoint {
  GeoPoint where;
  double weight = 0;  ///< share of the region's people, sums to 1
  std::string name;   ///< the largest place gathered in it, for display
};

/// Preset ids in alphabetical order (44, see data/regions/SOURCE.md), and one of them; case does not matter.
/// Unknown id: Error with the nearest one.
[[nodiscard]] std::vector<std::string> preset_region_ids();
[[nodiscard]] Result<Region> preset_region(std::string_view id, const Where& where);

/// A GeoJSON (RFC 7946) Feature, FeatureCollection, Polygon or MultiPolygon, holes and all. Name and id from
/// properties.name and properties.id of the first Feature that has them, else "region" and the name in
/// dashes. A side from one longitude to another more than 270 degrees off is taken as crossing the date line
/// where the ring then runs counterclockwise, as section 3.1.6 has it; other sides of 180 degrees and more
/// could be meant either way round and are errors; closing a ring is optional. Errors: broken JSON (line and column), other shapes, numbers out of range (latitude -90..90,
/// longitude -180..180, named by their path such as features[0].geometry.coordinates[0][3]), fewer than 3
/// points, self-crossing or flat outlines, a pole inside, over 8 MB, 100 000 points or 64 levels of brackets.
/// Source: RFC 7946.
[[nodiscard]] Result<Region> parse_region_geojson(std::string_view text, const Where& where);

/// Whether any ring holds the place outside its holes; the outlines themselves belong to the region. Edges are straight in latitude
/// and longitude.
[[nodiscard]] bool contains(const Region& region, GeoPoint where);

/// At most `count` (1..200, asserted) points standing for where people live in the region: the largest known
/// places inside it, kept apart by about half the side of each one's fair share of the area; every other
/// place adds its people to the nearest of them. By falling weight; deterministic; under 1 ms. The largest
/// place is always among them. Weights follow places of 1000 people and more, good to about a factor of 1.5
/// (data/places/SOURCE.md: GeoNames, CC BY 4.0). A region without any known place gets a place
/// inside it, the centroid of its largest ring where that is one, weight 1, the region's name.
[[nodiscard]] std::vector<WeightedPoint> sample_people(const Region& region, int count);

/// ITU Region (1, 2 or 3) of a place. Source: ITU Radio Regulations, Nos. 5.2 to 5.9 (lines A, B, C, the
/// states wholly in Region 1 or 3 across line A), from memory of the text. Lines are exact to 0.1 km; those
/// states' borders are drawn by hand to about 0.3 degrees, so `near_line` is raised along them as well. About
/// 25 us.
struct ItuRegion {
  int region = 1;
  bool near_line = false;  ///< another Region lies within 200 km: ask the user
  int other = 0;           ///< the nearest other Region, when near_line; else 0
};
[[nodiscard]] ItuRegion itu_region(GeoPoint where);
/// The Region alone, 1..3; under 1 us.
[[nodiscard]] int itu_region_number(GeoPoint where);

}  // namespace skerry::geodesy
