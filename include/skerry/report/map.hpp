// World coverage as CSV, GeoJSON and a picture.
// Layer: report. Sees everything above it.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "skerry/advice/coverage.hpp"

namespace skerry::report {

/// RFC 4180, a row for each cell, hour and frequency; signal-to-noise ratios are empty where nothing
/// propagates.
[[nodiscard]] std::string map_csv_head();
[[nodiscard]] std::string map_csv(const advice::CoverageQuestion& question, const advice::CoveragePart& part);

/// RFC 7946: a point feature for each cell that opens at all, with numbers a mapping program can colour by
/// (best_days_20m, best_utc_hour_20m) and lists over the question's hours (days_in_ten_20m both ways,
/// snr_db_20m). Head, the features of each part, and tail make one FeatureCollection; the site itself is the
/// first feature.
[[nodiscard]] std::string map_geojson_head(const advice::CoverageQuestion& question);
[[nodiscard]] std::string map_geojson(const advice::CoverageQuestion& question,
                                      const advice::CoveragePart& part);
[[nodiscard]] std::string map_geojson_tail();

/// How a frequency is named in keys and titles: "20m", or "14.1MHz" outside the bands.
[[nodiscard]] std::string frequency_name(const advice::PathQuestion::Frequency& frequency);

/// Colour classes of a cell: days in ten both ways, rounded; or nothing propagates.
inline constexpr std::uint8_t closed_class = 255;
[[nodiscard]] std::uint8_t days_class(const advice::CoverageValue& value);

/// All that the picture shows, gathered.
struct MapSheet {
  advice::CoverageQuestion question;
  std::string site_name;                     ///< as the user wrote it, or empty
  std::vector<std::uint8_t> classes;         ///< [hour][frequency][cell]
  std::vector<std::vector<GeoPoint>> coast;  ///< rings
  struct Night {
    std::vector<GeoPoint> edge;  ///< the terminator, any order of points
    bool north_dark = false;     ///< the north pole lies in the night
  };
  std::vector<Night> nights;  ///< per hour
};
/// SVG 1.1, one small world (equirectangular) for each hour and frequency; same input, same bytes.
[[nodiscard]] std::string map_svg(const MapSheet& sheet);

/// "#rrggbb" of 0..10 days in ten. 0 is the paper; 1 to 10 go down an even stair of lightness from pale
/// yellow to deep blue, so that the order survives any colour blindness and a black-and-white printer.
///   source   B. Ottosson, "A perceptual color space for image processing", 2020 (OKLab; matrices from
///   memory, checked by tests)
[[nodiscard]] std::string days_colour(int days);

/// Share of the world's surface in words and JSON (skerry.map/1). `level` is the days in ten that the shares
/// count.
[[nodiscard]] std::string map_text(const advice::CoverageQuestion& question,
                                   const advice::CoverageShare& share, double level);
[[nodiscard]] std::string map_json(const advice::CoverageQuestion& question,
                                   const advice::CoverageShare& share, double level);

}  // namespace skerry::report
