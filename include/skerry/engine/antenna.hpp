// What `antenna` asks: gain against elevation for the antennas of a file.
// Layer: engine. Sees everything above it but os.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "skerry/kit/trip.hpp"
#include "skerry/words/antenna.hpp"

namespace skerry::engine {

/// Keys of the same names in JSON, options of the same names with dashes on the command line.
struct AntennaAsk {
  std::string id;  ///< only this one; empty: all
  std::vector<double> mhz{14.1};
  std::string ground = "average";
  std::optional<double> eps_r, sigma;  ///< a ground of one's own, both or none; S/m
  double height_m = 5.1, end_height_m = 1, far_height_m = 0;
  bool conductive = false;
  std::optional<double> standoff_m;
  std::string cable;  ///< empty: none
  double cable_m = 10;
  bool tuner = false;
  std::string shape;  ///< only this way of hanging; empty: all
  std::optional<double> sea_from_m;
  double slope_deg = 0;
  std::optional<double> toward_deg;  ///< 0..360; none: on every side
  bool explain = false;
};
/// One row for each antenna, way to hang it and frequency, in this order; mistakes name the key in where.file.
/// Numbers must lie in their ranges (those of the options). `file` is the name shown where no antenna has the id.
[[nodiscard]] Result<std::vector<words::AntennaRow>> antenna_rows(const std::vector<kit::Antenna>& antennas,
                                                                  const AntennaAsk& ask,
                                                                  const std::string& file);

}  // namespace skerry::engine
