// The same door where there is no libtiff: a program that carries its libraries within it.
#ifdef SKERRY_NO_TIFF
#include "skerry/relief/geotiff.hpp"
#include "skerry/relief/raster.hpp"

namespace skerry::relief {

Result<terrain::Tile> decode_geotiff(std::string_view, const std::string& name, const terrain::Box&) {
  return fail({name}, "a GeoTIFF", "tiles as .hgt",
              "this program was built without the library that reads others");
}

struct RasterWriter::Inside {};
RasterWriter::RasterWriter(std::unique_ptr<Inside> inside) : inside_(std::move(inside)) {}
RasterWriter::RasterWriter(RasterWriter&&) noexcept = default;
RasterWriter::~RasterWriter() = default;

Result<RasterWriter> RasterWriter::open(const Raster&) {
  return fail({"tif"}, "a GeoTIFF to write", "csv, geojson or svg",
              "this program was built without the library that writes it");
}
Result<bool> RasterWriter::put(std::span<const float>) {
  return false;
}
Result<std::string> RasterWriter::finish() {
  return std::string{};
}

}  // namespace skerry::relief
#endif
