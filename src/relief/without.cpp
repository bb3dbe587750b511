// The same door where there is no libtiff: a program that carries its libraries within it.
#ifdef SKERRY_NO_TIFF
#include "skerry/relief/geotiff.hpp"

namespace skerry::relief {

Result<terrain::Tile> decode_geotiff(std::string_view, const std::string& name, const terrain::Box&) {
  return fail({name}, "a GeoTIFF", "tiles as .hgt",
              "this program was built without the library that reads others");
}

}  // namespace skerry::relief
#endif
