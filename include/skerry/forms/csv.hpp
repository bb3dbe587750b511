// Answers as CSV (RFC 4180): one header line, one record a line, empty where nature has no answer. Lines end in
// LF everywhere, as pipes and text tools want them; readers of tables, ours too, take either end.
// Layer: forms. Sees everything above it.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "skerry/words/antenna.hpp"
#include "skerry/words/kit.hpp"
#include "skerry/words/library.hpp"
#include "skerry/words/log.hpp"
#include "skerry/words/pack.hpp"
#include "skerry/words/score.hpp"
#include "skerry/words/sun.hpp"

namespace skerry::forms {

/// A field, quoted when it holds a comma, a quote or a line break. Text that a spreadsheet would run as a
/// formula (it begins with = + - @ and is no number) gets an apostrophe in front. Source: common practice
/// (OWASP, "CSV Injection").
[[nodiscard]] std::string csv_field(std::string_view text);

[[nodiscard]] std::string path_csv(const circuit::PathAnswer& answer);
[[nodiscard]] std::string sun_csv(const words::SunAnswer& answer);
[[nodiscard]] std::string sky_csv(const ionosphere::Sky& sky, const ionosphere::SporadicE& es,
                                  const ionosphere::Climate& climate);
[[nodiscard]] std::string antenna_csv(const std::vector<words::AntennaRow>& rows);
[[nodiscard]] std::string library_csv(const std::vector<kit::LibraryEntry>& entries);
/// One line per thing.
[[nodiscard]] std::string kit_csv(const kit::Trip& trip, const advice::KitSheet& sheet);
/// One line per region, hour and band under the packed kit.
[[nodiscard]] std::string pack_csv(const kit::Trip& trip, const advice::Advice& advice);
/// One line per thing: what is carried, by reach lost without it, then what is left, by reach gained with it.
[[nodiscard]] std::string packing_list_csv(const kit::Trip& trip, const advice::Advice& advice);
/// One record per contact.
[[nodiscard]] std::string log_csv(const kit::Trip& trip, const after::LogReport& report,
                                  const words::LogShown& shown);
/// One record per band.
[[nodiscard]] std::string score_csv(const after::SpotScores& scores);
/// One record per quantity and group.
[[nodiscard]] std::string sondes_csv(const after::SondeScores& scores);

}  // namespace skerry::forms
