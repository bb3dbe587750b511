#include "skerry/core/hash.hpp"

#include <fmt/format.h>

#include <cstdint>

namespace skerry {

std::string content_hash(std::string_view text) {
  std::string out;
  for (std::uint64_t hash : {0xcbf29ce484222325ULL, 0x84222325cbf29ce4ULL}) {
    for (const char c : text) {
      hash ^= static_cast<unsigned char>(c);
      hash *= 0x100000001b3ULL;
    }
    out += fmt::format("{:016x}", hash);
  }
  return out;
}

}  // namespace skerry
