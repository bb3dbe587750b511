// The skyline about a hill that a small grid of heights makes.
#include <fmt/format.h>

#include "skerry/terrain/around.hpp"

int main() {
  using namespace skerry::terrain;
  const auto at = skerry::GeoPoint::at_deg(0.05, 0.05);
  Tile tile{0.1, 0.0, 0.001, 0.001, 101, 101, std::vector<float>(101 * 101, 20.0F)};
  for (std::size_t row = 0; row < 101; ++row)
    tile.height_m[row * 101 + 70] = 300;  // a wall, 2.2 km to the east
  const auto terrain = Terrain::make({tile}, box_about(at, 5));
  if (!terrain) return 1;
  View view;
  view.azimuths = 4;
  view.reach_km = 5;
  const auto east = around(*terrain, at, view).skyline[1];
  fmt::print("east: {:.1f} degrees, {:.1f} km away\n", east.deg, east.km);
}
