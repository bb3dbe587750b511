#include "elevation.hpp"

#include <fmt/format.h>

#include <cmath>

#include "skerry/core/text.hpp"
#include "skerry/os/files.hpp"
#include "skerry/relief/geotiff.hpp"

namespace skerry::cli {

namespace {

/// Judgement: a country's map at 1 arc-second; larger ones are cut before they are carried about.
constexpr std::size_t most_bytes = 1UL << 30U;

std::string base(const std::string& file) {
  return os::path_of(file).filename().string();
}

bool is_geotiff(const std::string& file) {
  const auto name = lower(base(file));
  return name.ends_with(".tif") || name.ends_with(".tiff");
}

/// "S20E063"
std::string square_name(GeoPoint corner) {
  return fmt::format("{}{:02.0f}{}{:03.0f}", corner.lat_deg < 0 ? 'S' : 'N', std::abs(corner.lat_deg),
                     corner.lon_deg < 0 ? 'W' : 'E', std::abs(corner.lon_deg));
}

std::vector<std::string> squares_without(const std::vector<GeoPoint>& there, const terrain::Box& box) {
  std::vector<std::string> out;
  for (double lat = std::floor(box.south_deg); lat < box.north_deg; ++lat) {
    for (double lon = std::floor(box.west_deg); lon < box.east_deg; ++lon) {
      const GeoPoint corner{lat, lon < -180 ? lon + 360 : lon >= 180 ? lon - 360 : lon};
      if (std::find(there.begin(), there.end(), corner) == there.end()) out.push_back(square_name(corner));
    }
  }
  return out;
}

}  // namespace

Result<Elevation> read_elevation(const std::vector<std::string>& files, const std::string& shown,
                                 const terrain::Box& box, const Where& where) {
  std::vector<terrain::Tile> tiles;
  std::vector<std::string> used;
  std::vector<GeoPoint> corners;
  bool any = false, pictures = false;
  for (const auto& file : files) {
    const auto corner = terrain::hgt_corner(base(file));
    if (!corner && !is_geotiff(file)) continue;
    any = true;
    if (corner && !terrain::overlaps(*corner, box)) continue;
    const auto bytes = os::read_file(file, most_bytes, where);
    if (!bytes) return tl::unexpected(bytes.error());
    auto tile = corner ? terrain::decode_hgt(*bytes, base(file), box)
                       : relief::decode_geotiff(*bytes, base(file), box);
    if (!tile) {
      tile.error().found = fmt::format("{}: {}", base(file), tile.error().found);
      tile.error().where = where;
      return tl::unexpected(tile.error());
    }
    if (tile->height_m.empty()) continue;
    if (corner) corners.push_back(*corner);
    pictures = pictures || !corner;
    used.push_back(one_line(base(file)));
    tiles.push_back(std::move(*tile));
  }
  if (used.empty()) {
    return fail(where,
                fmt::format("'{}', which holds {}", one_line(shown),
                            any ? "no elevation file that reaches the place" : "no elevation files"),
                "HGT files, named as N19E063.hgt, or GeoTIFF (.tif) of the place and around it",
                "docs/terrain.md");
  }
  auto ground = terrain::Terrain::make(tiles, box);
  if (!ground) {
    ground.error().where = where;
    return tl::unexpected(ground.error());
  }
  return Elevation{std::move(*ground), std::move(used),
                   pictures ? std::vector<std::string>{} : squares_without(corners, box)};
}

Result<Elevation> read_elevation(const std::string& name, const terrain::Box& box, const Where& where) {
  const auto files = os::files_in(name, where);
  if (!files) return tl::unexpected(files.error());
  return read_elevation(*files, name, box, where);
}

Result<terrain::Around> look_around(const Elevation& elevation, GeoPoint at, const std::string& shown,
                                    const Where& where, const terrain::View& view) {
  auto out = terrain::around(elevation.ground, at, view);
  if (!out.known) {
    return fail(where, fmt::format("'{}', which has no height at {}", one_line(shown), geodesy::to_text(at)),
                "elevation files of the place itself",
                "the square degree may be missing, or have a void there");
  }
  return out;
}

}  // namespace skerry::cli
