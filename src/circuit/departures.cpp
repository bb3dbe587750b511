#include "skerry/circuit/departures.hpp"

#include <algorithm>

namespace skerry::circuit {

std::optional<Departures> departures(const std::vector<PathAnswer>& answers, double level) {
  std::vector<double> angles_deg;
  std::vector<int> hours;
  for (const auto& answer : answers) {
    hours.resize(answer.question.frequencies.size());
    for (const auto& way : answer.ways) {
      for (const auto& hour : way.hours) {
        for (std::size_t f = 0; f < hour.bands.size(); ++f) {
          const auto& band = hour.bands[f];
          if (!band.any() || band.by_ground || band.days_in_ten < level) continue;
          angles_deg.push_back(band.level.best_elevation_deg);
          ++hours[f];
        }
      }
    }
  }
  if (angles_deg.empty()) return std::nullopt;
  std::sort(angles_deg.begin(), angles_deg.end());
  const auto most = static_cast<std::size_t>(std::max_element(hours.begin(), hours.end()) - hours.begin());
  return Departures{static_cast<int>(angles_deg.size()), angles_deg.front(), angles_deg[angles_deg.size() / 2],
                    angles_deg.back(), answers.front().question.frequencies[most].band};
}

}  // namespace skerry::circuit
