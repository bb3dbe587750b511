// What stands around a place, in words; what `skerry horizon` shows, gathered.
// Layer: words. Sees everything above it. Computes nothing.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "skerry/circuit/departures.hpp"
#include "skerry/geodesy/gazetteer.hpp"
#include "skerry/kit/trip.hpp"
#include "skerry/terrain/around.hpp"
#include "skerry/words/style.hpp"

namespace skerry::words {

struct HorizonAnswer {
  GeoPoint at;
  std::optional<geodesy::Named> named;                   ///< where a name was given
  std::vector<std::string> files;                        ///< that have anything of the surroundings
  std::vector<std::string> absent;                       ///< square degrees of which there is no HGT file
  double cell_m = 0, missing_share = 0, void_share = 0;  ///< as terrain::Terrain
  terrain::View view;
  terrain::Around around;
  std::vector<std::string> rows;  ///< of a trip file, "altitude_m = 398"
  struct Mark {
    std::string region;
    double bearing_deg = 0, distance_km = 0;
    geodesy::Skyline skyline;  ///< towards it
    std::optional<circuit::Departures> leaves;
    double want_days_in_ten = 5;  ///< what was asked for
  };
  std::vector<Mark> marks;
};

[[nodiscard]] std::string horizon_text(const HorizonAnswer& answer, const Style& style);
/// "Japan (42 degrees, 8900 km) leaves at 4 degrees (2 to 9, mostly 20m), the ridge stands at 6, 1.3 km away"
[[nodiscard]] std::string mark_text(const HorizonAnswer::Mark& mark);
/// Where a trip tells otherwise than its elevation files, and what it then goes by; a line each.
[[nodiscard]] std::vector<std::string> terrain_notes(const kit::Site& site);

}  // namespace skerry::words
