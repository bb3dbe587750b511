#include <filesystem>

#include "skerry/os/surroundings.hpp"

namespace skerry::os {

std::optional<std::string> variable(const char* name) {
  const wchar_t* value = _wgetenv(std::filesystem::path(name).c_str());
  if (value == nullptr || *value == L'\0') return std::nullopt;
  return std::filesystem::path(value).string();
}

std::optional<std::string> settings_file(const std::string& name) {
  if (const auto base = variable("APPDATA")) return *base + "\\skerry\\" + name;
  return std::nullopt;
}

}  // namespace skerry::os
