#include "skerry/core/embedded.hpp"

#include <cstdio>
#include <cstdlib>
#include <string>

namespace skerry {

std::string_view embedded_if(std::string_view name) {
  for (const auto* entry = detail::embedded_entries; entry->name != nullptr; ++entry) {
    if (name == entry->name) return {entry->begin, static_cast<std::size_t>(entry->end - entry->begin)};
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
