// What was written, read back: by our own reader of heights, and by libtiff's plain interface.
#include "skerry/relief/raster.hpp"

#include <tiffio.h>

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <limits>

#include "check.hpp"
#include "folder.hpp"
#include "skerry/relief/geotiff.hpp"

using namespace skerry;

namespace {

constexpr float none = std::numeric_limits<float>::quiet_NaN();

relief::Raster island(std::vector<std::string> bands) {
  return {6, 4, 66, -20, 0.05, std::move(bands)};
}
float value(int row, int column, std::size_t band) {
  if (row == 1 && column == 2) return none;
  return static_cast<float>(row) * 10 + static_cast<float>(column) + 0.1F * static_cast<float>(band);
}
std::string written(const relief::Raster& raster) {
  auto writer = relief::RasterWriter::open(raster);
  if (!writer) FAIL(writer.error().to_line());
  for (int r = 0; r < raster.rows; ++r) {
    std::vector<float> row;
    for (int c = 0; c < raster.columns; ++c) {
      for (std::size_t b = 0; b < raster.bands.size(); ++b) row.push_back(value(r, c, b));
    }
    REQUIRE(writer->put(row));
  }
  auto file = writer->finish();
  if (!file) FAIL(file.error().to_line());
  return *file;
}

}  // namespace

TEST_CASE("one band is read back as it was written, where it was written", "[raster][property]") {
  const auto file = written(island({"20m 06 UTC"}));
  const auto read = relief::decode_geotiff(file, "map.tif", {-25, 60, -15, 70});
  if (!read) FAIL(read.error().to_line());
  REQUIRE(read->columns == 6);
  REQUIRE(read->rows == 4);
  // The reader's corner is the middle of the first cell.
  CHECK(read->west_deg == Approx(66.025));
  CHECK(read->north_deg == Approx(-20.025));
  for (int r = 0; r < 4; ++r) {
    for (int c = 0; c < 6; ++c) {
      const float got = read->height_m[static_cast<std::size_t>(6 * r + c)];
      if (r == 1 && c == 2)
        CHECK(std::isnan(got));
      else
        CHECK(got == value(r, c, 0));
    }
  }
}

TEST_CASE("bands keep their order, and their names are well-formed XML", "[raster][known]") {
  const test::Folder folder("raster");
  const auto name = folder.file("map.tif");
  std::ofstream(name, std::ios::binary) << written(island({"20m 06 UTC", "a < b & c", "15m 06 UTC"}));
  TIFFSetWarningHandler(nullptr);  // it has no names for GeoTIFF's tags
  TIFF* tiff = TIFFOpen(name.c_str(), "r");
  REQUIRE(tiff != nullptr);
  std::uint16_t samples = 0, bits = 0, compression = 0;
  TIFFGetField(tiff, TIFFTAG_SAMPLESPERPIXEL, &samples);
  TIFFGetField(tiff, TIFFTAG_BITSPERSAMPLE, &bits);
  TIFFGetField(tiff, TIFFTAG_COMPRESSION, &compression);
  CHECK(samples == 3);
  CHECK(bits == 32);
  CHECK(compression == COMPRESSION_ADOBE_DEFLATE);
  std::vector<float> row(18);
  REQUIRE(TIFFReadScanline(tiff, row.data(), 2, 0) == 1);
  for (int c = 0; c < 6; ++c) {
    for (std::size_t b = 0; b < 3; ++b) CHECK(row[static_cast<std::size_t>(3 * c) + b] == value(2, c, b));
  }
  const auto text_of = [&](std::uint32_t tag) {
    std::uint32_t count = 0;
    const char* text = nullptr;
    return TIFFGetField(tiff, tag, &count, &text) == 1 ? std::string(text) : std::string{};
  };
  // Source: tags 42112 and 42113 as open software has them (from memory).
  const auto names = text_of(42112);
  CHECK(names.rfind("<GDALMetadata>", 0) == 0);
  CHECK(names.find("sample=\"1\" role=\"description\">a &lt; b &amp; c</Item>") != std::string::npos);
  CHECK(text_of(42113) == "nan");
  TIFFClose(tiff);
}
