// The inventory in words.
// Layer: words. Sees everything above it.
#pragma once

#include <string>

#include "skerry/advice/kit_sheet.hpp"
#include "skerry/words/path.hpp"

namespace skerry::words {

[[nodiscard]] std::string kit_text(const kit::Trip& trip, const advice::KitSheet& sheet, const Style& style);

/// The bag's name, or its id where it has none.
[[nodiscard]] std::string bag_name(const kit::Bag& bag);

}  // namespace skerry::words
