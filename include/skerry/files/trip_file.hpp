// Reads a trip file, all its mistakes in one run, and writes a commented starter.
// Layer: files. Sees everything above it.
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "skerry/core/result.hpp"
#include "skerry/kit/trip.hpp"

namespace skerry::files {

/// Fetches a file that the trip names (a region's GeoJSON, a forecast), relative to the trip's folder. Given
/// by cli.
using FileReader = std::function<Result<std::string>(const std::string& name, const Where& where)>;

/// What elevation files that the trip names (`terrain`) say of a place. Given by cli.
using TerrainReader =
    std::function<Result<geodesy::Surroundings>(const std::string& name, GeoPoint at, const Where& where)>;

/// `text` is the file's content, `file` the name shown in messages. At most 1 MB.
[[nodiscard]] Checked<kit::Trip> read_trip(std::string_view text, const std::string& file,
                                           const FileReader& files, const TerrainReader& terrain = {});

/// What elevation files say as rows of a [[site]], "altitude_m = 398", and as the value of `terrain`, on one line: a
/// trip with it needs no such files.
[[nodiscard]] std::vector<std::string> toml_rows(const geodesy::Surroundings& surroundings);
[[nodiscard]] std::string to_toml(const geodesy::Surroundings& surroundings);
/// The trip file with that in the place of each name of such files, line for line the same: `trip` as read from it.
[[nodiscard]] std::string with_terrain(std::string text, const kit::Trip& trip);

/// Reads `[[antenna]]` tables only (for `skerry antenna FILE`): designs and point-by-point wires; the rest of
/// a trip file may be there.
[[nodiscard]] Checked<std::vector<kit::Antenna>> read_antennas(std::string_view text,
                                                               const std::string& file);

/// A commented starter trip, valid as it stands.
[[nodiscard]] std::string starter(std::string_view name, GeoPoint site, Day first_day);

}  // namespace skerry::files
