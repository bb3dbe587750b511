// Answers as CSV (RFC 4180): one header line, one record a line, empty where nature has no answer.
// Layer: report. Sees everything above it.
#pragma once

#include <string>

#include "skerry/advice/path_answer.hpp"
#include "skerry/ionosphere/sky.hpp"
#include "skerry/report/sun_answer.hpp"

namespace skerry::report {

/// A field, quoted when it holds a comma, a quote or a line break. Text that a spreadsheet would run as a
/// formula (it begins with = + - @ and is no number) gets an apostrophe in front. Source: common practice
/// (OWASP, "CSV Injection").
[[nodiscard]] std::string csv_field(std::string_view text);

[[nodiscard]] std::string path_csv(const advice::PathAnswer& answer);
[[nodiscard]] std::string sun_csv(const SunAnswer& answer);
[[nodiscard]] std::string sky_csv(const ionosphere::Sky& sky, const ionosphere::Climate& climate);

}  // namespace skerry::report
