// What the circuit method warns of, as sentences.
// Layer: words. Sees everything above it.
#pragma once

#include <string>

#include "skerry/circuit/conditions.hpp"

namespace skerry::words {

/// One sentence, without a full stop.
[[nodiscard]] std::string warning_text(const circuit::Warning& warning);

}  // namespace skerry::words
