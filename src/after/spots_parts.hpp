// Cases of tables of reports, what is forecast for each, and the scores: what tables of spots and of hours share.
// Room: after, internal.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "skerry/after/spots.hpp"

namespace skerry::after {

struct BandKey {
  std::string name;
  double mhz = 0;  ///< at which it is computed
};

/// The amateur band of a frequency by the widest of the three Regions, or the frequency itself to 0.1 MHz.
[[nodiscard]] BandKey band_key(double mhz);

struct Case {
  int tx = 0, rx = 0;
  int band = 0;
  int month = 0;  ///< index into the months
  int hour = 0;
  double power_w = 0;
  bool heard = false;
  double snr_db = 0;  ///< median of the reports; NaN: none gave one
  double weight = 1;
  // By the forecast:
  double km = 0;  ///< of the short way
  double probability = 0, predicted_db = 0;
  bool any = false, open = false;
};

/// Fills in the forecasts of all cases, each path, hour and band computed once. Returns the number of paths, counted
/// in each month.
std::size_t forecast(std::span<const GeoPoint> stations, const SpotQuestion& question,
                     const std::vector<BandKey>& bands, const std::vector<Month>& months,
                     std::vector<Case>& cases);

/// The score of cases with their forecasts.
[[nodiscard]] SpotScore score_of(std::string name, std::span<const Case* const> cases);

/// Scores by band in order of frequency, and of all.
void score_bands(const std::vector<BandKey>& bands, const std::vector<Case>& cases, SpotScores& into);

}  // namespace skerry::after
