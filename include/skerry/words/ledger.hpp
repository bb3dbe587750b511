// One hour and band taken apart.
// Room: words.
#pragma once

#include <string>

#include "skerry/circuit/path_answer.hpp"

namespace skerry::words {

/// One hour and frequency of one way, every term of it, without heading. hour 0..23, frequency an index into the
/// question's.
[[nodiscard]] std::string way_ledger(const circuit::PathAnswer& answer, const circuit::WayAnswer& way,
                                     std::size_t hour, std::size_t frequency);

}  // namespace skerry::words
