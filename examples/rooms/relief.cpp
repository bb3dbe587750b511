// What a file that is no GeoTIFF gets for an answer.
#include <fmt/format.h>

#include "skerry/relief/geotiff.hpp"

int main() {
  const auto box = skerry::terrain::box_about(skerry::GeoPoint::at_deg(-19.7, 63.43), 50);
  const auto tile = skerry::relief::decode_geotiff("heights", "island.tif", box);
  fmt::print("{}\n", tile ? "heights" : tile.error().to_line());
}
