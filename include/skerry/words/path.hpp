// A path in words. Computes nothing; same input, same bytes.
// Layer: words. Sees everything above it.
#pragma once

#include <string>

#include "skerry/circuit/path_answer.hpp"
#include "skerry/words/style.hpp"

namespace skerry::words {

[[nodiscard]] std::string path_text(const circuit::PathAnswer& answer, const Style& style);
/// One hour and frequency of every way, every term of it. hour 0..23, frequency an index into the question's.
[[nodiscard]] std::string ledger_text(const circuit::PathAnswer& answer, std::size_t hour,
                                      std::size_t frequency);

}  // namespace skerry::words
