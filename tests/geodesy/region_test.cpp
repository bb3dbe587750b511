#include "skerry/geodesy/region.hpp"

#include <algorithm>
#include <chrono>
#include <cmath>
#include <map>

#include "check.hpp"
#include "skerry/geodesy/path.hpp"

using skerry::GeoPoint;
using namespace skerry::geodesy;

TEST_CASE("presets are many, sorted and found by name", "[geodesy][property]") {
  const auto ids = preset_region_ids();
  CHECK(ids.size() >= 36);
  CHECK(std::is_sorted(ids.begin(), ids.end()));
  CHECK(std::adjacent_find(ids.begin(), ids.end()) == ids.end());
  for (const auto& id : ids) {
    const auto region = preset_region(id, {});
    REQUIRE(region);
    CHECK(region->id == id);
    CHECK_FALSE(region->name.empty());
  }
  const auto wrong = preset_region("western-europa", {"--to"});
  REQUIRE_FALSE(wrong);
  CHECK(wrong.error().mend.find("western-europe") != std::string::npos);
  CHECK(wrong.error().where.file == "--to");
  CHECK(preset_region(" Western-Europe ", {}));
}

TEST_CASE("known cities lie in the region that an atlas gives them, and in no other", "[geodesy][known]") {
  struct Row {
    const char* city;
    double lat_deg, lon_deg;
    const char* region;
  };
  // Positions: any atlas, to 0.05 degrees.
  const auto row = GENERATE(values<Row>({
      {"London", 51.5, -0.12, "british-isles"},
      {"Dublin", 53.35, -6.26, "british-isles"},
      {"Paris", 48.85, 2.35, "western-europe"},
      {"Berlin", 52.52, 13.4, "western-europe"},
      {"Bern", 46.95, 7.45, "western-europe"},
      {"Madrid", 40.4, -3.7, "iberia"},
      {"Lisbon", 38.72, -9.13, "iberia"},
      {"Palma", 39.57, 2.65, "iberia"},
      {"Rome", 41.9, 12.5, "italy"},
      {"Cagliari", 39.22, 9.12, "italy"},
      {"Vienna", 48.2, 16.37, "central-europe"},
      {"Warsaw", 52.23, 21.0, "central-europe"},
      {"Stockholm", 59.33, 18.07, "scandinavia"},
      {"Helsinki", 60.17, 24.94, "scandinavia"},
      {"Copenhagen", 55.68, 12.57, "scandinavia"},
      {"Kyiv", 50.45, 30.52, "eastern-europe"},
      {"Tallinn", 59.44, 24.75, "eastern-europe"},
      {"Athens", 37.98, 23.73, "balkans-greece"},
      {"Bucharest", 44.43, 26.1, "balkans-greece"},
      {"Moscow", 55.75, 37.62, "european-russia"},
      {"Novosibirsk", 55.03, 82.92, "western-siberia"},
      {"Vladivostok", 43.12, 131.9, "eastern-siberia"},
      {"Anadyr", 64.73, 177.5, "eastern-siberia"},
      {"Uelen", 66.16, -169.8, "eastern-siberia"},
      {"Cairo", 30.05, 31.25, "north-africa"},
      {"Casablanca", 33.59, -7.6, "north-africa"},
      {"Lagos", 6.45, 3.4, "west-africa"},
      {"Dakar", 14.7, -17.45, "west-africa"},
      {"Kinshasa", -4.32, 15.3, "central-africa"},
      {"Nairobi", -1.29, 36.82, "east-africa"},
      {"Cape Town", -33.92, 18.42, "southern-africa"},
      {"Port Louis", -20.16, 57.5, "indian-ocean-islands"},
      {"Ponta Delgada", 37.74, -25.67, "atlantic-islands"},
      {"Reykjavik", 64.15, -21.95, "iceland"},
      {"Istanbul", 41.02, 28.97, "middle-east"},
      {"Tehran", 35.7, 51.42, "middle-east"},
      {"Nicosia", 35.17, 33.37, "middle-east"},
      {"Almaty", 43.25, 76.95, "central-asia"},
      {"Ulaanbaatar", 47.9, 106.9, "central-asia"},
      {"Delhi", 28.65, 77.23, "south-asia"},
      {"Male", 4.18, 73.5, "south-asia"},
      {"Bangkok", 13.75, 100.5, "southeast-asia"},
      {"Singapore", 1.29, 103.85, "southeast-asia"},
      {"Manila", 14.6, 121, "southeast-asia"},
      {"Jakarta", -6.2, 106.85, "indonesia"},
      {"Beijing", 39.9, 116.4, "china"},
      {"Hong Kong", 22.3, 114.17, "china"},
      {"Taipei", 25.05, 121.53, "taiwan"},
      {"Tokyo", 35.7, 139.7, "japan"},
      {"Naha", 26.2, 127.7, "japan"},
      {"Seoul", 37.57, 127, "korea"},
      {"Sydney", -33.87, 151.2, "south-east-australia"},
      {"Adelaide", -34.93, 138.6, "south-east-australia"},
      {"Brisbane", -27.47, 153.03, "eastern-australia"},
      {"Perth", -31.95, 115.86, "western-australia"},
      {"Darwin", -12.46, 130.84, "western-australia"},
      {"Auckland", -36.85, 174.77, "new-zealand"},
      {"Waitangi, Chatham", -43.95, -176.55, "new-zealand"},
      {"Suva", -18.13, 178.43, "pacific-islands"},
      {"Apia", -13.83, -171.77, "pacific-islands"},
      {"Papeete", -17.53, -149.57, "pacific-islands"},
      {"Honolulu", 21.3, -157.85, "hawaii"},
      {"Anchorage", 61.2, -149.9, "alaska"},
      {"Adak", 51.88, -176.65, "alaska"},
      {"Attu", 52.9, 172.9, "alaska"},
      {"Los Angeles", 34.05, -118.25, "western-north-america"},
      {"Vancouver", 49.25, -123.1, "western-north-america"},
      {"Chicago", 41.88, -87.63, "central-north-america"},
      {"Winnipeg", 49.9, -97.14, "central-north-america"},
      {"New York", 40.7, -74, "eastern-north-america"},
      {"St. John's", 47.56, -52.71, "eastern-north-america"},
      {"Mexico City", 19.43, -99.13, "mexico-central-america"},
      {"Panama", 8.98, -79.52, "mexico-central-america"},
      {"Havana", 23.13, -82.38, "caribbean"},
      {"Bridgetown", 13.1, -59.6, "caribbean"},
      {"Bogota", 4.6, -74.08, "northern-south-america"},
      {"Lima", -12.05, -77.03, "peru-bolivia"},
      {"Sao Paulo", -23.55, -46.63, "brazil"},
      {"Manaus", -3.1, -60.02, "brazil"},
      {"Buenos Aires", -34.6, -58.38, "southern-south-america"},
      {"Punta Arenas", -53.16, -70.9, "southern-south-america"},
  }));
  CAPTURE(row.city);
  const auto where = GeoPoint::at_deg(row.lat_deg, row.lon_deg);
  for (const auto& id : preset_region_ids()) {
    CAPTURE(id);
    CHECK(contains(*preset_region(id, {}), where) == (id == row.region));
  }
}

