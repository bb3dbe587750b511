#include "skerry/circuit/openings.hpp"

#include <algorithm>
#include <cmath>

#include "skerry/core/nth.hpp"

namespace skerry::circuit {

namespace {

double to_quarter(double hours) {
  return std::round(hours * 4) / 4;
}

}  // namespace

std::vector<Opening> openings(const std::array<double, 24>& values, double level) {
  const auto at = [&](int hour) { return nth(values, hour % 24); };
  std::vector<Opening> out;
  const auto best = std::max_element(values.begin(), values.end());
  if (*best < level) return out;
  // Begin the walk in a closed hour; none means open all day.
  int closed = -1;
  for (int h = 0; h < 24 && closed < 0; ++h) {
    if (at(h) < level) closed = h;
  }
  if (closed < 0) {
    Opening all;
    all.all_day = true;
    all.peak_h = static_cast<double>(best - values.begin());
    all.peak_value = *best;
    return {all};
  }
  for (int h = closed; h < closed + 24; ++h) {
    if (at(h) >= level || at(h + 1) < level) continue;
    Opening event;
    event.start_h = to_quarter(h + (level - at(h)) / (at(h + 1) - at(h)));
    int k = h + 1;
    event.peak_h = k;
    event.peak_value = at(k);
    while (at(k + 1) >= level) {
      ++k;
      if (at(k) > event.peak_value) {
        event.peak_value = at(k);
        event.peak_h = k;
      }
    }
    event.end_h = to_quarter(k + (at(k) - level) / (at(k) - at(k + 1)));
    // A touch of the level has no length; it still happened, at that hour.
    const double days = std::floor(event.start_h / 24) * 24;
    event.start_h -= days;
    event.end_h -= days;
    event.peak_h -= days;
    out.push_back(event);
  }
  std::sort(out.begin(), out.end(), [](const Opening& a, const Opening& b) { return a.start_h < b.start_h; });
  return out;
}

}  // namespace skerry::circuit
