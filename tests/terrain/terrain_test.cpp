#include "skerry/terrain/terrain.hpp"

#include <limits>

#include "check.hpp"
#include "grids.hpp"

using namespace skerry;
using namespace skerry::terrain;

namespace {
constexpr auto nothing = std::numeric_limits<float>::quiet_NaN();
}

TEST_CASE("heights are bilinear between the given ones", "[surface]") {
  // closed form: h = x y is bilinear itself
  const Tile t{1, 10, 0.5, 0.5, 3, 3, {0, 0, 0, 0, 1, 2, 0, 2, 4}};
  const auto s = Terrain::make({t}, {0, 10, 1, 11});
  REQUIRE(s);
  CHECK(s->height_m(GeoPoint{0.5, 10.5}) == Approx(1));
  CHECK(s->height_m(GeoPoint{0.25, 10.75}) == Approx(1.5 * 1.5));
  CHECK(s->height_m(GeoPoint{0, 11}) == Approx(4));
  CHECK(s->height_m(GeoPoint{1.2, 10.5}) == 0);  // off it: the sea
  CHECK(s->height_m(GeoPoint{0.5, 12}) == 0);
  CHECK(s->missing_share() == Approx(0).margin(1e-9));
  CHECK(s->knows(GeoPoint{0.5, 10.5}));
  CHECK_FALSE(s->knows(GeoPoint{0.5, 12}));
}

TEST_CASE("tiles side by side make one surface, and a missing one is the sea", "[surface]") {
  const test::Surface slope = [](GeoPoint p) { return 100 * (p.lon_deg - 63) + 50 * (p.lat_deg + 21); };
  const auto box = box_about(GeoPoint::at_deg(-20, 64), 20);
  std::vector<Tile> tiles;
  for (const auto& [name, north, west] :
       {std::tuple("S20E063.hgt", -19.0, 63.0), std::tuple("S20E064.hgt", -19.0, 64.0),
        std::tuple("S21E063.hgt", -20.0, 63.0)})
    tiles.push_back(decode_hgt(test::hgt_of(north, west, 1201, slope), name, box).value());
  const auto s = Terrain::make(tiles, box);
  REQUIRE(s);
  for (const double lat : {-19.95, -20.0004, -20.1}) {
    for (const double lon : {63.9, 63.9996})
      CHECK(s->height_m(GeoPoint{lat, lon}) ==
            Approx(slope(GeoPoint{lat, lon})).margin(0.6));  // whole metres
  }
  CHECK(s->height_m(GeoPoint{-19.95, 64.1}) == Approx(slope(GeoPoint{-19.95, 64.1})).margin(0.6));
  CHECK(s->height_m(GeoPoint{-20.1, 64.1}) == 0);
  CHECK_FALSE(s->knows(GeoPoint{-20.1, 64.1}));
  CHECK(s->missing_share() == Approx(0.25).margin(0.02));  // cells at its edges
  CHECK(s->void_share() == 0);
}

TEST_CASE("pictures that end half a cell from each other leave no gap", "[surface]") {
  // Heights for areas: the first of the eastern tile stands one step beyond the last of the western one.
  const Tile west{1, 0, 0.1, 0.1, 11, 10, std::vector<float>(110, 50.0F)};
  const Tile east{1, 1, 0.1, 0.1, 11, 10, std::vector<float>(110, 50.0F)};
  const auto s = Terrain::make({west, east}, {0, 0, 1, 1.9});
  REQUIRE(s);
  for (double lon = 0; lon < 1.9; lon += 0.013) CHECK(s->height_m(GeoPoint{0.5, lon}) == Approx(50));
}

TEST_CASE("a void is filled by a coarser file, or is the sea", "[surface]") {
  Tile fine{1, 0, 0.1, 0.1, 11, 11, std::vector<float>(121, 50.0F)};
  fine.height_m[5 * 11 + 5] = nothing;
  const auto alone = Terrain::make({fine}, {0, 0, 1, 1});
  REQUIRE(alone);
  CHECK(alone->height_m(GeoPoint{0.5, 0.5}) == 0);
  CHECK_FALSE(alone->knows(GeoPoint{0.5, 0.5}));
  CHECK(alone->void_share() == Approx(0.01));
  const Tile coarse{1, 0, 0.5, 0.5, 3, 3, std::vector<float>(9, 40.0F)};
  for (const auto& both : {std::vector{fine, coarse}, std::vector{coarse, fine}}) {
    const auto filled = Terrain::make(both, {0, 0, 1, 1});
    REQUIRE(filled);
    CHECK(filled->height_m(GeoPoint{0.5, 0.5}) == Approx(40));
    CHECK(filled->height_m(GeoPoint{0.3, 0.3}) == Approx(50));
    CHECK(filled->void_share() == 0);
  }
}

TEST_CASE("below the sea is the sea, but for those who stand there themselves", "[surface]") {
  const Tile bed{1, 0, 0.5, 0.5, 3, 3, {-90, -90, -90, 20, 20, 20, 20, 20, 20}};
  CHECK(Terrain::make({bed}, {0, 0, 1, 1})->height_m(GeoPoint{1, 0.5}) == 0);
  const Tile shore{1, 0, 0.5, 0.5, 3, 3, std::vector<float>(9, -400.0F)};
  CHECK(Terrain::make({shore}, {0, 0, 1, 1})->height_m(GeoPoint{0.5, 0.5}) == -400);
}

TEST_CASE("what cannot make a surface is said", "[surface][edge]") {
  CHECK_FALSE(Terrain::make({}, {0, 0, 1, 1}));
  const Tile far{51, 50, 0.5, 0.5, 3, 3, std::vector<float>(9, 1.0F)};
  CHECK_FALSE(Terrain::make({far}, {0, 0, 1, 1}));
  // Two corners of one file far apart in size: the fine lattice over all of the coarse one.
  const Tile fine{1, 0, 1e-5, 1e-5, 2, 2, std::vector<float>(4, 1.0F)};
  const Tile coarse{1, 0, 0.5, 0.5, 3, 3, std::vector<float>(9, 1.0F)};
  const auto much = Terrain::make({fine, coarse}, {0, 0, 1, 1});
  REQUIRE_FALSE(much);
  CHECK(
      much.error().to_line() ==
      "found 10000 million heights around the place; expected at most 120 million; take a coarser file, of 10 to 30 "
      "m, or cut a fine one to the island and leave the coarse one out");
}

TEST_CASE("no ground between two cells is higher than highest_m", "[surface][property]") {
  const auto at = GeoPoint::at_deg(46, 8);
  const auto s = test::terrain_of(at, 6, 3, test::rough(at));
  const auto low = s.cell_of(GeoPoint::at_deg(45.96, 7.94)), high = s.cell_of(GeoPoint::at_deg(46.03, 8.05));
  const double most = s.highest_m(low, high);
  double found = 0;
  for (double row = high.row; row <= low.row; row += 0.37) {
    for (double column = low.column; column <= high.column; column += 0.37)
      found = std::max(found, s.height_m(Terrain::Cell{column, row}));
  }
  CHECK(found <= most);
  CHECK(found > 0.5 * most);
}