TEST_CASE("a region across the date line holds both its sides", "[geodesy][edge]") {
  const Region region{"x", "X", {{{-10, 175}, {10, 175}, {10, -175}, {-10, -175}}}};
  CHECK(contains(region, {0, 180}));
  CHECK(contains(region, {0, 176}));
  CHECK(contains(region, {0, -176}));
  CHECK(contains(region, {0, 175}));  // the outline belongs to it
  CHECK_FALSE(contains(region, {0, 174.9}));
  CHECK_FALSE(contains(region, {0, -174.9}));
  CHECK_FALSE(contains(region, {0, 0}));
}

TEST_CASE("people are sampled at most where asked, all inside, weights whole", "[geodesy][property]") {
  const int count = GENERATE(1, 2, 7, 30, 200);
  for (const auto& id : preset_region_ids()) {
    CAPTURE(id, count);
    const auto region = *preset_region(id, {});
    const auto points = sample_people(region, count);
    REQUIRE_FALSE(points.empty());
    CHECK(points.size() <= static_cast<std::size_t>(count));
    double sum = 0;
    for (const auto& point : points) {
      CHECK(contains(region, point.where));
      CHECK(point.weight > 0);
      CHECK_FALSE(point.name.empty());
      sum += point.weight;
    }
    CHECK_THAT(sum, WithinAbs(1.0, 1e-12));
    CHECK(std::is_sorted(points.begin(), points.end(),
                         [](const auto& a, const auto& b) { return a.weight > b.weight; }));
    const auto again = sample_people(region, count);
    CHECK(std::equal(points.begin(), points.end(), again.begin(), again.end(),
                     [](const auto& a, const auto& b) {
                       return a.where == b.where && a.weight == b.weight && a.name == b.name;
                     }));
  }
}

