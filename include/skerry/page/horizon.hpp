// The skyline about a place as a picture of its own.
// Layer: page. Sees everything above it. Computes nothing.
#pragma once

#include <string>

#include "skerry/words/horizon.hpp"

namespace skerry::page {

/// Round, as from above with the level at the rim, and unrolled, with the angles at which regions leave. On white
/// paper, with no font, style or script from elsewhere; same input, same bytes.
///   source  SVG 1.1 (second edition); XML 1.0
[[nodiscard]] std::string horizon_svg(const words::HorizonAnswer& answer);

}  // namespace skerry::page
