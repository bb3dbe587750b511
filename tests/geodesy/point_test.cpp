#include "skerry/geodesy/point.hpp"

#include <limits>

#include "check.hpp"

using skerry::GeoPoint;
using skerry::geodesy::parse_locator;
using skerry::geodesy::parse_place;
using skerry::geodesy::to_locator;
using skerry::geodesy::to_text;

TEST_CASE("locators of known cities match published ones", "[geodesy][known]") {
  struct Row {
    const char* source;
    double lat_deg, lon_deg;
    const char* locator;
  };
  // Source: worked examples of the locator in the amateur press and in the free encyclopedia, from memory.
  const auto row = GENERATE(values<Row>({
      {"Munich", 48.14666, 11.60833, "JN58td"},
      {"Montevideo", -34.91, -56.21166, "GF15vc"},
      {"Washington DC", 38.92, -77.065, "FM18lw"},
      {"Wellington", -41.28333, 174.745, "RE78ir"},
      {"Newington, Connecticut", 41.714775, -72.727260, "FN31pr"},
      {"Palo Alto, California", 37.413708, -122.1073236, "CM87wj"},
  }));
  CAPTURE(row.source);
  CHECK(to_locator(GeoPoint::at_deg(row.lat_deg, row.lon_deg)) == row.locator);
  const auto back = parse_locator(row.locator, {});
  REQUIRE(back);
  CHECK_THAT(back->lat_deg, WithinAbs(row.lat_deg, 1.0 / 48));  // half a subsquare: 1.25' of latitude
  CHECK_THAT(back->lon_deg, WithinAbs(row.lon_deg, 1.0 / 24));
}

TEST_CASE("eight and ten characters subdivide as computed by hand", "[geodesy][known]") {
  // 19.70 S 63.43 E by long division: lon 243.43 = 12*20 + 1*2 + 17*(1/12) + 1*(1/120) + 14*(1/2880) + ...;
  // lat 70.30 = 7*10 + 0*1 + 7*(1/24) + 2*(1/240) + 0*(1/5760).
  const auto place = GeoPoint::at_deg(-19.70, 63.43);
  CHECK(to_locator(place, 4) == "MH10");
  CHECK(to_locator(place, 6) == "MH10rh");
  CHECK(to_locator(place, 8) == "MH10rh12");
  CHECK(to_locator(place, 10) == "MH10rh12oa");
}

TEST_CASE("a locator's centre lies in that locator", "[geodesy][property]") {
  const double lat_deg = GENERATE(take(12, random(-90.0, 90.0)));
  const double lon_deg = GENERATE(take(12, random(-180.0, 180.0)));
  const auto place = GeoPoint::at_deg(lat_deg, lon_deg);
  for (const int characters : {4, 6, 8, 10}) {
    const auto text = to_locator(place, characters);
    const auto centre = parse_locator(text, {});
    REQUIRE(centre);
    CHECK(to_locator(*centre, characters) == text);
  }
}

TEST_CASE("the ends of the world fall into the last squares", "[geodesy][edge]") {
  CHECK(to_locator(GeoPoint::at_deg(90, 180)) == "RR99xx");
  CHECK(to_locator(GeoPoint::at_deg(-90, 180)) == "RA90xa");
  CHECK(to_locator(GeoPoint::at_deg(-90, -179.999)) == "AA00aa");
  CHECK(to_locator(GeoPoint::at_deg(0, 0)) == "JJ00aa");
  CHECK(*parse_locator("mh10RH", {}) == *parse_locator("MH10rh", {}));
}

TEST_CASE("every promised way of writing one place is read", "[geodesy][known]") {
  // 19 deg 42' S is -19.7; 63 deg 25' 48" E is 63.43 (60 minutes, 3600 seconds to the degree).
  const auto text = GENERATE(values<std::string>(
      {"-19.70,63.43", "-19.7 63.43", " -19.70 , +63.43 ", "19.70S 63.43E", "19.70 s, 63.43 e",
       "S19.7 E63.43", "63.43E 19.70S", "19 42 S 63 25.8 E", "19 42 0 S, 63 25 48 E", "19°42'S 63°25'48\"E",
       "S19°42' E63°25.8'", "19° 42′ 0″ S 63° 25′ 48″ E", "-19.70°, 63.43°", "\u221219.70, 63.43",
       "19°42'0''S 63°25'48''E", "S 19 42, E 63 25 48"}));
  CAPTURE(text);
  const auto place = parse_place(text, {});
  REQUIRE(place);
  CHECK_THAT(place->lat_deg, WithinAbs(-19.7, 1e-12));
  CHECK_THAT(place->lon_deg, WithinAbs(63.43, 1e-12));
}

