#include "skerry/geodesy/land.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <thread>

#include "check.hpp"
#include "skerry/core/units.hpp"

using skerry::GeoPoint;
using namespace skerry::geodesy;

TEST_CASE("land's share of the globe is that of the source map", "[geodesy][known]") {
  // 0.2877: area of the source's own polygons summed on the WGS84 ellipsoid with GeographicLib's polygon
  // area. 0.2874 is the same by another library on the sphere. Points: a Fibonacci lattice, each stands for
  // equal area; 200 000 of them leave a sampling error of about 0.0005.
  constexpr int points = 200'000;
  int land = 0;
  for (int i = 0; i < points; ++i) {
    const double lat_deg = skerry::asin_deg(1 - (2 * i + 1.0) / points);
    const double lon_deg = 360 * std::fmod(i * (std::numbers::phi - 1), 1.0);
    land += is_land(GeoPoint::at_deg(lat_deg, lon_deg));
  }
  CHECK_THAT(static_cast<double>(land) / points, WithinAbs(0.2875, 0.0015));
}

TEST_CASE("places that every atlas shows on land are land", "[geodesy][known]") {
  struct Row {
    const char* name;
    double lat_deg, lon_deg;
  };
  const auto row = GENERATE(values<Row>({{"Chukotka", 67, -175},
                                         {"Chukotka, west of the date line", 67, 178},
                                         {"Chukotka, on the date line", 67, 180},
                                         {"Wrangel Island, east half", 71.2, -179.3},
                                         {"Wrangel Island, west half", 71.2, 179.5},
                                         {"Viti Levu", -17.8, 178},
                                         {"Antarctica", -85, 0},
                                         {"Antarctica", -85, 100},
                                         {"Antarctica by the date line", -87, 180},
                                         {"Antarctica by the date line", -87, -179.9},
                                         {"South Pole", -90, 0},
                                         {"South Pole, other meridian", -90, 123},
                                         {"Greenland ice", 75, -40},
                                         {"Sahara", 23, 10},
                                         {"Australia", -25, 135},
                                         {"Kansas", 38.5, -98},
                                         {"Amazonia", -5, -63},
                                         {"Siberia, on tile corners", 65, 100},
                                         {"Gobi, on a tile edge", 43, 105},
                                         {"La Palma", 28.68, -17.87},
                                         {"Madagascar", -19, 47},
                                         {"Lake Victoria, a lake", -1, 33}}));
  CAPTURE(row.name);
  CHECK(is_land(GeoPoint::at_deg(row.lat_deg, row.lon_deg)));
}

TEST_CASE("open seas are sea", "[geodesy][known]") {
  struct Row {
    const char* name;
    double lat_deg, lon_deg;
  };
  const auto row = GENERATE(values<Row>({{"North Pole", 90, 0},
                                         {"North Pole, date line", 90, 180},
                                         {"Pacific on the date line", 0, 180},
                                         {"Pacific just east of it", -40, -179.99},
                                         {"Gulf of Guinea", 0, 0},
                                         {"Atlantic", 30, -40},
                                         {"Indian Ocean", -30, 80},
                                         {"Bering Strait", 65.9, -168.5},
                                         {"Bering Sea", 58, 179},
                                         {"Southern Ocean", -60, -120},
                                         {"Mediterranean", 35, 18},
                                         {"Caspian Sea, a hole in the land", 42, 50.5},
                                         {"Black Sea", 43, 35},
                                         {"Hudson Bay", 60, -86},
                                         {"Tasman Sea", -38, 160}}));
  CAPTURE(row.name);
  CHECK_FALSE(is_land(GeoPoint::at_deg(row.lat_deg, row.lon_deg)));
}

TEST_CASE("tile seams neither add nor lose land", "[geodesy][property]") {
  // A 50 m step across an edge may only change the answer at a coast: under 1 % of steps on these five lines.
  int changes = 0;
  int steps = 0;
  for (const double lon_deg : {-100.0, -60.0, 20.0, 100.0, 135.0}) {
    for (double lat_deg = -89.97; lat_deg < 89; lat_deg += 0.05, ++steps) {
      const bool west = is_land(GeoPoint::at_deg(lat_deg, lon_deg - 0.0003));
      const bool on = is_land(GeoPoint::at_deg(lat_deg, lon_deg));
      const bool east = is_land(GeoPoint::at_deg(lat_deg, lon_deg + 0.0003));
      changes += west != east || (west && !on);
    }
  }
  CHECK(changes < steps / 100);
}

TEST_CASE("threads may ask at the same time", "[geodesy][property]") {
  std::vector<int> counts(4, 0);
  {
    std::vector<std::jthread> threads;
    for (int& count : counts) {
      threads.emplace_back([&count] {
        for (int i = 0; i < 20'000; ++i) count += is_land({(i % 180) - 89.5, (i % 359) - 178.7});
      });
    }
  }
  CHECK(counts[0] > 0);
  CHECK(std::all_of(counts.begin(), counts.end(), [&](int count) { return count == counts[0]; }));
}

TEST_CASE("coastlines are closed rings that cover the land of the globe", "[geodesy][known]") {
  const auto rings = coastline();
  CHECK(rings.size() > 100);
  double area = 0;
  for (const auto& ring : rings) {
    REQUIRE(ring.size() >= 4);
    CHECK(ring.front() == ring.back());
    for (std::size_t i = 0; i + 1 < ring.size(); ++i) {
      CHECK(std::abs(ring[i].lat_deg) <= 90);
      CHECK(std::abs(ring[i].lon_deg) <= 180);
      const double width = ring[i + 1].lon_deg - ring[i].lon_deg;
      // Only the closing line along 90 S is long.
      CHECK((std::abs(width) < 60 || ring[i].lat_deg == -90));
      area += width * skerry::rad_per_deg *
              (skerry::sin_deg(ring[i].lat_deg) + skerry::sin_deg(ring[i + 1].lat_deg)) / 2;
    }
  }
  // 0.2889: area of the source's polygons on the ellipsoid; holes (the Caspian Sea) run the other way and
  // subtract.
  CHECK_THAT(std::abs(area) / (4 * std::numbers::pi), WithinAbs(0.2889, 0.002));
}

TEST_CASE("land about a place is land, sea or what lies between, and never jumps", "[geodesy][property]") {
  CHECK(land_about(GeoPoint::at_deg(23, 10)) == 1);     // Sahara
  CHECK(land_about(GeoPoint::at_deg(-20, -120)) == 0);  // South Pacific
  CHECK(land_about(GeoPoint::at_deg(-90, 0)) == 1);     // South Pole
  CHECK(land_about(GeoPoint::at_deg(90, 123)) == 0);    // North Pole
  CHECK(land_about(GeoPoint::at_deg(67, 180)) == 1);    // Chukotka, on the date line
  for (const double lat_deg : {51.0, 36.3, -6.1}) {
    double last = land_about(GeoPoint::at_deg(lat_deg, -180));
    CHECK(last == land_about(GeoPoint::at_deg(lat_deg, 180)));
    for (double lon_deg = -180; lon_deg <= 180; lon_deg += 0.02) {
      const double now = land_about(GeoPoint::at_deg(lat_deg, lon_deg));
      CHECK(now >= 0);
      CHECK(now <= 1);
      CHECK(std::abs(now - last) <= 0.02 / 0.5 + 1e-9);
      last = now;
    }
  }
  for (int lat_deg = -80; lat_deg <= 80; lat_deg += 4) {
    const auto corner = GeoPoint::at_deg(lat_deg, 2.5 * lat_deg / 2);
    CHECK(land_about(corner) == (is_land(corner) ? 1 : 0));
  }
}
