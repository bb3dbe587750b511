// Not in a program that carries its libraries within it: without.cpp.
#ifndef SKERRY_NO_TIFF
#include "skerry/relief/raster.hpp"

#include <fmt/format.h>

#include <array>
#include <cassert>
#include <cstring>

#include "skerry/core/markup.hpp"
#include "skerry/core/text.hpp"
#include "tags.hpp"

namespace skerry::relief {

namespace {

/// Tags that libtiff has no name for.
constexpr std::array fields{
    TIFFFieldInfo{pixel_scale, -1, -1, TIFF_DOUBLE, FIELD_CUSTOM, 1, 1, const_cast<char*>("ModelPixelScale")},
    TIFFFieldInfo{tie_points, -1, -1, TIFF_DOUBLE, FIELD_CUSTOM, 1, 1, const_cast<char*>("ModelTiepoint")},
    TIFFFieldInfo{key_directory, -1, -1, TIFF_SHORT, FIELD_CUSTOM, 1, 1,
                  const_cast<char*>("GeoKeyDirectory")},
    TIFFFieldInfo{metadata_text, -1, -1, TIFF_ASCII, FIELD_CUSTOM, 1, 0, const_cast<char*>("Metadata")},
    TIFFFieldInfo{nodata_text, -1, -1, TIFF_ASCII, FIELD_CUSTOM, 1, 0, const_cast<char*>("NoData")}};

std::string names_of(const std::vector<std::string>& bands) {
  std::string out = "<GDALMetadata>\n";
  for (std::size_t i = 0; i < bands.size(); ++i)
    out += fmt::format("  <Item name=\"DESCRIPTION\" sample=\"{}\" role=\"description\">{}</Item>\n", i,
                       xml_text(bands[i]));
  return out + "</GDALMetadata>\n";
}

bool set_all(TIFF* tiff, const Raster& r) {
  const std::array<double, 3> scale{r.step_deg, r.step_deg, 0};
  const std::array<double, 6> tie{0, 0, 0, r.west_deg, r.north_deg, 0};
  // The directory's version and the number of keys; then of each its name, place (0: here), count and value.
  // clang-format off
  const std::array<std::uint16_t, 20> keys{1, 1, 1, 4,
                                           model_type, 0, 1, geographic,
                                           raster_type, 0, 1, pixel_is_area,
                                           geographic_type, 0, 1, wgs84,
                                           angular_units, 0, 1, degree};
  // clang-format on
  const std::vector<std::uint16_t> more(r.bands.size() - 1, EXTRASAMPLE_UNSPECIFIED);
  const auto columns = static_cast<std::uint32_t>(r.columns), rows = static_cast<std::uint32_t>(r.rows);
  const auto bands = static_cast<std::uint16_t>(r.bands.size());
  const auto set = [&](std::uint32_t tag, auto... values) { return TIFFSetField(tiff, tag, values...) == 1; };
  return TIFFMergeFieldInfo(tiff, fields.data(), static_cast<std::uint32_t>(fields.size())) == 0 &&
         set(TIFFTAG_IMAGEWIDTH, columns) && set(TIFFTAG_IMAGELENGTH, rows) &&
         set(TIFFTAG_SAMPLESPERPIXEL, static_cast<int>(bands)) && set(TIFFTAG_BITSPERSAMPLE, 32) &&
         set(TIFFTAG_SAMPLEFORMAT, SAMPLEFORMAT_IEEEFP) && set(TIFFTAG_PHOTOMETRIC, PHOTOMETRIC_MINISBLACK) &&
         (more.empty() || set(TIFFTAG_EXTRASAMPLES, static_cast<int>(more.size()), more.data())) &&
         set(TIFFTAG_PLANARCONFIG, PLANARCONFIG_CONTIG) &&
         set(TIFFTAG_COMPRESSION, COMPRESSION_ADOBE_DEFLATE) &&
         set(TIFFTAG_PREDICTOR, PREDICTOR_FLOATINGPOINT) && set(TIFFTAG_ROWSPERSTRIP, std::uint32_t{1}) &&
         set(pixel_scale, static_cast<int>(scale.size()), scale.data()) &&
         set(tie_points, static_cast<int>(tie.size()), tie.data()) &&
         set(key_directory, static_cast<int>(keys.size()), keys.data()) && set(nodata_text, "nan") &&
         set(metadata_text, names_of(r.bands).c_str());
}

}  // namespace

struct RasterWriter::Inside {
  Memory<std::string> target;  // outlives the handle, which writes when it closes
  Handle tiff;
  Raster raster;
  std::uint32_t row = 0;
  std::vector<float> copy;  ///< libtiff's predictor works in what it is given

  [[nodiscard]] tl::unexpected<Error> broken() const {
    return fail({"tif"},
                target.complaint.empty() ? "a GeoTIFF that cannot be written" : one_line(target.complaint),
                "fewer bands, hours or cells");
  }
};

RasterWriter::RasterWriter(std::unique_ptr<Inside> inside) : inside_(std::move(inside)) {}
RasterWriter::RasterWriter(RasterWriter&&) noexcept = default;
RasterWriter::~RasterWriter() = default;

Result<RasterWriter> RasterWriter::open(const Raster& raster) {
  assert(raster.columns > 0 && raster.rows > 0 && !raster.bands.empty() && raster.bands.size() < 65536);
  auto inside = std::make_unique<Inside>();
  inside->raster = raster;
  inside->tiff = inside->target.open("wlm", 0);
  if (!inside->tiff || !set_all(inside->tiff.get(), raster)) return inside->broken();
  return RasterWriter(std::move(inside));
}

Result<bool> RasterWriter::put(std::span<const float> row) {
  assert(row.size() == static_cast<std::size_t>(inside_->raster.columns) * inside_->raster.bands.size());
  inside_->copy.assign(row.begin(), row.end());
  const auto size = static_cast<tmsize_t>(row.size_bytes());
  if (TIFFWriteEncodedStrip(inside_->tiff.get(), inside_->row++, inside_->copy.data(), size) != size)
    return inside_->broken();
  return true;
}

Result<std::string> RasterWriter::finish() {
  assert(inside_->row == static_cast<std::uint32_t>(inside_->raster.rows));
  if (TIFFFlush(inside_->tiff.get()) != 1) return inside_->broken();
  inside_->tiff.reset();
  return std::move(inside_->target.bytes);
}

}  // namespace skerry::relief

#endif