TEST_CASE("what is no place gets one error that shows the accepted forms", "[geodesy][edge]") {
  const auto text = GENERATE(values<std::string>({"",
                                                  "   ",
                                                  "abc",
                                                  "1e300,5",
                                                  "5,1e300",
                                                  "nan,nan",
                                                  "NaN 5",
                                                  "inf,inf",
                                                  "1,2,3",
                                                  "-19,70 63,43",
                                                  "19.7S 63.43",
                                                  "19.7S 63.43S",
                                                  "19.7E 63.43W",
                                                  "-19.7S 63.43E",
                                                  "19 60 S 63 0 E",
                                                  "19 42 61 S 63 0 E",
                                                  "19.5 30 S 63 E",
                                                  "12",
                                                  "1 2 3 4 S 5 E",
                                                  "S E",
                                                  "N,E",
                                                  ",",
                                                  "1,,2",
                                                  "1;2",
                                                  "--1,2",
                                                  "'19,63",
                                                  "19'42° S 63 E",
                                                  "LH7",
                                                  "ZZ00aa",
                                                  "MH10r",
                                                  "MH1Orh",
                                                  "MH10rz",
                                                  "MH10rhxx",
                                                  "0x10,5",
                                                  "\xff\xfe",
                                                  "1.2.3,4",
                                                  "S 1 2 3 4 E 5",
                                                  "1 -2 S 3 E"}));
  CAPTURE(text);
  const auto place = parse_place(text, {"--site", 3, 9});
  REQUIRE_FALSE(place);
  CHECK(place.error().where.file == "--site");
  CHECK(place.error().where.line == 3);
  CHECK_FALSE(place.error().found.empty());
  CHECK_FALSE(place.error().accepted.empty());
  CHECK(place.error().to_line().find('\n') == std::string::npos);
}

TEST_CASE("a number out of range is named with its range", "[geodesy][edge]") {
  const auto lat = parse_place("95,10", {});
  REQUIRE_FALSE(lat);
  CHECK(lat.error().found == "latitude 95");
  CHECK(lat.error().accepted == "-90 to 90, north positive");
  CHECK_FALSE(lat.error().mend.empty());  // 95,10 may be longitude first
  const auto lon = parse_place("10,296.5", {});
  REQUIRE_FALSE(lon);
  CHECK(lon.error().found == "longitude 296.5");
  CHECK(lon.error().mend == "296.5 east is -63.5");
  CHECK_FALSE(parse_place("90.0001 N 0 E", {}));
  CHECK_FALSE(parse_place("89 59 60 N 0 E", {}));
}

TEST_CASE("poles and the date line are places", "[geodesy][edge]") {
  CHECK(parse_place("90,0", {}).value() == GeoPoint{90, 0});
  CHECK(parse_place("-90,-180", {}).value() == GeoPoint{-90, 180});
  CHECK(parse_place("0,180", {}).value() == GeoPoint{0, 180});
  CHECK(parse_place("0N 180W", {}).value() == GeoPoint{0, 180});
  CHECK(GeoPoint::at_deg(10, 540).lon_deg == 180.0);
  CHECK(GeoPoint::at_deg(10, -180).lon_deg == 180.0);
  CHECK(GeoPoint::at_deg(10, 360).lon_deg == 0.0);
}

TEST_CASE("hostile text is cut short in the message", "[geodesy][edge]") {
  const auto place = parse_place(std::string(1'000'000, '1'), {});
  REQUIRE_FALSE(place);
  CHECK(place.error().to_line().size() < 500);
}

TEST_CASE("text of a place reads back as that place", "[geodesy][property]") {
  CHECK(to_text(GeoPoint::at_deg(-19.7, 63.43)) == "19.700 S 63.430 E");
  CHECK(to_text(GeoPoint::at_deg(-0.0001, -0.0001)) == "0.000 N 0.000 E");
  CHECK(to_text(GeoPoint::at_deg(7.5, -170.25), 1) == "7.5 N 170.2 W");
  const double lat_deg = GENERATE(take(10, random(-90.0, 90.0)));
  const double lon_deg = GENERATE(take(10, random(-180.0, 180.0)));
  const auto back = parse_place(to_text(GeoPoint::at_deg(lat_deg, lon_deg), 6), {});
  REQUIRE(back);
  CHECK_THAT(back->lat_deg, WithinAbs(lat_deg, 5.1e-7));
  CHECK_THAT(back->lon_deg, WithinAbs(lon_deg, 5.1e-7));
}
