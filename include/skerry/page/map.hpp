// World coverage as a picture.
// Layer: page. Sees everything above it.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "skerry/circuit/coverage.hpp"

namespace skerry::page {

/// Colour classes of a cell: days in ten both ways, rounded; or nothing propagates.
inline constexpr std::uint8_t closed_class = 255;
[[nodiscard]] std::uint8_t days_class(const circuit::CoverageValue& value);

/// All that the picture shows, gathered.
struct MapSheet {
  circuit::CoverageQuestion question;
  std::string site_name;                     ///< as the user wrote it, or empty
  std::vector<std::uint8_t> classes;         ///< [hour][frequency][cell]
  std::vector<std::vector<GeoPoint>> coast;  ///< rings
  struct Night {
    std::vector<GeoPoint> edge;  ///< the terminator, any order of points
    bool north_dark = false;     ///< the north pole lies in the night
  };
  std::vector<Night> nights;  ///< per hour
};
/// SVG 1.1, one small world (equirectangular) for each hour and frequency; same input, same bytes.
[[nodiscard]] std::string map_svg(const MapSheet& sheet);

}  // namespace skerry::page
