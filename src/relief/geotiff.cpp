// Not in a program that carries its libraries within it: without.cpp.
#ifndef SKERRY_NO_TIFF
#include "skerry/relief/geotiff.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstring>
#include <limits>
#include <optional>

#include "skerry/core/text.hpp"
#include "skerry/terrain/terrain.hpp"
#include "tags.hpp"

namespace skerry::relief {

namespace {

using terrain::Tile;

/// Judgement: no honest strip or tile is larger; a hostile one must not take the machine's memory.
constexpr tmsize_t largest_piece = 512L << 20;

/// The values of a tag that libtiff has no name for; none where it is absent or of another type.
template <class T>
std::vector<T> values_of(TIFF* tiff, std::uint32_t tag, TIFFDataType type) {
  const TIFFField* field = TIFFFindField(tiff, tag, TIFF_ANY);
  if (field == nullptr || TIFFFieldDataType(field) != type || TIFFFieldPassCount(field) == 0) return {};
  const void* data = nullptr;
  std::size_t count = 0;
  if (TIFFFieldReadCount(field) == TIFF_VARIABLE2) {
    std::uint32_t n = 0;
    if (TIFFGetField(tiff, tag, &n, &data) == 1) count = n;
  } else {
    std::uint16_t n = 0;
    if (TIFFGetField(tiff, tag, &n, &data) == 1) count = n;
  }
  if (data == nullptr) return {};
  std::vector<T> out(count);
  std::memcpy(out.data(), data, count * sizeof(T));
  return out;
}

constexpr const char* wanted = "latitude and longitude of WGS84 (EPSG:4326), metres";
constexpr const char* convert = "any program for maps converts it to EPSG:4326";

/// A short key's value, of those that stand in the directory itself.
std::optional<int> key(const std::vector<std::uint16_t>& directory, int wanted_key) {
  for (std::size_t i = 4; i + 3 < directory.size(); i += 4) {
    if (directory[i] == wanted_key && directory[i + 1] == 0) return directory[i + 3];
  }
  return std::nullopt;
}

/// Where its heights lie.
Result<Tile> placed(TIFF* tiff, const std::string& name) {
  const auto keys = values_of<std::uint16_t>(tiff, key_directory, TIFF_SHORT);
  const auto scale = values_of<double>(tiff, pixel_scale, TIFF_DOUBLE);
  const auto ties = values_of<double>(tiff, tie_points, TIFF_DOUBLE);
  if (keys.size() < 4)
    return fail({name}, "a TIFF that does not say where on the Earth it lies (no GeoKeyDirectory)", wanted,
                convert);
  const auto model = key(keys, model_type);
  if (model != geographic) {
    const auto projected = key(keys, projected_type);
    return fail({name},
                projected ? fmt::format("a map in a projection (EPSG:{})", *projected)
                          : "a map that is no grid of degrees",
                wanted, convert);
  }
  const auto datum = key(keys, geographic_type);
  if (datum && datum != wgs84 && datum != wgs84_with_height)
    return fail({name}, fmt::format("degrees of another datum (EPSG:{})", *datum), wanted, convert);
  if (!datum) return fail({name}, "degrees of an unnamed datum", wanted, convert);
  if (const auto unit = key(keys, angular_units); unit && unit != degree)
    return fail({name}, fmt::format("angles in another unit (EPSG:{})", *unit), wanted, convert);
  if (const auto unit = key(keys, vertical_units); unit && unit != metre)
    return fail({name}, fmt::format("heights in another unit (EPSG:{})", *unit), wanted, convert);
  if (scale.size() < 2 || ties.size() != 6) {
    const bool matrix = TIFFFindField(tiff, transformation, TIFF_ANY) != nullptr;
    return fail({name}, matrix ? "a grid laid out by a matrix" : "no ModelPixelScale with one ModelTiepoint",
                "north up, by scale and one tie point", convert);
  }
  const bool numbers = std::isfinite(scale[0]) && std::isfinite(scale[1]) &&
                       std::ranges::all_of(ties, [](double x) { return std::isfinite(x); });
  // Judgement: a tenth of a second is 3 m; a degree has no mountains.
  if (!numbers || !(scale[0] > 1e-6 && scale[0] <= 0.1 && scale[1] > 1e-6 && scale[1] <= 0.1))
    return fail({name}, fmt::format("steps of {:g} and {:g} degrees", scale[0], scale[1]),
                "0.000001 to 0.1 degrees");
  const double half = key(keys, raster_type) == pixel_is_point ? 0 : 0.5;
  Tile out;
  out.lon_step_deg = scale[0];
  out.lat_step_deg = scale[1];
  out.west_deg = ties[3] + (half - ties[0]) * scale[0];
  out.north_deg = ties[4] - (half - ties[1]) * scale[1];
  std::uint32_t width = 0, length = 0;
  TIFFGetField(tiff, TIFFTAG_IMAGEWIDTH, &width);
  TIFFGetField(tiff, TIFFTAG_IMAGELENGTH, &length);
  constexpr std::uint32_t most_side = 1000000;
  if (width < 2 || length < 2 || width > most_side || length > most_side)
    return fail({name}, fmt::format("{} by {} heights", width, length),
                fmt::format("2 to {} each way", most_side));
  out.columns = static_cast<int>(width);
  out.rows = static_cast<int>(length);
  if (out.north_deg > 90.01 || out.south_deg() < -90.01 || std::abs(out.west_deg) > 361 ||
      out.east_deg() - out.west_deg > 360.01) {
    return fail({name},
                fmt::format("heights from {:g},{:g} to {:g},{:g}", out.south_deg(), out.west_deg,
                            out.north_deg, out.east_deg()),
                "a place on the Earth, in degrees");
  }
  return out;
}

enum class Sample { signed_16, unsigned_16, float_32 };

Result<Sample> sample_of(TIFF* tiff, const std::string& name) {
  std::uint16_t samples = 1, bits = 1, format = SAMPLEFORMAT_UINT, compression = COMPRESSION_NONE;
  TIFFGetFieldDefaulted(tiff, TIFFTAG_SAMPLESPERPIXEL, &samples);
  TIFFGetFieldDefaulted(tiff, TIFFTAG_BITSPERSAMPLE, &bits);
  TIFFGetFieldDefaulted(tiff, TIFFTAG_SAMPLEFORMAT, &format);
  TIFFGetFieldDefaulted(tiff, TIFFTAG_COMPRESSION, &compression);
  if (TIFFIsCODECConfigured(compression) == 0)
    return fail({name}, fmt::format("compression {}", compression),
                "one that this libtiff knows, as deflate or LZW");
  if (samples == 1 && bits == 16 && format == SAMPLEFORMAT_INT) return Sample::signed_16;
  if (samples == 1 && bits == 16 && format == SAMPLEFORMAT_UINT) return Sample::unsigned_16;
  if (samples == 1 && bits == 32 && format == SAMPLEFORMAT_IEEEFP) return Sample::float_32;
  return fail({name}, fmt::format("{} samples a pixel of {} bits, format {}", samples, bits, format),
              "one height a pixel: int16, uint16 or float32",
              "a shaded or coloured picture holds no heights");
}

/// One height out of decoded bytes.
class Heights {
 public:
  Heights(Sample sample, std::optional<double> nodata) : sample_(sample), nodata_(nodata) {}
  [[nodiscard]] std::size_t bytes() const { return sample_ == Sample::float_32 ? 4 : 2; }
  [[nodiscard]] float at(const std::vector<char>& piece, std::size_t index) const {
    const char* from = piece.data() + index * bytes();
    switch (sample_) {
      case Sample::signed_16:
        return height(read<std::int16_t>(from));
      case Sample::unsigned_16:
        return height(read<std::uint16_t>(from));
      case Sample::float_32:
        return height(read<float>(from));
    }
    return height(std::numeric_limits<float>::quiet_NaN());
  }

