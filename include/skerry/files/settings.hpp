// What somebody sets down for every run, in a TOML file: `format = "json"` for all commands, [pack] for one.
// Layer: files. Sees core.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "skerry/core/result.hpp"

namespace skerry::files {

struct PlacedSetting {
  std::string table;  ///< empty: at the top
  std::string key;
  std::vector<std::string> values;  ///< numbers, flags and dates as text; several of a list
  Where where;
};

/// In the order of the file. Which keys there are, the reader does not know.
///   errors  no TOML; a value that is neither text, number, flag, date nor a list of these; tables in tables
[[nodiscard]] Checked<std::vector<PlacedSetting>> read_settings(std::string_view text,
                                                                const std::string& file);

}  // namespace skerry::files
