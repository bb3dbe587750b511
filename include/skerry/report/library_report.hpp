// The library of one's own things as text, JSON and CSV.
// Layer: report. Sees everything above it. Computes nothing.
#pragma once

#include <string>
#include <vector>

#include "skerry/kit/library.hpp"

namespace skerry::report {

[[nodiscard]] std::string library_text(const std::vector<kit::LibraryEntry>& entries,
                                       const std::string& file);
/// skerry.library/1
[[nodiscard]] std::string library_json(const std::vector<kit::LibraryEntry>& entries);
[[nodiscard]] std::string library_csv(const std::vector<kit::LibraryEntry>& entries);

}  // namespace skerry::report
