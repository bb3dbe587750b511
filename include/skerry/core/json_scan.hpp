// How deeply JSON text nests, asked before anything is built from it.
// Layer: core. Sees nothing.
#pragma once

#include <cstddef>
#include <optional>
#include <string_view>

namespace skerry {

/// Byte of the first bracket that opens more than `most` levels, if one does; strings are passed over. Any
/// bytes: what is no JSON is left to the parser.
[[nodiscard]] std::optional<std::size_t> too_deep(std::string_view json, int most);

}  // namespace skerry
