// The inventory as text, JSON and CSV.
// Layer: report. Sees everything above it.
#pragma once

#include <string>

#include "skerry/advice/kit_sheet.hpp"
#include "skerry/report/text.hpp"

namespace skerry::report {

[[nodiscard]] std::string kit_text(const kit::Trip& trip, const advice::KitSheet& sheet, const Style& style);
[[nodiscard]] std::string kit_json(const kit::Trip& trip, const advice::KitSheet& sheet);  ///< skerry.kit/1
/// One line per thing.
[[nodiscard]] std::string kit_csv(const kit::Trip& trip, const advice::KitSheet& sheet);

}  // namespace skerry::report