TEST_CASE("the largest city stands for its region", "[geodesy][known]") {
  struct Row {
    const char* region;
    const char* city;
  };
  // Largest city proper of each: common knowledge, United Nations urbanisation tables agree (from memory).
  const auto row = GENERATE(values<Row>({{"british-isles", "London"},
                                         {"iberia", "Madrid"},
                                         {"european-russia", "Moscow"},
                                         {"japan", "Tokyo"},
                                         {"korea", "Seoul"},
                                         {"eastern-north-america", "New York City"},
                                         {"western-north-america", "Los Angeles"},
                                         {"hawaii", "Honolulu"},
                                         {"new-zealand", "Auckland"},
                                         {"iceland", "Reykjavík"},
                                         {"western-australia", "Perth"},
                                         {"italy", "Rome"}}));
  CAPTURE(row.region);
  const auto region = *preset_region(row.region, {});
  CHECK(sample_people(region, 1).front().name == row.city);
  const auto points = sample_people(region, 20);
  CHECK(std::any_of(points.begin(), points.end(), [&](const auto& p) { return p.name == row.city; }));
}

TEST_CASE("sampled points are spread, not heaped on one town", "[geodesy][property]") {
  const auto points = sample_people(*preset_region("western-europe", {}), 12);
  REQUIRE(points.size() == 12);
  for (std::size_t i = 0; i < points.size(); ++i) {
    for (std::size_t j = 0; j < i; ++j) CHECK(distance_km(points[i].where, points[j].where) > 80);
  }
  // Half the region's people must not hang on one of twelve points.
  CHECK(points.front().weight < 0.5);
}

TEST_CASE("an empty region gets its middle", "[geodesy][edge]") {
  const Region sea{"sea", "Empty sea", {{{-50, 175}, {-48, 175}, {-48, -175}, {-50, -175}}}};
  const auto points = sample_people(sea, 10);
  REQUIRE(points.size() == 1);
  CHECK(points[0].weight == 1.0);
  CHECK(points[0].name == "Empty sea");
  CHECK_THAT(points[0].where.lat_deg, WithinAbs(-49, 1e-9));
  CHECK_THAT(points[0].where.lon_deg, WithinAbs(180, 1e-9));
}

TEST_CASE("one island town is all the people of its region", "[geodesy][edge]") {
  const Region rodrigues{
      "rodrigues", "Rodrigues", {{{-19.9, 63.2}, {-19.5, 63.2}, {-19.5, 63.6}, {-19.9, 63.6}}}};
  const auto points = sample_people(rodrigues, 5);
  REQUIRE(points.size() == 1);
  CHECK(distance_km(points[0].where, {-19.68, 63.42}) < 15);
}
