// Paths, reflection points and the edge of night for mapping programs.
// Layer: forms. Sees everything above it. Computes nothing.
#pragma once

#include <string>
#include <vector>

#include "skerry/advice/agenda.hpp"

namespace skerry::forms {

struct GeoSheet {
  std::vector<advice::Track> tracks;
  UtcTime when{};                    ///< of reflection points and terminator
  std::vector<GeoPoint> terminator;  ///< circle on which the Sun stands on the horizon, in order, not closed
};

/// RFC 7946 FeatureCollection: "end" points (each place once), "path" lines, "reflection" points, one
/// "terminator" line; the word stands in properties.kind. Lines that cross 180 degrees are cut there into a
/// MultiLineString.
[[nodiscard]] std::string tracks_geojson(const GeoSheet& sheet);

/// The parts of a line between its crossings of 180 degrees; each part ends and the next begins on the
/// meridian, at the latitude of a straight step. Longitudes -180..180. A step of exactly 180 degrees (over a
/// pole) is not cut.
[[nodiscard]] std::vector<std::vector<GeoPoint>> cut_at_antimeridian(const std::vector<GeoPoint>& line);

}  // namespace skerry::forms
