#include "skerry/terrain/walk.hpp"

#include <cmath>
#include <numbers>

#include "check.hpp"
#include "cone.hpp"
#include "skerry/geodesy/path.hpp"

using namespace skerry;
using namespace skerry::terrain;

TEST_CASE("the land of an island is what stands above the sea", "[terrain][known]") {
  // Geometry: a disc of 2 km.
  const auto island = island_about(cone(), cone_top, 3);
  REQUIRE(island);
  const double cell_km2 = island->grid.step_m * island->grid.step_m / 1e6;
  CHECK(static_cast<double>(island->land_cells) * cell_km2 ==
        Approx(std::numbers::pi * cone_km * cone_km).epsilon(0.02));
  CHECK(island->whole);
  CHECK_FALSE(island_about(cone(), cone_top, 1.5)->whole);
  // A start in the water is the next shore; one far out is none.
  const auto wet = island_about(cone(), geodesy::destination(cone_top, 270, cone_km + 0.2), 3);
  REQUIRE(wet);
  CHECK(wet->land[wet->start] != 0);
  const auto out = island_about(cone(), geodesy::destination(cone_top, 270, cone_km + 1), 1);
  REQUIRE_FALSE(out);
  CHECK(out.error().to_line().find("no land within 500 m") != std::string::npos);
}

TEST_CASE("a cell's place is where the cell is", "[terrain][property]") {
  const auto island = island_about(cone(), cone_top, 3);
  REQUIRE(island);
  for (std::size_t cell = 0; cell < island->grid.cells(); cell += 97)
    CHECK(island->grid.cell_at(island->grid.at(cell)) == cell);
  CHECK_FALSE(island->grid.cell_at(geodesy::destination(cone_top, 10, 5)));
  // Distances on the plane are those on the ground.
  for (std::size_t cell = 0; cell < island->grid.cells(); cell += 997) {
    const double plane_km = std::hypot(island->grid.east_m(cell), island->grid.north_m(cell)) / 1000;
    CHECK_THAT(geodesy::distance_km(cone_top, island->grid.at(cell)),
               WithinAbs(plane_km, 0.01 * plane_km + 1e-9));
  }
}

TEST_CASE("up a straight slope the walk is Naismith's", "[terrain][known]") {
  // Source: Naismith's rule, common practice in metres: 12 minutes a kilometre and 10 for every 100 m up. From the
  // western shore to the top: 1.9 km and 285 m up; down again only the distance counts.
  const auto shore = geodesy::destination(cone_top, 270, 1.9);
  const auto island = island_about(cone(), shore, 4.5);
  REQUIRE(island);
  const auto ways = walks(*island);
  const auto top = *island->grid.cell_at(cone_top);
  const double up_m =
      static_cast<double>(island->height_m[top]) - static_cast<double>(island->height_m[island->start]);
  CHECK_THAT(up_m, WithinAbs(285, 8));
  CHECK_THAT(static_cast<double>(ways.out_minutes[top]), WithinAbs(1.9 * 12 + up_m / 10, 1));
  CHECK_THAT(static_cast<double>(ways.back_minutes[top]), WithinAbs(1.9 * 12, 1));
  CHECK_THAT(static_cast<double>(ways.climb_m[top]), WithinAbs(up_m, 1));
  CHECK(ways.out_minutes[island->start] == 0);
}

TEST_CASE("nobody walks over the sea or up a wall", "[terrain][property]") {
  const auto island = island_about(cone(), geodesy::destination(cone_top, 270, 1.9), 4.5);
  REQUIRE(island);
  const auto ways = walks(*island);
  for (std::size_t cell = 0; cell < island->grid.cells(); ++cell) {
    if (island->land[cell] == 0) CHECK(std::isinf(ways.out_minutes[cell]));
    // No way is quicker than level ground as the crow flies.
    if (std::isfinite(ways.out_minutes[cell]))
      CHECK(static_cast<double>(ways.out_minutes[cell]) >=
            12 *
                    std::hypot(island->grid.east_m(cell) - island->grid.east_m(island->start),
                               island->grid.north_m(cell) - island->grid.north_m(island->start)) /
                    1000 -
                0.01);
  }
  // Walls: no single step rises more steeply than one walks.
  auto walled = *island;
  const int wall = walled.grid.column(walled.start) + 5;
  for (int r = 0; r < walled.grid.rows; ++r) {
    for (int c = wall; c < wall + 2; ++c) {
      const auto cell = walled.grid.index(c, r);
      if (walled.land[cell] != 0) walled.height_m[cell] += 200;
    }
  }
  const auto shut = walks(walled);
  CHECK(std::isinf(shut.out_minutes[*walled.grid.cell_at(cone_top)]));
}
