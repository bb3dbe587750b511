#include "skerry/core/embedded.hpp"

#include <cstdio>
#include <cstdlib>
#include <map>
#include <mutex>
#include <string>

namespace skerry {

std::string detail::by_rows(std::string_view columns, std::size_t row_bytes) {
  std::string out(columns.size(), '\0');
  auto from = columns.begin();
  for (std::size_t column = 0; column < row_bytes; ++column) {
    for (std::size_t at = column; at < out.size(); at += row_bytes) out[at] = *from++;
  }
  return out;
}

std::string_view embedded_if(std::string_view name) {
  for (const auto* entry = detail::embedded_entries; entry->name != nullptr; ++entry) {
    if (name != entry->name) continue;
    const std::string_view bytes(entry->begin, static_cast<std::size_t>(entry->end - entry->begin));
    if (entry->row_bytes == 1) return bytes;
    static std::mutex alone;
    static std::map<const char*, std::string> made;
    const std::lock_guard lock(alone);
    auto& whole = made[entry->name];
    if (whole.empty()) whole = detail::by_rows(bytes, entry->row_bytes);
    return whole;
  }
  return {};
}

std::string_view embedded(std::string_view name) {
  const auto found = embedded_if(name);
  if (found.data() != nullptr) return found;
  std::fprintf(stderr, "skerry: internal error: no embedded data file '%s'\n", std::string(name).c_str());
  std::abort();
}

}  // namespace skerry
