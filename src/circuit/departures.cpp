#include "skerry/circuit/departures.hpp"

#include <algorithm>

namespace skerry::circuit {

namespace {

/// body(frequency, band) for each hour and frequency of each way.
template <class Body>
void each_band(const std::vector<PathAnswer>& answers, Body&& body) {
  for (const auto& answer : answers) {
    for (const auto& way : answer.ways) {
      for (const auto& hour : way.hours) {
        for (std::size_t f = 0; f < hour.bands.size(); ++f) {
          if (hour.bands[f].any()) body(f, hour.bands[f]);
        }
      }
    }
  }
}

}  // namespace

std::optional<Departures> departures(const std::vector<PathAnswer>& answers, double level) {
  Departures out;
  each_band(answers, [&](std::size_t, const BandAnswer& band) {
    out.best_days_in_ten = std::max(out.best_days_in_ten, band.days_in_ten);
  });
  if (out.best_days_in_ten < 0.5) return std::nullopt;
  const double least = out.best_days_in_ten < level ? out.best_days_in_ten / 2 : level;
  std::vector<double> angles_deg;
  std::vector<int> hours(answers.front().question.frequencies.size());
  each_band(answers, [&](std::size_t frequency, const BandAnswer& band) {
    if (band.days_in_ten < least) return;
    angles_deg.push_back(band.level.best_elevation_deg);
    ++hours[frequency];
  });
  std::sort(angles_deg.begin(), angles_deg.end());
  const auto most = static_cast<std::size_t>(std::max_element(hours.begin(), hours.end()) - hours.begin());
  out.open = static_cast<int>(angles_deg.size());
  out.lowest_deg = angles_deg.front();
  out.usual_deg = angles_deg[angles_deg.size() / 2];
  out.highest_deg = angles_deg.back();
  out.usual_band = answers.front().question.frequencies[most].band;
  return out;
}

}  // namespace skerry::circuit
