// Answers as JSON with stable keys. Numbers are numbers, null where nature has no answer.
// Layer: forms. Sees everything above it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "skerry/circuit/coverage.hpp"
#include "skerry/circuit/traced.hpp"
#include "skerry/geodesy/gazetteer.hpp"
#include "skerry/words/antenna.hpp"
#include "skerry/words/explain.hpp"
#include "skerry/words/kit.hpp"
#include "skerry/words/library.hpp"
#include "skerry/words/log.hpp"
#include "skerry/words/pack.hpp"
#include "skerry/words/score.hpp"
#include "skerry/words/sun.hpp"

namespace skerry::forms {

/// One hour and frequency of a path: hour 0..23, an index into the question's frequencies.
struct PathCell {
  std::size_t hour = 0, frequency = 0;
};
/// skerry.path/1; the ledger of one hour and frequency under "explained".
[[nodiscard]] std::string path_json(const circuit::PathAnswer& answer,
                                    const std::optional<PathCell>& explained = {});
/// skerry.explain/1: of one pair of places, or of several regions of a trip.
[[nodiscard]] std::string explain_json(const std::vector<words::ExplainSheet>& sheets);
[[nodiscard]] std::string rays_json(const circuit::FanAnswer& answer);  ///< skerry.rays/1
[[nodiscard]] std::string sun_json(const words::SunAnswer& answer);     ///< skerry.sun/1
[[nodiscard]] std::string sky_json(const ionosphere::Sky& sky, const ionosphere::SporadicE& es,
                                   const ionosphere::Climate& climate,
                                   const std::optional<geodesy::Named>& named = {});  ///< skerry.ionosphere/1
/// skerry.map/1: shares of the world's surface. `level` is the days in ten that they count.
[[nodiscard]] std::string map_json(const circuit::CoverageQuestion& question,
                                   const circuit::CoverageShare& share, double level,
                                   const std::optional<geodesy::Named>& named = {});
[[nodiscard]] std::string antenna_json(const std::vector<words::AntennaRow>& rows);     ///< skerry.antenna/1
[[nodiscard]] std::string library_json(const std::vector<kit::LibraryEntry>& entries);  ///< skerry.library/1
[[nodiscard]] std::string kit_json(const kit::Trip& trip, const advice::KitSheet& sheet);  ///< skerry.kit/1
/// skerry.pack/1; with an answer to "what if", under the key "what_if".
[[nodiscard]] std::string pack_json(const kit::Trip& trip, const advice::Advice& advice,
                                    const advice::WhatIf* what_if = nullptr);
/// skerry.log/1
[[nodiscard]] std::string log_json(const kit::Trip& trip, const after::LogReport& report,
                                   const words::LogShown& shown);
/// skerry.score/1
[[nodiscard]] std::string score_json(const after::SpotScores& scores, const words::ScoreShown& shown);
/// skerry.sondes/1
[[nodiscard]] std::string sondes_json(const after::SondeScores& scores, const words::ScoreShown& shown);

}  // namespace skerry::forms
