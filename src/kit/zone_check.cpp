#include "skerry/kit/zone_check.hpp"

#include <chrono>

#include "skerry/sun/nearest_zone.hpp"

namespace skerry::kit {

std::string zone_doubt(const Trip& trip, const Site& site) {
  return sun::zone_doubt(site.zone, site.at, start_of(trip.first_day),
                         start_of(trip.last_day) + std::chrono::hours{24});
}

}  // namespace skerry::kit
