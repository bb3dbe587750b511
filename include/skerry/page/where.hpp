// The island with its places as a picture.
// Layer: page. Sees everything above it. Computes nothing but positions on paper.
#pragma once

#include <string>

#include "skerry/advice/elsewhere.hpp"
#include "skerry/terrain/island.hpp"

namespace skerry::page {

/// SVG 1.1: the land in grey by height, each place a disc with its value in percent, the better the darker, its number
/// in the list beside it, and at the rim where the regions lie. Same input, same bytes.
[[nodiscard]] std::string where_svg(const kit::Trip& trip, const terrain::Island& island,
                                    const advice::Elsewhere& answer);

}  // namespace skerry::page
