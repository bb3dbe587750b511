#include <algorithm>
#include <cstdlib>
#include <filesystem>

#include "skerry/os/surroundings.hpp"

namespace skerry::os {

std::optional<std::string> variable(const char* name) {
  const wchar_t* value = _wgetenv(std::filesystem::path(name).c_str());
  if (value == nullptr || *value == L'\0') return std::nullopt;
  return std::filesystem::path(value).string();
}

std::vector<std::pair<std::string, std::string>> variables(std::string_view prefix) {
  std::vector<std::pair<std::string, std::string>> out;
  (void)_wgetenv(L"PATH");  // the first question of its kind makes the table
  for (wchar_t** at = _wenviron; at != nullptr && *at != nullptr; ++at) {
    const auto one = std::filesystem::path(*at).string();
    const auto equals = one.find('=');
    if (one.starts_with(prefix) && equals != std::string::npos)
      out.emplace_back(one.substr(0, equals), one.substr(equals + 1));
  }
  std::sort(out.begin(), out.end());
  return out;
}

std::optional<std::string> settings_file(const std::string& name) {
  if (const auto base = variable("APPDATA")) return *base + "\\skerry\\" + name;
  return std::nullopt;
}

}  // namespace skerry::os
