#include <cstdlib>

#include "skerry/os/surroundings.hpp"

namespace skerry::os {

std::optional<std::string> variable(const char* name) {
  const char* value = std::getenv(name);
  if (value == nullptr || *value == '\0') return std::nullopt;
  return value;
}

std::optional<std::string> settings_file(const std::string& name) {
  if (const auto base = variable("XDG_CONFIG_HOME")) return *base + "/skerry/" + name;
  if (const auto home = variable("HOME")) return *home + "/.config/skerry/" + name;
  return std::nullopt;
}

}  // namespace skerry::os
