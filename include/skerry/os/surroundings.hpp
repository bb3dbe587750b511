// What the program finds around it: the clock and the environment.
// Room: os. Sees core only.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "skerry/core/result.hpp"
#include "skerry/core/time.hpp"

namespace skerry::os {

/// To the second.
[[nodiscard]] UtcTime now();

/// A variable of the environment that is set and not empty.
[[nodiscard]] std::optional<std::string> variable(const char* name);

/// All variables whose names begin so, by name; also those that are set to nothing.
[[nodiscard]] std::vector<std::pair<std::string, std::string>> variables(std::string_view prefix);

/// $XDG_CONFIG_HOME/skerry/NAME, or ~/.config/skerry/NAME (Windows: skerry/NAME below %APPDATA%); none where neither is
/// known.
[[nodiscard]] std::optional<std::string> settings_file(const std::string& name);

/// What a trip file names, as it may: "config:NAME" is a file in one's own folder of settings, all else as
/// read_beside() (files.hpp) has it.
[[nodiscard]] Result<std::string> read_named(const std::string& named_by, const std::string& wanted,
                                             const Where& where, bool outside);

}  // namespace skerry::os
