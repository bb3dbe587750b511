// The library of one's own things in words.
// Layer: words. Sees everything above it. Computes nothing.
#pragma once

#include <string>
#include <vector>

#include "skerry/kit/trip.hpp"

namespace skerry::words {

[[nodiscard]] std::string library_text(const std::vector<kit::LibraryEntry>& entries,
                                       const std::string& file);

}  // namespace skerry::words
