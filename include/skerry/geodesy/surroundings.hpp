// How the land lies around a place, as a trip tells it or elevation files do. Layer: geodesy. Sees core.
#pragma once

#include <vector>

#include "skerry/geodesy/skyline.hpp"

namespace skerry::geodesy {

/// Where the sea begins, direction by direction.
struct Shore {
  struct Sector {
    double azimuth_deg = 0;  ///< 0 to below 360; it reaches clockwise to the next one
    double from_m = 0;       ///< 0: no sea in sight
  };
  std::vector<Sector> sectors;  ///< sorted by azimuth
  /// In one direction; 0, no sea, when empty.
  [[nodiscard]] double from_m(double azimuth_deg) const;
};

struct Surroundings {
  double altitude_m = 0;
  Horizon horizon;
  Foreground foreground;
  Shore shore;
};

}  // namespace skerry::geodesy
