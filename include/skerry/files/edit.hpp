// Changes a key of a trip file in its text, so that comments, order and layout stay as somebody wrote them.
// Layer: files. Sees core.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "skerry/core/result.hpp"

namespace skerry::files {

/// One table of a trip file.
struct TableAt {
  std::string_view name;  ///< "trip", at the top
  int line = 0;           ///< or, where above 0, whichever begins in this line (kit::Item::line)
};

/// `text` with `key = toml` in that table: in place of its value, or of the first of the keys `instead` with their
/// values, or else on a line of its own below the table's head. `toml` is a value as TOML has it: 5.5, true,
/// 2027-02-13, "text". Whether it means anything is for read_trip. No such table: Error.
[[nodiscard]] Result<std::string> with_key(std::string_view text, const TableAt& at, std::string_view key,
                                           std::string_view toml,
                                           const std::vector<std::string_view>& instead = {});

}  // namespace skerry::files
