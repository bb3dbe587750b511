// Places and lines for receivers of satellite navigation and for mapping programs.
// Layer: forms. Sees everything above it. Computes nothing.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "skerry/advice/elsewhere.hpp"
#include "skerry/forms/geojson.hpp"

namespace skerry::forms {

struct Drawing {
  struct Mark {
    GeoPoint at;
    std::optional<double> height_m;
    std::string name, note;
  };
  struct Line {
    std::vector<GeoPoint> points;
    std::string name, note;
  };
  std::string name;
  std::vector<Mark> marks;
  std::vector<Line> lines;
};

/// What tracks_geojson() shows: ends, paths, reflection points and the edge of night.
[[nodiscard]] Drawing drawing_of(const GeoSheet& sheet);
/// The places of `where`, best first, with height, value, whom they face and what to think of.
[[nodiscard]] Drawing drawing_of(const kit::Trip& trip, const advice::Elsewhere& answer);

/// GPX 1.1: waypoints and tracks; a track's segments end at 180 degrees. Source: its schema (from memory): wpt before
/// trk; of a point ele, name, desc in this order; longitudes from -180 to below 180.
[[nodiscard]] std::string gpx(const Drawing& drawing);
/// KML 2.2: placemarks on the ground. Source: OGC 07-147r2 (from memory): longitude, latitude, height.
[[nodiscard]] std::string kml(const Drawing& drawing);

}  // namespace skerry::forms
