#include "skerry/os/surroundings.hpp"

#include <chrono>
#include <string_view>

#include "skerry/os/files.hpp"

namespace skerry::os {

UtcTime now() {
  return std::chrono::floor<std::chrono::seconds>(std::chrono::system_clock::now());
}

Result<std::string> read_named(const std::string& named_by, const std::string& wanted, const Where& where,
                               bool outside) {
  // The one place outside: said so by the trip itself.
  constexpr std::string_view own = "config:";
  if (!wanted.starts_with(own)) return read_beside(named_by, wanted, where, outside);
  const auto name = wanted.substr(own.size());
  if (name.empty() || name.find_first_of("/\\") != std::string::npos || name == "..")
    return fail(where, "'" + wanted + "'", "config: and the name of a file in skerry's folder of settings");
  const auto file = settings_file(name);
  if (!file)
    return fail(where, "neither XDG_CONFIG_HOME nor HOME is set", "one of them, for '" + wanted + "'");
  return read_ordinary(*file, wanted, where);
}

}  // namespace skerry::os
