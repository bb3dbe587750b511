// Places by name: who is found by what, and which place is nearest.
#include "skerry/geodesy/gazetteer.hpp"

#include <cmath>
#include <random>

#include "../../src/geodesy/gazetteer_data.hpp"
#include "check.hpp"
#include "skerry/geodesy/path.hpp"

using namespace skerry;
using namespace skerry::geodesy;

TEST_CASE("thirty names are found where they are", "[geodesy][known]") {
  // Positions to a tenth of a degree, zones and countries as common knowledge has them.
  struct Row {
    const char* said;
    double lat_deg, lon_deg;
    const char *country, *zone;
  };
  for (const auto& row :
       std::initializer_list<Row>{{"Fair Isle", 59.5, -1.6, "GB", "Europe/London"},
                                  {"Lord Howe Island", -31.5, 159.1, "AU", "Australia/Lord_Howe"},
                                  {"lord howe", -31.5, 159.1, "AU", "Australia/Lord_Howe"},
                                  {"LORD HOWE ISL", -31.5, 159.1, "AU", "Australia/Lord_Howe"},
                                  {"Rodrigues", -19.7, 63.4, "MU", "Indian/Mauritius"},
                                  {"Boston", 42.4, -71.1, "US", "America/New_York"},
                                  {"Boston, GB", 53.0, 0.0, "GB", "Europe/London"},
                                  {"Boston, United Kingdom", 53.0, 0.0, "GB", "Europe/London"},
                                  {"boston, uk", 53.0, 0.0, "GB", "Europe/London"},
                                  {"Springfield, IL", 39.8, -89.6, "US", "America/Chicago"},
                                  {"Springfield, Massachusetts", 42.1, -72.6, "US", "America/New_York"},
                                  {"Zürich", 47.4, 8.5, "CH", "Europe/Zurich"},
                                  {"zurich", 47.4, 8.5, "CH", "Europe/Zurich"},
                                  {"ZÜRICH", 47.4, 8.5, "CH", "Europe/Zurich"},
                                  {"Zu\u0308rich", 47.4, 8.5, "CH", "Europe/Zurich"},
                                  {"São Paulo", -23.5, -46.6, "BR", "America/Sao_Paulo"},
                                  {"Sao Paulo", -23.5, -46.6, "BR", "America/Sao_Paulo"},
                                  {"München", 48.1, 11.6, "DE", "Europe/Berlin"},
                                  {"Wien", 48.2, 16.4, "AT", "Europe/Vienna"},
                                  {"Reykjavík", 64.1, -21.9, "IS", "Atlantic/Reykjavik"},
                                  {"Łódź", 51.8, 19.5, "PL", "Europe/Warsaw"},
                                  {"Réunion", -21.1, 55.5, "RE", "Indian/Reunion"},
                                  {"Norfolk Island", -29.0, 167.9, "NF", "Pacific/Norfolk"},
                                  {"Tristan da Cunha", -37.1, -12.3, "SH", "Atlantic/St_Helena"},
                                  {"Pitcairn Island", -25.1, -130.1, "PN", "Pacific/Pitcairn"},
                                  {"St. Pierre and Miquelon", 46.8, -56.2, "PM", "America/Miquelon"},
                                  {"Mt. Everest", 28.0, 86.9, "NP", "Asia/Kathmandu"},
                                  {"Ben Nevis", 56.8, -5.0, "GB", "Europe/London"},
                                  {"Teide", 28.3, -16.6, "ES", "Atlantic/Canary"},
                                  {"Chatham Islands", -44.0, -176.6, "NZ", "Pacific/Chatham"},
                                  {"Seven Seas", -37.1, -12.3, "SH", "Atlantic/St_Helena"}}) {
    CAPTURE(row.said);
    const auto found = find_named(row.said);
    REQUIRE(found.taken);
    CHECK_THAT(found.taken->at.lat_deg, WithinAbs(row.lat_deg, 0.15));
    CHECK_THAT(found.taken->at.lon_deg, WithinAbs(row.lon_deg, 0.15));
    CHECK(found.taken->country_code == row.country);
    CHECK(found.taken->zone == row.zone);
  }
}

TEST_CASE("what may be several places is not chosen for the asker", "[geodesy][property]") {
  for (const char* name :
       {"Springfield", "Victoria", "Kingston", "Newcastle", "Santa Cruz", "san jose, us"}) {
    CAPTURE(name);
    const auto found = find_named(name);
    if (std::string_view(name) == "san jose, us") {
      REQUIRE(found.taken);  // one of a million beside villages
      continue;
    }
    CHECK_FALSE(found.taken);
    REQUIRE(found.others.size() > 1);
    // What is said for each of them finds it.
    for (std::size_t i = 0; i < std::min<std::size_t>(9, found.others.size()); ++i) {
      const auto told = telling_name(found.others[i]);
      CAPTURE(told);
      if (told[0] == '-' || (told[0] >= '0' && told[0] <= '9')) {
        const auto at = parse_place(told, {});
        REQUIRE(at);
        CHECK(distance_km(*at, found.others[i].at) < 0.02);
      } else {
        const auto again = find_named(told);
        REQUIRE(again.taken);
        CHECK(again.taken->at == found.others[i].at);
      }
    }
  }
  // Who means the small one can say so, and is told that there is one.
  const auto boston = find_named("Boston");
  REQUIRE(boston.taken);
  CHECK_FALSE(boston.others.empty());
  CHECK_FALSE(find_named("Xyzzyburg").taken);
  CHECK(find_named("Xyzzyburg").others.empty());
  CHECK(find_named("").others.empty());
  CHECK(find_named(",").others.empty());
}