 private:
  template <class T>
  static T read(const char* from) {
    T out{};
    std::memcpy(&out, from, sizeof out);
    return out;
  }
  template <class T>
  [[nodiscard]] float height(T value) const {
    const bool nothing = nodata_ && static_cast<T>(*nodata_) == value;
    return nothing || terrain::is_void(static_cast<double>(value)) ? std::numeric_limits<float>::quiet_NaN()
                                                                   : static_cast<float>(value);
  }
  Sample sample_;
  std::optional<double> nodata_;
};

std::optional<double> nodata_of(TIFF* tiff, Sample sample) {
  auto text = values_of<char>(tiff, nodata_text, TIFF_ASCII);
  const auto end = std::find(text.begin(), text.end(), '\0');
  const auto value =
      to_number(trim(std::string_view(text.data(), static_cast<std::size_t>(end - text.begin()))));
  if (!value) return std::nullopt;  // "nan" is a void as it is
  // What the sample cannot be, no height is.
  if (sample == Sample::signed_16 && !(*value >= -32768 && *value <= 32767)) return std::nullopt;
  if (sample == Sample::unsigned_16 && !(*value >= 0 && *value <= 65535)) return std::nullopt;
  if (std::abs(*value) > static_cast<double>(std::numeric_limits<float>::max())) return std::nullopt;
  return value;
}

/// The cut out part, piece by piece as the file has it.
bool read_cut(TIFF* tiff, const terrain::Cut& cut, const Heights& heights, Tile& out) {
  const bool tiled = TIFFIsTiled(tiff) != 0;
  std::uint32_t width = 0, length = 0, picture_width = 0, picture_length = 0;
  TIFFGetField(tiff, TIFFTAG_IMAGEWIDTH, &picture_width);
  TIFFGetField(tiff, TIFFTAG_IMAGELENGTH, &picture_length);
  if (tiled) {
    TIFFGetField(tiff, TIFFTAG_TILEWIDTH, &width);
    TIFFGetField(tiff, TIFFTAG_TILELENGTH, &length);
  } else {
    width = picture_width;
    TIFFGetFieldDefaulted(tiff, TIFFTAG_ROWSPERSTRIP, &length);
    length = std::min(length, picture_length);
  }
  const tmsize_t size = tiled ? TIFFTileSize(tiff) : TIFFStripSize(tiff);
  if (width == 0 || length == 0 || size <= 0 || size > largest_piece) return false;
  std::vector<char> piece(static_cast<std::size_t>(size));
  const auto first_row = static_cast<std::uint32_t>(cut.first_row),
             first_column = static_cast<std::uint32_t>(cut.first_column);
  const auto end_row = first_row + static_cast<std::uint32_t>(cut.rows);
  const auto end_column = first_column + static_cast<std::uint32_t>(cut.columns);
  for (std::uint32_t top = first_row / length * length; top < end_row; top += length) {
    for (std::uint32_t left = first_column / width * width; left < end_column; left += width) {
      const auto got =
          tiled ? TIFFReadEncodedTile(tiff, TIFFComputeTile(tiff, left, top, 0, 0), piece.data(), size)
                : TIFFReadEncodedStrip(tiff, TIFFComputeStrip(tiff, top, 0), piece.data(), size);
      const auto rows = tiled ? length : std::min(length, picture_length - top);
      if (got < 0 || static_cast<std::size_t>(got) < static_cast<std::size_t>(rows) * width * heights.bytes())
        return false;
      for (std::uint32_t r = std::max(top, first_row); r < std::min(top + rows, end_row); ++r) {
        for (std::uint32_t c = std::max(left, first_column); c < std::min(left + width, end_column); ++c) {
          out.height_m[static_cast<std::size_t>(r - first_row) * static_cast<std::size_t>(cut.columns) +
                       (c - first_column)] =
              heights.at(piece, static_cast<std::size_t>(r - top) * width + (c - left));
        }
      }
    }
  }
  return true;
}

}  // namespace

Result<Tile> decode_geotiff(std::string_view bytes, const std::string& file, const terrain::Box& box) {
  const std::string name = one_line(file);
  Memory<std::string_view> source{bytes};
  const auto broken = [&] {
    return fail({name},
                source.complaint.empty() ? "a broken TIFF" : "a broken TIFF: " + one_line(source.complaint),
                "a whole GeoTIFF file", "copy it again: it may have been cut short");
  };
  const Handle tiff = source.open("rm", largest_piece);  // m: no mapping, there is no file
  if (!tiff) return broken();
  const auto sample = sample_of(tiff.get(), name);
  if (!sample) return tl::unexpected(sample.error());
  auto whole = placed(tiff.get(), name);
  if (!whole) return tl::unexpected(whole.error());
  whole->west_deg += terrain::turns_into(box, whole->west_deg, whole->east_deg());
  const auto cut = terrain::cut_out(*whole, box);
  Tile out = terrain::cropped(*whole, cut);
  if (cut.empty()) return out;
  const double count = static_cast<double>(cut.rows) * cut.columns;
  if (count > terrain::Terrain::most_cells) {
    return fail({name}, fmt::format("{:.0f} million heights around the place", count / 1e6),
                fmt::format("at most {:.0f} million", terrain::Terrain::most_cells / 1e6),
                "take a coarser file, of 10 to 30 m");
  }
  out.height_m.assign(static_cast<std::size_t>(count), std::numeric_limits<float>::quiet_NaN());
  const Heights heights(*sample, nodata_of(tiff.get(), *sample));
  if (!read_cut(tiff.get(), cut, heights, out)) return broken();
  return out;
}

}  // namespace skerry::relief

#endif
