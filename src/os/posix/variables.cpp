#include <unistd.h>

#include <algorithm>
#include <cstdlib>

#include "skerry/os/surroundings.hpp"

namespace skerry::os {

std::optional<std::string> variable(const char* name) {
  const char* value = std::getenv(name);
  if (value == nullptr || *value == '\0') return std::nullopt;
  return value;
}

std::vector<std::pair<std::string, std::string>> variables(std::string_view prefix) {
  std::vector<std::pair<std::string, std::string>> out;
  for (char** at = environ; at != nullptr && *at != nullptr; ++at) {
    const std::string_view one = *at;
    const auto equals = one.find('=');
    if (one.starts_with(prefix) && equals != std::string_view::npos)
      out.emplace_back(one.substr(0, equals), one.substr(equals + 1));
  }
  std::sort(out.begin(), out.end());
  return out;
}

std::optional<std::string> settings_file(const std::string& name) {
  if (const auto base = variable("XDG_CONFIG_HOME")) return *base + "/skerry/" + name;
  if (const auto home = variable("HOME")) return *home + "/.config/skerry/" + name;
  return std::nullopt;
}

}  // namespace skerry::os
