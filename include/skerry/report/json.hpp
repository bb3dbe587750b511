// Answers as JSON with stable keys. Numbers are numbers, null where nature has no answer.
// Layer: report. Sees everything above it.
#pragma once

#include <string>

#include "skerry/advice/path_answer.hpp"
#include "skerry/ionosphere/sky.hpp"
#include "skerry/report/sun_answer.hpp"

namespace skerry::report {

[[nodiscard]] std::string path_json(const advice::PathAnswer& answer);  ///< skerry.path/1
[[nodiscard]] std::string sun_json(const SunAnswer& answer);            ///< skerry.sun/1
[[nodiscard]] std::string sky_json(const ionosphere::Sky& sky,
                                   const ionosphere::Climate& climate);  ///< skerry.ionosphere/1

}  // namespace skerry::report
