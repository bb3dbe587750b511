// Heights out of GeoTIFF, by libtiff and three tags. Layer: relief. Sees geodesy and terrain.
#pragma once

#include <string>
#include <string_view>

#include "skerry/terrain/tile.hpp"

namespace skerry::relief {

/// The part of the picture that the box needs; without anything of it, no rows. Accepted: one sample a pixel, in metres,
/// of int16, uint16 or float32, in strips or tiles, whatever of libtiff's compressions; latitude and longitude of
/// WGS84, north up. Infinite, unlikely (terrain::is_void) and nodata (tag 42113) heights are voids.
///   errors  anything else, and what is broken, named by `name`; libtiff itself says nothing
///   source  OGC 19-008r4, GeoTIFF 1.1: tags ModelPixelScale 33550, ModelTiepoint 33922, GeoKeyDirectory 34735 and the
///           keys read from it; TIFF 6.0 (from memory)
[[nodiscard]] Result<terrain::Tile> decode_geotiff(std::string_view bytes, const std::string& name,
                                                   const terrain::Box& box);

}  // namespace skerry::relief