TEST_CASE("names are compared without accents, case and signs", "[geodesy][known]") {
  CHECK(folded_name("  Ålesund ") == "alesund");
  CHECK(folded_name("St.-Denis, Réunion") == "saint denis reunion");
  CHECK(folded_name("Mt Athos") == "mount athos");
  CHECK(folded_name("Hawai'i") == "hawaii");
  CHECK(folded_name("Weißenburg") == "weissenburg");
  CHECK(folded_name("Đà Nẵng") == "da nang");
  CHECK(folded_name("\xff\xc3") == "??");  // broken bytes are no letters, and no end of the program
  CHECK(may_be_name("K2"));
  CHECK(may_be_name("Fair Isle"));
  CHECK(may_be_name("12 de Octubre"));
  CHECK_FALSE(may_be_name("91,20"));
  CHECK_FALSE(may_be_name("19 42 S 63 25.8 E"));
  CHECK_FALSE(may_be_name(""));
}

TEST_CASE("the list stands in the order in which it is searched", "[geodesy][property]") {
  const auto& g = Gazetteer::get();
  REQUIRE(g.size() > 30000);
  std::string before;
  for (std::size_t i = 0; i < g.size(); ++i) {
    const auto place = g.named(i);
    const auto key = g.folded(place.name);
    REQUIRE(before <= key);
    REQUIRE_FALSE(key.empty());
    REQUIRE(key.find('?') == std::string::npos);
    before = key;
  }
  // Each is found by its own name.
  std::mt19937 random(7);
  for (int n = 0; n < 300; ++n) {
    const auto i = random() % g.size();
    const auto found = g.search(g.folded(g.named(i).name), Gazetteer::How::whole);
    CHECK(std::find(found.begin(), found.end(), i) != found.end());
  }
}

TEST_CASE("the nearest named place is the nearest of all", "[geodesy][property]") {
  const auto& g = Gazetteer::get();
  std::mt19937 random(11);
  std::uniform_real_distribution<double> z(-1, 1), lon(-180, 180);
  std::vector<GeoPoint> places{GeoPoint::at_deg(90, 0),        GeoPoint::at_deg(-90, 50),
                               GeoPoint::at_deg(52, 180),      GeoPoint::at_deg(-17, 179.99),
                               GeoPoint::at_deg(-17, -179.99), GeoPoint::at_deg(0, 0)};
  for (int n = 0; n < 60; ++n)
    places.push_back(GeoPoint::at_deg(std::asin(z(random)) * 180 / M_PI, lon(random)));
  for (const auto at : places) {
    CAPTURE(at.lat_deg, at.lon_deg);
    double least = 1e9;
    for (std::size_t i = 0; i < g.size(); ++i) {
      const auto place = g.named(i).at;
      // A quick bound first: a degree of latitude is 110.6 km and more.
      if (std::abs(place.lat_deg - at.lat_deg) * 110.5 < least)
        least = std::min(least, distance_km(at, place));
    }
    for (const double within_km : {20.0, 300.0, 3000.0}) {
      const auto near = nearest_named(at, within_km);
      // The search measures on a sphere: two places within half a per cent of each other may change order.
      REQUIRE(near.has_value() == (least <= within_km));
      if (near) CHECK(near->distance_km <= least * 1.006);
    }
  }
}

TEST_CASE("open water is asked about, shores and islands are not", "[geodesy][known]") {
  const auto atlantic = open_water(GeoPoint::at_deg(44, -30));
  REQUIRE(atlantic);
  CHECK(atlantic->kind == Water::Kind::sea);
  REQUIRE(atlantic->nearest);
  CHECK(atlantic->nearest->place.country_code == "PT");  // the Azores
  const auto superior = open_water(GeoPoint::at_deg(47.6, -87.5));
  REQUIRE(superior);
  CHECK(superior->kind == Water::Kind::lake);
  CHECK(superior->lake == "Lake Superior");
  CHECK(open_water(GeoPoint::at_deg(-1, 33))->lake == "Lake Victoria");
  for (const auto& [lat, lon] : {std::pair{59.53, -1.63},
                                 {-31.53, 159.07},
                                 {-19.7, 63.43},
                                 {57.81, -8.58},
                                 {48.0, -88.9},
                                 {41.88, -87.63},
                                 {45.4, -75.7},
                                 {-37.1, -12.3},
                                 {50.0, -5.8}}) {
    CAPTURE(lat, lon);
    CHECK_FALSE(open_water(GeoPoint::at_deg(lat, lon)));
  }
}
