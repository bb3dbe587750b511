// Scores of forecasts in words.
// Layer: words. Sees everything above it. Computes nothing.
#pragma once

#include <string>

#include "skerry/after/ionosonde.hpp"
#include "skerry/after/spots.hpp"
#include "skerry/words/path.hpp"

namespace skerry::words {

/// How the scores were made, for the heading.
struct ScoreShown {
  std::string file, mode, activity;
  double threshold_db = 0, bandwidth_hz = 2500;
  std::size_t left_out = 0;
};
[[nodiscard]] std::string score_text(const after::SpotScores& scores, const ScoreShown& shown,
                                     const Style& style);
/// Of tables of hours.
[[nodiscard]] std::string hours_text(const after::SpotScores& scores, const ScoreShown& shown,
                                     const Style& style);
[[nodiscard]] std::string sondes_text(const after::SondeScores& scores, const ScoreShown& shown,
                                      const Style& style);

/// "all", "06 local", "middle latitudes (20 to 60)", "winter", or the station's name.
[[nodiscard]] std::string group_text(const after::SondeGroup& group);
/// "foF2" or "M(3000)F2".
[[nodiscard]] const char* quantity_text(after::SondeScore::Quantity quantity);

/// Calls f("hour", error) and so on for all, hours, latitudes, seasons and stations.
template <class F>
void each_group(const after::SondeScore& s, F&& f) {
  f("all", s.all);
  for (const auto& e : s.by_hour) f("hour", e);
  for (const auto& e : s.by_latitude) f("latitude", e);
  for (const auto& e : s.by_season) f("season", e);
  for (const auto& e : s.by_station) f("station", e);
}

}  // namespace skerry::words
