// A grid of numbers over the Earth as GeoTIFF, for programs that make maps. Layer: relief. Sees core.
#pragma once

#include <memory>
#include <span>
#include <string>
#include <vector>

#include "skerry/core/result.hpp"

namespace skerry::relief {

/// Cells of equal steps in degrees of WGS84, north up.
struct Raster {
  int columns = 0, rows = 0;           ///< at least 1
  double west_deg = 0, north_deg = 0;  ///< of the outer corner
  double step_deg = 1;                 ///< > 0
  std::vector<std::string> bands;      ///< their names; at least one, at most 65535
};

/// Writes one row by row, so that no more than one row and the packed file are in memory.
class RasterWriter {
 public:
  ///   errors  a program without libtiff; what libtiff cannot do
  [[nodiscard]] static Result<RasterWriter> open(const Raster& raster);
  RasterWriter(RasterWriter&&) noexcept;
  RasterWriter& operator=(RasterWriter&&) = delete;
  ~RasterWriter();
  /// The next row from the north: values [column * bands + band], columns * bands of them (asserted). NaN: none.
  [[nodiscard]] Result<bool> put(std::span<const float> row);
  /// The file, after the last row.
  ///   form    float32, bands side by side, a row a strip, deflate with the predictor of section 14 of the supplement;
  ///           EPSG:4326 by ModelPixelScale, ModelTiepoint and GeoKeyDirectory; "nan" as the text of tag 42113
  ///           (nodata), the bands' names as <GDALMetadata> in tag 42112
  ///   source  TIFF 6.0 with Technical Note 3 (floating point predictor); OGC 19-008r4, GeoTIFF 1.1; the two tags
  ///           of open software (from memory)
  [[nodiscard]] Result<std::string> finish();

 private:
  struct Inside;
  explicit RasterWriter(std::unique_ptr<Inside> inside);
  std::unique_ptr<Inside> inside_;
};

}  // namespace skerry::relief
