// Planned against worked, in words; and the overlay that a log teaches.
// Layer: words. Sees everything above it. Computes nothing.
#pragma once

#include <string>

#include "skerry/after/log.hpp"
#include "skerry/words/path.hpp"

namespace skerry::words {

/// What goes beside the comparison: the log itself, and whether call signs may be shown.
struct LogShown {
  const after::Log& log;
  std::string log_file;
  bool calls = false;
};

[[nodiscard]] std::string log_text(const kit::Trip& trip, const after::LogReport& report,
                                   const LogShown& shown, const Style& style);

/// Why a thing counts as used or not: "named in 3 contacts".
[[nodiscard]] std::string use_why(const after::KitUse& use);

/// The overlay file for `learned = "..."` in a trip: [learned] and [people] with their intervals as comments.
[[nodiscard]] std::string learned_toml(const kit::Trip& trip, const after::LogReport& report,
                                       const std::string& log_file, Day made);

}  // namespace skerry::words
