#include "check.hpp"
#include "skerry/geodesy/region.hpp"

using skerry::GeoPoint;
using skerry::geodesy::itu_region;

TEST_CASE("known places lie in their ITU Region", "[geodesy][known]") {
  struct Row {
    const char* place;
    double lat_deg, lon_deg;
    int region;
  };
  // Source: Radio Regulations, Nos. 5.2 to 5.9 (lines and named states, from memory of the text).
  const auto row = GENERATE(values<Row>({
      {"Azores", 38.5, -28, 1},
      {"St Helena", -15.97, -5.7, 1},
      {"Tristan da Cunha", -37.1, -12.3, 1},
      {"Iceland", 64.9, -18.5, 1},
      {"Jan Mayen", 71, -8.5, 1},
      {"Greenland", 66, -50, 2},
      {"Hawaii", 20.8, -156.5, 2},
      {"Johnston", 16.73, -169.53, 2},
      {"Midway", 28.2, -177.4, 2},
      {"Easter Island", -27.1, -109.35, 2},
      {"Clipperton", 10.3, -109.2, 2},
      {"Galapagos", -0.7, -90.5, 2},
      {"Falkland Islands", -51.7, -59, 2},
      {"South Georgia", -54.4, -36.7, 2},
      {"Bermuda", 32.3, -64.8, 2},
      {"Attu", 52.9, 172.9, 2},
      {"Marquesas", -9, -140, 3},
      {"Pitcairn", -25.07, -130.1, 3},
      {"Kiritimati", 1.87, -157.4, 3},
      {"Wake", 19.28, 166.6, 3},
      {"Samoa", -13.8, -172, 3},
      {"Chatham Islands", -44, -176.5, 3},
      {"Mauritius", -20.2, 57.5, 1},
      {"Rodrigues", -19.7, 63.43, 3},
      {"Reunion", -21.1, 55.5, 1},
      {"Seychelles", -4.6, 55.5, 1},
      {"Kerguelen", -49.3, 69.5, 3},
      {"Chagos", -7.3, 72.4, 3},
      {"Maldives", 4.2, 73.5, 3},
      {"Socotra", 12.5, 54, 1},
      {"Muscat", 23.6, 58.4, 1},
      {"London", 51.5, -0.1, 1},
      {"New York", 40.7, -74, 2},
      {"Tokyo", 35.7, 139.7, 3},
      {"Sydney", -33.9, 151.2, 3},
      // The states that keep to one Region across line A.
      {"Yerevan", 40.2, 44.5, 1},
      {"Baku", 40.4, 49.9, 1},
      {"Tbilisi", 41.7, 44.8, 1},
      {"Van, Turkey", 38.5, 43.4, 1},
      {"Almaty", 43.25, 76.95, 1},
      {"Ulaanbaatar", 47.9, 106.9, 1},
      {"Tashkent", 41.3, 69.25, 1},
      {"Bishkek", 42.9, 74.6, 1},
      {"Dushanbe", 38.55, 68.8, 1},
      {"Ashgabat", 37.95, 58.38, 1},
      {"Vladivostok", 43.12, 131.9, 1},
      {"Petropavlovsk", 53.02, 158.65, 1},
      {"Yuzhno-Sakhalinsk", 46.96, 142.73, 1},
      {"Kunashir", 44.1, 145.9, 1},
      {"Bering Island", 55, 166.2, 1},
      {"Anadyr", 64.73, 177.5, 1},
      {"Wrangel Island", 71.2, -179.5, 1},
      {"Arctic Ocean north of Russia", 82, 120, 1},
      {"Tehran", 35.7, 51.4, 3},
      {"Ahvaz", 31.3, 48.7, 3},
      {"Tabriz", 38.1, 46.3, 3},
      {"Bushehr", 28.97, 50.84, 3},
      {"Kish", 26.53, 53.98, 3},
      {"Baghdad", 33.3, 44.4, 1},
      {"Kuwait", 29.37, 47.98, 1},
      {"Bahrain", 26.1, 50.55, 1},
      {"Kabul", 34.5, 69.2, 3},
      {"Urumqi", 43.8, 87.6, 3},
      {"Harbin", 45.75, 126.65, 3},
      {"Sapporo", 43.06, 141.35, 3},
  }));
  CAPTURE(row.place);
  CHECK(itu_region(GeoPoint::at_deg(row.lat_deg, row.lon_deg)).region == row.region);
}

TEST_CASE("islands near a line are told so, with the other Region", "[geodesy][known]") {
  // Distances by hand: Midway stands 99 km east of the great circle 50 N 165 E - 10 N 170 W (by the normal of
  // its plane), Johnston 333 km; a degree of longitude is 105 km at 20 S and 85 km at 40 S.
  const auto midway = itu_region(GeoPoint::at_deg(28.2, -177.4));
  CHECK(midway.near_line);
  CHECK(midway.other == 3);
  CHECK_FALSE(itu_region(GeoPoint::at_deg(16.73, -169.53)).near_line);
  CHECK_FALSE(itu_region(GeoPoint::at_deg(51.5, 0)).near_line);
  CHECK_FALSE(itu_region(GeoPoint::at_deg(-27.1, -109.35)).near_line);
  const auto west_of_a = itu_region(GeoPoint::at_deg(-20, 59));  // 105 km west of 60 E
  CHECK(west_of_a.region == 1);
  CHECK(west_of_a.near_line);
  CHECK(west_of_a.other == 3);
  const auto east_of_b = itu_region(GeoPoint::at_deg(-40, -19));  // 85 km east of 20 W
  CHECK(east_of_b.region == 1);
  CHECK(east_of_b.near_line);
  CHECK(east_of_b.other == 2);
  const auto off_ten_north =
      itu_region(GeoPoint::at_deg(11, -150));  // 111 km north of the 10 N part of line C
  CHECK(off_ten_north.region == 2);
  CHECK(off_ten_north.near_line);
  CHECK(off_ten_north.other == 3);
  CHECK_FALSE(itu_region(GeoPoint::at_deg(-20, 57)).near_line);  // 314 km west of 60 E
}

TEST_CASE("every place has a Region, the poles too", "[geodesy][edge]") {
  for (double lat_deg = -90; lat_deg <= 90; lat_deg += 2.5) {
    for (double lon_deg = -180; lon_deg <= 180; lon_deg += 7.5) {
      const auto itu = itu_region(GeoPoint::at_deg(lat_deg, lon_deg));
      CHECK((itu.region >= 1 && itu.region <= 3));
      CHECK(itu.near_line == (itu.other != 0));
      CHECK(itu.other != itu.region);
    }
  }
}
