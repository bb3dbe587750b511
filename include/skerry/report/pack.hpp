// The packing advice as text, JSON and CSV.
// Layer: report. Sees everything above it.
#pragma once

#include <string>

#include "skerry/advice/advise.hpp"
#include "skerry/report/text.hpp"

namespace skerry::report {

[[nodiscard]] std::string pack_text(const kit::Trip& trip, const advice::Advice& advice, const Style& style);
[[nodiscard]] std::string pack_json(const kit::Trip& trip, const advice::Advice& advice);  ///< skerry.pack/1
/// One line per region, hour and band under the packed kit.
[[nodiscard]] std::string pack_csv(const kit::Trip& trip, const advice::Advice& advice);

/// Lines of at most `columns` characters, broken at blanks, the later ones indented.
[[nodiscard]] std::string wrapped(std::string_view text, std::size_t columns, std::string_view first, std::string_view later);

}  // namespace skerry::report
