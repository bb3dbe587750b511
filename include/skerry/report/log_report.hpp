// Planned against worked, as text, JSON and CSV; and the overlay that a log teaches.
// Layer: report. Sees everything above it. Computes nothing.
#pragma once

#include <string>

#include "skerry/advice/log.hpp"
#include "skerry/report/text.hpp"

namespace skerry::report {

/// What goes beside the comparison: the log itself, and whether call signs may be shown.
struct LogShown {
  const advice::Log& log;
  std::string log_file;
  bool calls = false;
};

[[nodiscard]] std::string log_text(const kit::Trip& trip, const advice::LogReport& report,
                                   const LogShown& shown, const Style& style);
/// skerry.log/1
[[nodiscard]] std::string log_json(const kit::Trip& trip, const advice::LogReport& report,
                                   const LogShown& shown);
/// One record per contact.
[[nodiscard]] std::string log_csv(const kit::Trip& trip, const advice::LogReport& report,
                                  const LogShown& shown);

/// The overlay file for `learned = "..."` in a trip: [learned] and [people] with their intervals as comments.
[[nodiscard]] std::string learned_toml(const kit::Trip& trip, const advice::LogReport& report,
                                       const std::string& log_file, Day made);

}  // namespace skerry::report
