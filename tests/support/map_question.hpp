// A question for a world map, and a way to count what the answers hold.
#pragma once

#include <string>

#include "skerry/circuit/coverage.hpp"

namespace skerry::test {

inline circuit::CoverageQuestion map_question() {
  circuit::CoverageQuestion q;
  q.from.at = GeoPoint::at_deg(-19.70, 63.43);
  q.to.power_w = 100;
  q.climate.day = middle_of(std::chrono::year{2027} / 2);
  q.climate.r12 = ionosphere::R12(90);
  q.frequencies = {{"20m", 14.06}, {"", 9.5}};
  q.hours = {18, 3};
  q.mode = *noise::find_mode("cw", {});
  q.grid.step_deg = 30;
  return q;
}

inline std::size_t count_of(const std::string& text, const std::string& part) {
  std::size_t n = 0;
  for (auto at = text.find(part); at != std::string::npos; at = text.find(part, at + 1)) ++n;
  return n;
}

}  // namespace skerry::test
