#include "skerry/words/conditions.hpp"

#include "check.hpp"

using namespace skerry;
using namespace skerry::words;

TEST_CASE("a doubtful zone is told with what may be the right one", "[words][property]") {
  kit::Trip trip;
  trip.first_day = std::chrono::year{2027} / 7 / 1;
  trip.last_day = std::chrono::year{2027} / 7 / 8;
  kit::Site site;
  const auto doubt = [&](const char* zone, double lat_deg, double lon_deg) {
    site.zone = *sun::Zone::find(zone, {});
    site.at = GeoPoint::at_deg(lat_deg, lon_deg);
    return zone_note(trip, site);
  };
  const auto summer = doubt("-01:00", 32.735, -16.928);
  CAPTURE(summer);
  CHECK(summer.find("only a guess from longitude") != std::string::npos);
  CHECK(summer.find("Atlantic/Madeira") != std::string::npos);
  CHECK(summer.find("+01:00") != std::string::npos);
  CHECK(doubt("Indian/Mauritius", 63.43, -19.7).find("longitude") != std::string::npos);
  CHECK(doubt("Atlantic/Madeira", 32.735, -16.928).empty());
}
