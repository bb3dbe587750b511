#include "skerry/forms/schema.hpp"

#include <algorithm>
#include <cassert>
#include <string_view>

#include "skerry/core/embedded.hpp"

namespace skerry::forms {

const std::vector<std::string>& schema_names() {
  static const std::vector<std::string> names = [] {
    constexpr std::string_view folder = "schemas/", ending = ".json";
    std::vector<std::string> out;
    for (const auto* entry = detail::embedded_entries; entry->name != nullptr; ++entry) {
      std::string_view name = entry->name;
      if (name.substr(0, folder.size()) != folder) continue;
      name.remove_prefix(folder.size());
      out.emplace_back(name.substr(0, name.size() - ending.size()));
    }
    std::sort(out.begin(), out.end());
    return out;
  }();
  return names;
}

std::string schema_text(const std::string& name) {
  assert(std::binary_search(schema_names().begin(), schema_names().end(), name));
  return std::string(embedded("schemas/" + name + ".json"));
}

}  // namespace skerry::forms
