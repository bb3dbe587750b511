// Lessons of one path: a base case that works, and one thing changed at a time.
// Layer: cli (internal).
#pragma once

#include "skerry/circuit/explain.hpp"
#include "skerry/words/explain.hpp"

namespace skerry::cli {

/// Both places of the question lie apart; its first band is the lessons' own, the others make a lesson of the
/// band. Own antenna: a half-wave dipole 6 m up, cut for the band. Power, then solar activity, are raised in
/// steps until the base case works; `raised` says so.
[[nodiscard]] words::Worksheet worksheet(const circuit::ExplainQuestion& question);

}  // namespace skerry::cli
