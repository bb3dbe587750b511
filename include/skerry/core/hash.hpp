// A text's fingerprint, to tell one from another; no secret is kept by it.
// Layer: core. Sees nothing.
#pragma once

#include <string>
#include <string_view>

namespace skerry {

/// 32 hexadecimal digits: FNV-1a (Fowler, Noll, Vo; constants from memory), 64 bits, from its own starting
/// value and from another.
[[nodiscard]] std::string content_hash(std::string_view text);

}  // namespace skerry
