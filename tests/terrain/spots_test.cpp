#include "skerry/terrain/spots.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "check.hpp"
#include "cone.hpp"
#include "skerry/geodesy/path.hpp"

using namespace skerry;
using namespace skerry::terrain;
using geodesy::Spot;
using Kind = Spot::Kind;

namespace {

struct Found {
  Island island;
  Walks ways;
  std::vector<Spot> spots;
};

Found on_the_cone(const Wanted& wanted) {
  const auto start = geodesy::destination(cone_top, 270, 1.9);
  Found out{*island_about(cone(), start, 4.5), {}, {}};
  out.ways = walks(out.island);
  out.spots = spots_on(out.island, out.ways, start, wanted);
  return out;
}

long count(const std::vector<Spot>& spots, Kind kind) {
  return std::count_if(spots.begin(), spots.end(), [&](const Spot& s) { return s.kind == kind; });
}

}  // namespace

TEST_CASE("a cone has one summit, and a shore in each direction", "[terrain][known]") {
  // Geometry.
  Wanted wanted;
  wanted.walk_minutes = 300;
  const auto found = on_the_cone(wanted);
  REQUIRE(count(found.spots, Kind::summit) >= 1);
  const auto summit = std::find_if(found.spots.begin(), found.spots.end(),
                                   [](const Spot& s) { return s.kind == Kind::summit; });
  CHECK(geodesy::distance_km(summit->at, cone_top) < 0.05);
  CHECK_THAT(summit->height_m, WithinAbs(cone_m, 8));
  // The ridge comes down to the sea with nothing that stands above it; its foot is no summit.
  CHECK(count(found.spots, Kind::summit) == 1);
  REQUIRE(count(found.spots, Kind::shore) == 8);
  std::set<int> sectors;
  for (const auto& s : found.spots) {
    if (s.kind != Kind::shore) continue;
    CHECK_THAT(geodesy::distance_km(s.at, cone_top), WithinAbs(cone_km, 0.1));
    REQUIRE(s.faces_deg);
    const auto bearing = geodesy::make_path(cone_top, s.at, geodesy::Way::short_way).bearing_deg;
    CHECK(std::abs(std::remainder(*s.faces_deg - bearing, 360.0)) < 5);
    sectors.insert(static_cast<int>(wrap_360(*s.faces_deg + 22.5) / 45));
  }
  CHECK(sectors.size() == 8);
}

TEST_CASE("what lies beyond the walk is left out, but what is asked for stays", "[terrain][edge]") {
  Wanted wanted;
  wanted.walk_minutes = 20;
  wanted.listed = {{"the far side", geodesy::destination(cone_top, 90, 1.9)}};
  const auto found = on_the_cone(wanted);
  REQUIRE(found.spots.size() > 2);
  CHECK(found.spots[0].kind == Kind::planned);
  CHECK(found.spots[1].name == "the far side");
  CHECK(*found.spots[1].out_minutes > 40);
  for (std::size_t i = 2; i < found.spots.size(); ++i) CHECK(*found.spots[i].out_minutes <= 20);
  CHECK(count(found.spots, Kind::summit) == 0);
}

TEST_CASE("the net has no more knots than asked, and no place stands twice", "[terrain][property]") {
  for (const int most : {0, 1, 5, 16, 60}) {
    Wanted wanted;
    wanted.walk_minutes = 120;
    wanted.net = most;
    const auto found = on_the_cone(wanted);
    CHECK(count(found.spots, Kind::between) <= most);
    if (most >= 16) CHECK(count(found.spots, Kind::between) >= most / 3);
    std::set<std::size_t> cells;
    for (const auto& s : found.spots) CHECK(cells.insert(*found.island.grid.cell_at(s.at)).second);
  }
}
