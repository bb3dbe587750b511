// Pictures for a lesson: the hop table, and one path twice with one thing changed.
// Layer: page. Sees everything above it. Computes nothing.
#pragma once

#include <string>

#include "skerry/circuit/hop_table.hpp"
#include "skerry/words/contrast.hpp"

namespace skerry::page {

/// SVG 1.1, readable alone, with no font, style or script from elsewhere; same input, same bytes.
/// Take-off angle against the length of one hop, off both layers, with the table's rows as dots.
[[nodiscard]] std::string hop_table_svg(const circuit::HopTable& table);
/// Days in ten, bands by hours, the two cases one under the other in each band.
[[nodiscard]] std::string contrast_svg(const words::Contrast& contrast);

}  // namespace skerry::page
