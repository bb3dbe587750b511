// Elevation files: a folder of them, or one, and what they say of a place.
// Layer: cli (internal).
#pragma once

#include <string>
#include <vector>

#include "skerry/core/result.hpp"
#include "skerry/terrain/around.hpp"

namespace skerry::cli {

/// The ground about a place, and where it comes from.
struct Elevation {
  terrain::Terrain ground;
  std::vector<std::string> files;  ///< that have anything of it, without their folders
  std::vector<std::string>
      absent;  ///< square degrees of which there is no HGT file, where HGT files are all there is
};

/// HGT (.hgt) and GeoTIFF (.tif, .tiff) among these files, as far as they reach the box; others are passed over.
///   errors  none of them reaches it; a broken one: no ground rather than half of it
[[nodiscard]] Result<Elevation> read_elevation(const std::vector<std::string>& files,
                                               const std::string& shown, const terrain::Box& box,
                                               const Where& where);
/// The same of a folder or a file.
[[nodiscard]] Result<Elevation> read_elevation(const std::string& name, const terrain::Box& box,
                                               const Where& where);

/// What stands around a place that the files must have.
[[nodiscard]] Result<terrain::Around> look_around(const Elevation& elevation, GeoPoint at,
                                                  const std::string& shown, const Where& where,
                                                  const terrain::View& view = {});

}  // namespace skerry::cli
