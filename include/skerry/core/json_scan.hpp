// How deeply JSON text nests, asked before anything is built from it.
// Layer: core. Sees nothing.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>

namespace skerry {

/// Byte of the first bracket that opens more than `most` levels, if one does; strings are passed over. Any
/// bytes: what is no JSON is left to the parser.
[[nodiscard]] std::optional<std::size_t> too_deep(std::string_view json, int most);

/// What stands under a key of a JSON object, as written but for blanks outside strings; empty: no such key. Of
/// a key twice the first. The text must be well-formed JSON; a key written with escapes is not seen.
[[nodiscard]] std::string member_text(std::string_view object, std::string_view key);

}  // namespace skerry
