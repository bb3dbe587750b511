// What a sky is computed for: the month, the Sun, the maps, readings of the day.
// Layer: ionosphere. Sees core and geodesy.
#pragma once

#include <optional>
#include <vector>

#include "skerry/core/time.hpp"
#include "skerry/geodesy/point.hpp"
#include "skerry/ionosphere/r12.hpp"

namespace skerry::ionosphere {

enum class MapSet {
  ccir,  ///< foF2 and M(3000)F2 of the CCIR
  ursi   ///< foF2 of the URSI working group; M(3000)F2 of the CCIR all the same (there is no other)
};

/// foF2 read at a place: from an ionosonde's page on the day itself.
struct MeasuredFof2 {
  double mhz = 0;  ///< 0.5..30 (asserted)
  GeoPoint at;
  double utc_hour = 0;  ///< 0 to below 24, of the day that is computed
};

/// What the sky is computed for. Maps are monthly medians for mid-month; the Sun is taken on `day`.
struct Climate {
  Day day{};  ///< its month chooses the map; default: the 15th. Must be a real day (asserted)
  R12 r12;    ///< 12-month smoothed sunspot number; the maps saturate at 160
  MapSet maps = MapSet::ccir;
  double field_epoch = 2020;  ///< 1900..2030, year of the magnetic field used for modified dip
  /// Readings of the day; the maps are scaled around them. See ionosphere/measured.hpp.
  std::vector<MeasuredFof2> measured = {};
  /// The index that the foF2 maps are asked for, IG12 where it is known; without it fof2_index(r12).
  std::optional<double> fof2_index = {};
};

}  // namespace skerry::ionosphere
