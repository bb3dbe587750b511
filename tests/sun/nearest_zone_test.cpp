#include "skerry/sun/nearest_zone.hpp"

#include <cmath>

#include "check.hpp"
#include "skerry/core/table.hpp"

using namespace std::chrono;
using skerry::GeoPoint;
using skerry::UtcTime;
using namespace skerry::sun;

namespace {
UtcTime utc(int y, unsigned m, unsigned d) {
  return sys_days{year{y} / month{m} / std::chrono::day{d}};
}
std::optional<ZoneDoubt> doubt(const char* zone, double lat_deg, double lon_deg, unsigned month) {
  const auto found = Zone::find(zone, {});
  REQUIRE(found);
  return zone_doubt(*found, GeoPoint::at_deg(lat_deg, lon_deg), utc(2027, month, 1), utc(2027, month, 8));
}
}  // namespace

TEST_CASE("islands find their legal zone, whatever their longitude", "[sun][known]") {
  // Legal times of 2027 as civil common knowledge has them: Madeira on summer time +1, Samoa west of the
  // date line +13 (no summer time since 2021), Chatham +12:45 and +13:45, Lord Howe +10:30 and +11.
  struct {
    double lat_deg, lon_deg;
    const char* zone;
    double july_h, january_h;
  } const islands[] = {{32.735, -16.928, "Atlantic/Madeira", 1, 0},
                       {-13.6, -172.4, "Pacific/Apia", 13, 13},
                       {-44.0, -176.4, "Pacific/Chatham", 12.75, 13.75},
                       {-31.55, 159.08, "Australia/Lord_Howe", 10.5, 11}};
  for (const auto& island : islands) {
    const auto name = likely_zone(GeoPoint::at_deg(island.lat_deg, island.lon_deg));
    CHECK(name == island.zone);
    const auto zone = Zone::find(name, {});
    REQUIRE(zone);
    CHECK(zone->offset_s(utc(2027, 7, 1)) == std::lround(island.july_h * 3600));
    CHECK(zone->offset_s(utc(2027, 1, 15)) == std::lround(island.january_h * 3600));
    CHECK_FALSE(doubt(island.zone, island.lat_deg, island.lon_deg, 7));
  }
  // The middle of the south Pacific is near no place at all.
  CHECK(likely_zone(GeoPoint::at_deg(-45, -120)).empty());
}

TEST_CASE("a zone that is but an offset is doubted where the legal clock differs or is not known",
          "[sun][property]") {
  const auto summer = doubt("-01:00", 32.735, -16.928, 7);
  REQUIRE(summer);
  CHECK(summer->why == ZoneDoubt::Why::only_an_offset);
  CHECK(summer->nearest.name == "Atlantic/Madeira");
  CHECK(summer->legal_s == 3600);
  CHECK(doubt("UTC", 32.735, -16.928, 7));
  CHECK_FALSE(doubt("UTC", 32.735, -16.928, 1));  // winter time there
  CHECK(doubt("-11:00", -13.6, -172.4, 7));       // right by the Sun, a day off by the calendar
  CHECK_FALSE(doubt("+13:00", -13.6, -172.4, 7));
  const auto nowhere = doubt("-08:00", -45, -120, 7);
  REQUIRE(nowhere);
  CHECK_FALSE(nowhere->legal_s);
}

TEST_CASE("swapped latitude and longitude show by the clock", "[sun][edge]") {
  CHECK_FALSE(doubt("Indian/Mauritius", -19.7, 63.43, 2));
  const auto swapped = doubt("Indian/Mauritius", 63.43, -19.7, 2);
  REQUIRE(swapped);
  CHECK(swapped->why == ZoneDoubt::Why::strays);
  CHECK_THAT(swapped->stray_h, WithinAbs(4 + 19.7 / 15, 1e-9));
}

TEST_CASE("no zone is doubted at its own principal place", "[sun][property]") {
  int asked = 0;
  for (const auto& row : skerry::table_rows("zones/zones.toml", "zone")) {
    const auto& at = row.numbers("at");
    for (const unsigned month : {1U, 7U}) {
      CAPTURE(row.text("name"), month);
      CHECK_FALSE(doubt(row.text("name").c_str(), at[0], at[1], month));
    }
    ++asked;
  }
  CHECK(asked > 400);
}
