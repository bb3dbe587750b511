// World coverage in words.
// Layer: words. Sees everything above it.
#pragma once

#include <string>

#include "skerry/circuit/coverage.hpp"

namespace skerry::words {

/// How a frequency is named in keys and titles: "20m", or "14.1MHz" outside the bands.
[[nodiscard]] std::string frequency_name(const circuit::PathQuestion::Frequency& frequency);

/// Share of the world's surface. `level` is the days in ten that the shares count.
[[nodiscard]] std::string map_text(const circuit::CoverageQuestion& question,
                                   const circuit::CoverageShare& share, double level);

}  // namespace skerry::words
