// The verdict and its reasons in sentences.
// Layer: words. Sees everything above it.
#pragma once

#include <string>

#include "skerry/advice/advise.hpp"

namespace skerry::words {

/// Whether the reader has a command line, so that a command or an option may be named.
enum class Reader { of_terminal, of_page };

/// A few sentences.
[[nodiscard]] std::string verdict_text(const kit::Trip& trip, const advice::Advice& advice, Reader reader);
/// Why no kit works at all, in a few words.
[[nodiscard]] const char* no_kit_text(advice::Outcome outcome);
/// Why a thing is carried or left, one sentence.
[[nodiscard]] std::string item_reason(const kit::Trip& trip, const advice::Advice& advice,
                                      const advice::ItemAdvice& item);
/// How firm the choice is.
[[nodiscard]] std::string firm_text(const kit::Trip& trip, const advice::Advice& advice);
/// "quieter Sun, R12 40"
[[nodiscard]] std::string scenario_name(const kit::Trip& trip, const advice::Scenario& scenario);
/// "cabin bags only"
[[nodiscard]] const char* variant_name(advice::Restriction restriction);
/// Why two bands do not go together; empty when they do.
[[nodiscard]] std::string pair_why(const kit::Trip& trip, const advice::BandPair& pair);
/// "a, b instead of c": a kit against another.
[[nodiscard]] std::string swap_text(const advice::Inventory& inventory, const std::vector<int>& comes,
                                    const std::vector<int>& goes);
/// Names of things, with commas.
[[nodiscard]] std::string names_of(const advice::Inventory& inventory, const std::vector<int>& things);

/// What a caution is about; several kinds share one.
enum class Topic {
  measured,
  learned,
  zone,
  air,
  licence,
  site,
  exposure,
  voltage,
  lightning,
  power_lines,
  battery,
  daylight,
  method,
  noise
};
[[nodiscard]] Topic topic_of(const advice::Caution& caution);
/// "air", "licence", "power lines", ...
[[nodiscard]] const char* topic_text(Topic topic);
[[nodiscard]] std::string caution_text(const kit::Trip& trip, const advice::Advice& advice,
                                       const advice::Caution& caution);

}  // namespace skerry::words
