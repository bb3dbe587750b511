// Each picture of a report as a file of its own.
// Layer: page. Sees everything above it. Computes nothing.
#pragma once

#include <string>
#include <vector>

#include "skerry/advice/picture.hpp"

namespace skerry::page {

struct NamedPicture {
  std::string name;  ///< of a file: a-z, 0-9 and '-', ending in ".svg"; no two alike
  std::string svg;
};

/// The chart of each map, the side view and the strip of each way at its best hour, every antenna pattern and
/// the frontier. Each is readable alone: title, units and key are inside, on white paper, with no font, style
/// or script from elsewhere; same input, same bytes.
///   source  SVG 1.1 (second edition); XML 1.0
[[nodiscard]] std::vector<NamedPicture> pictures(const kit::Trip& trip, const advice::Advice& advice,
                                                 const advice::Picture& picture);

}  // namespace skerry::page
