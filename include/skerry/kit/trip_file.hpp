// Reads a trip file, all its mistakes in one run, and writes a commented starter.
// Layer: kit. Sees everything above it.
#pragma once

#include <functional>
#include <string>
#include <string_view>

#include "skerry/core/result.hpp"
#include "skerry/kit/trip.hpp"

namespace skerry::kit {

/// Fetches a file that the trip names (a region's GeoJSON, a forecast), relative to the trip's folder. Given
/// by cli.
using FileReader = std::function<Result<std::string>(const std::string& name, const Where& where)>;

/// `text` is the file's content, `file` the name shown in messages. At most 1 MB.
[[nodiscard]] Checked<Trip> read_trip(std::string_view text, const std::string& file,
                                      const FileReader& files);

/// Reads `[[antenna]]` tables only (for `skerry antenna FILE`): designs and point-by-point wires; the rest of
/// a trip file may be there.
[[nodiscard]] Checked<std::vector<Antenna>> read_antennas(std::string_view text, const std::string& file);

/// So many classes noisier (negative: quieter), as far as there are classes.
[[nodiscard]] noise::Environment shifted(noise::Environment from, int classes_noisier);

/// A commented starter trip, valid as it stands.
[[nodiscard]] std::string starter(std::string_view name, GeoPoint site, Day first_day);

}  // namespace skerry::kit
