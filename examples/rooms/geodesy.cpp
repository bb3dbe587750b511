// How far and which way, by both ways round the Earth.
#include <fmt/format.h>

#include "skerry/geodesy/path.hpp"

int main() {
  const auto island = skerry::geodesy::parse_place("19.70S 63.43E", {});
  const auto mainland = skerry::geodesy::parse_locator("KG33", {});
  for (const auto way : {skerry::geodesy::Way::short_way, skerry::geodesy::Way::long_way}) {
    const auto path = skerry::geodesy::make_path(*island, *mainland, way);
    fmt::print("{:.0f} km towards {:.0f} degrees\n", path.distance_km, path.bearing_deg);
  }
}
