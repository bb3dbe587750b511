// What the circuit method warns of, as sentences.
// Layer: words. Sees everything above it.
#pragma once

#include <string>
#include <vector>

#include "skerry/circuit/path_answer.hpp"
#include "skerry/ionosphere/activity.hpp"
#include "skerry/kit/trip.hpp"

namespace skerry::words {

/// One sentence, without a full stop.
[[nodiscard]] std::string warning_text(const circuit::Warning& warning);
/// The same.
[[nodiscard]] std::string caution_text(const circuit::Caution& caution);

/// The label that goes with every answer: "foF2 6.20 MHz measured at 20.1 S 57.5 E, 14:30 UTC: 1.12 times the
/// map there; half of that correction is left 1000 km or 4 h away, so the answer is for that day only". Empty
/// without readings; one such part each otherwise, with "; " between.
[[nodiscard]] std::string measured_note(const ionosphere::Climate& climate);

/// Where a trip's number for the Sun comes from: "built-in forecast of 2025-12-09".
[[nodiscard]] std::string activity_source(const ionosphere::ActivitySource& source);

/// What a log taught and is in use: for every answer in which it is. Empty: none is.
[[nodiscard]] std::string learned_note(const kit::Learned& learned);

/// How far a built-in forecast may be off, where more than a year lies between it and what was observed; else
/// empty.
[[nodiscard]] std::string activity_note(const ionosphere::Activity& activity);

/// All of an answer: readings of foF2 in use, what its ways call for, the asker's note.
[[nodiscard]] std::vector<std::string> caution_texts(const circuit::PathAnswer& answer);

}  // namespace skerry::words
