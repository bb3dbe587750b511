// World coverage as CSV and GeoJSON, part by part.
// Layer: forms. Sees everything above it.
#pragma once

#include <string>

#include "skerry/circuit/coverage.hpp"

namespace skerry::forms {

/// RFC 4180, a row for each cell, hour and frequency; signal-to-noise ratios are empty where nothing
/// propagates.
[[nodiscard]] std::string map_csv_head();
[[nodiscard]] std::string map_csv(const circuit::CoverageQuestion& question,
                                  const circuit::CoveragePart& part);

/// RFC 7946: a point feature for each cell that opens at all, with numbers a mapping program can colour by
/// (best_days_20m, best_utc_hour_20m) and lists over the question's hours (days_in_ten_20m both ways,
/// snr_db_20m). Head, the features of each part, and tail make one FeatureCollection; the site itself is the
/// first feature.
[[nodiscard]] std::string map_geojson_head(const circuit::CoverageQuestion& question);
[[nodiscard]] std::string map_geojson(const circuit::CoverageQuestion& question,
                                      const circuit::CoveragePart& part);
[[nodiscard]] std::string map_geojson_tail();

}  // namespace skerry::forms
