// What the circuit method warns of, as sentences.
// Layer: words. Sees everything above it.
#pragma once

#include <string>
#include <vector>

#include "skerry/circuit/path_answer.hpp"

namespace skerry::words {

/// One sentence, without a full stop.
[[nodiscard]] std::string warning_text(const circuit::Warning& warning);
/// The same.
[[nodiscard]] std::string caution_text(const circuit::Caution& caution);

/// All of an answer: readings of foF2 in use, what its ways call for, the asker's note.
[[nodiscard]] std::vector<std::string> caution_texts(const circuit::PathAnswer& answer);

}  // namespace skerry::words
