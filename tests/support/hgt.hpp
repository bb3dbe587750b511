// Elevation files of a surface that is known.
#pragma once

#include <cmath>
#include <cstdint>
#include <functional>
#include <string>

#include "skerry/geodesy/point.hpp"

namespace skerry::test {

/// Metres above the sea.
using Surface = std::function<double(GeoPoint)>;

/// The bytes of an HGT file of so many heights a row.
inline std::string hgt_of(double north_deg, double west_deg, int side, const Surface& surface) {
  std::string out;
  out.reserve(2UL * static_cast<std::size_t>(side) * static_cast<std::size_t>(side));
  for (int r = 0; r < side; ++r) {
    for (int c = 0; c < side; ++c) {
      const auto h = static_cast<std::int16_t>(std::lround(surface(GeoPoint::at_deg(
          north_deg - static_cast<double>(r) / (side - 1), west_deg + static_cast<double>(c) / (side - 1)))));
      const auto bits = static_cast<std::uint16_t>(h);
      out.push_back(static_cast<char>(bits >> 8U));
      out.push_back(static_cast<char>(bits & 0xffU));
    }
  }
  return out;
}

}  // namespace skerry::test
