// What of GeoTIFF reader and writer share. Layer: relief, private.
#pragma once

#include <tiffio.h>

#include <cstdint>
#include <memory>

namespace skerry::relief {

struct Close {
  void operator()(TIFF* tiff) const { TIFFClose(tiff); }
};
using Handle = std::unique_ptr<TIFF, Close>;

// Source: OGC 19-008r4, GeoTIFF 1.1.
inline constexpr std::uint32_t pixel_scale = 33550, tie_points = 33922, transformation = 34264,
                               key_directory = 34735;
inline constexpr int model_type = 1024, raster_type = 1025, geographic_type = 2048, angular_units = 2054,
                     projected_type = 3072, vertical_units = 4099;
inline constexpr int geographic = 2, pixel_is_area = 1, pixel_is_point = 2, wgs84 = 4326,
                     wgs84_with_height = 4979, degree = 9102, metre = 9001;
/// Source: the tags that open software writes nodata and names of bands to, as text (from memory).
inline constexpr std::uint32_t nodata_text = 42113, metadata_text = 42112;

}  // namespace skerry::relief
