// What every refusal promises.
// Layer: tests. Sees core.
#pragma once

#include <algorithm>
#include <string>
#include <string_view>
#include <vector>

#include "skerry/core/result.hpp"
#include "targets.hpp"

namespace skerry::fuzz {

/// One line without control characters, of bounded length.
inline void check_line(const std::string& line) {
  promise(line.size() <= 1500, "a message is of bounded length");
  promise(std::none_of(line.begin(), line.end(),
                       [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7f; }),
          "a message is one line without control characters");
}

/// At least one mistake, each told in one line; in `file`, and with a line number where `located`.
inline void check_errors(const std::vector<Error>& errors, std::string_view file, bool located) {
  promise(!errors.empty(), "a refusal has a reason");
  promise(errors.size() <= 101, "a refusal lists a bounded number of mistakes");
  for (const auto& error : errors) {
    promise(error.where.file == file, "a mistake names its file");
    promise(!error.found.empty(), "a mistake says what was found");
    const bool whole_file = error.found.find(" kB") != std::string::npos ||
                            error.found.find("more than") != std::string::npos ||
                            error.found.find(" without ") != std::string::npos;
    if (located) promise(error.where.line > 0 || whole_file, "a mistake names its line");
    check_line(error.to_line());
  }
}

}  // namespace skerry::fuzz
