// Scores of forecasts as text, JSON and CSV.
// Layer: report. Sees everything above it. Computes nothing.
#pragma once

#include <string>

#include "skerry/advice/ionosonde.hpp"
#include "skerry/advice/spots.hpp"
#include "skerry/report/text.hpp"

namespace skerry::report {

/// How the scores were made, for the heading.
struct ScoreShown {
  std::string file, mode, activity;
  double threshold_db = 0, bandwidth_hz = 2500;
  std::size_t left_out = 0;
};
[[nodiscard]] std::string score_text(const advice::SpotScores& scores, const ScoreShown& shown,
                                     const Style& style);
/// skerry.score/1
[[nodiscard]] std::string score_json(const advice::SpotScores& scores, const ScoreShown& shown);
/// One record per band.
[[nodiscard]] std::string score_csv(const advice::SpotScores& scores);

[[nodiscard]] std::string sondes_text(const advice::SondeScores& scores, const ScoreShown& shown,
                                      const Style& style);
/// skerry.sondes/1
[[nodiscard]] std::string sondes_json(const advice::SondeScores& scores, const ScoreShown& shown);
/// One record per quantity and group.
[[nodiscard]] std::string sondes_csv(const advice::SondeScores& scores);

}  // namespace skerry::report
