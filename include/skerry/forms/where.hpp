// Which spot on the island, as JSON.
// Layer: forms. Sees everything above it.
#pragma once

#include <string>

#include "skerry/advice/elsewhere.hpp"

namespace skerry::forms {

[[nodiscard]] std::string where_json(const kit::Trip& trip,
                                     const advice::Elsewhere& answer);  ///< skerry.where/1

}  // namespace skerry::forms
