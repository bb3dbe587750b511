#include "skerry/words/conditions.hpp"

#include <fmt/format.h>

#include <cmath>

#include "skerry/sun/nearest_zone.hpp"

namespace skerry::words {

std::string zone_note(const kit::Trip& trip, const kit::Site& site) {
  const auto doubt = kit::zone_doubt(trip, site);
  if (!doubt) return {};
  if (doubt->why == sun::ZoneDoubt::Why::strays) {
    return fmt::format(
        "zone '{}' is {:.1f} h from the Sun's time at longitude {:.2f}: is the zone the site's, and are "
        "latitude and longitude in this order, north and east positive?",
        site.zone.name(), std::abs(doubt->stray_h), site.at.lon_deg);
  }
  return fmt::format(
      "zone '{}' is only a guess from longitude: put the legal one, sessions, sunset and alarms hang on it "
      "(nearest: \"{}\", {:.0f} km away{})",
      site.zone.name(), doubt->nearest.name, doubt->nearest.distance_km,
      doubt->legal_s ? ", on " + sun::offset_text(*doubt->legal_s) + " then" : "");
}

}  // namespace skerry::words
