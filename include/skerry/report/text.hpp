// Answers as text for a terminal. Computes nothing; same input, same bytes.
// Layer: report. Sees everything above it.
#pragma once

#include <string>

#include "skerry/advice/path_answer.hpp"
#include "skerry/ionosphere/sky.hpp"
#include "skerry/report/sun_answer.hpp"

namespace skerry::report {

/// How the terminal may be used.
struct Style {
  bool colour = false;
  bool unicode = false;
  bool ascii = false;  ///< names too must be plain ASCII
  int columns = 100;
};

[[nodiscard]] std::string path_text(const advice::PathAnswer& answer, const Style& style);
/// One hour and frequency of every way, every term of it. hour 0..23, frequency an index into the question's.
[[nodiscard]] std::string ledger_text(const advice::PathAnswer& answer, std::size_t hour,
                                      std::size_t frequency);
[[nodiscard]] std::string sun_text(const SunAnswer& answer, const Style& style);
[[nodiscard]] std::string sky_text(const ionosphere::Sky& sky, const ionosphere::Climate& climate,
                                   const Style& style);

/// "7" for a number of days in ten, rounded; "." where nothing propagates, "-" under half a day.
[[nodiscard]] std::string days_sign(bool open, double days_in_ten);

}  // namespace skerry::report
