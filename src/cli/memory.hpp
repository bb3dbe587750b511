// Whether memory has run out on the way, where a standard stream may have kept it to itself.
// Layer: cli (internal).
#pragma once

namespace skerry::cli {

/// Throws std::bad_alloc where memory was refused since end_in_order_without_memory() was called. A standard
/// stream that finds no memory only marks itself bad and drops what it was given: asked before an answer is
/// handed on, this keeps half of one from passing for the whole.
void check_memory();

}  // namespace skerry::cli
