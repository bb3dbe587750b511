// The sections of the packing text, one question each.
// Layer: words (internal). Sees pack.hpp.
#pragma once

#include <string>
#include <vector>

#include "skerry/words/numbers.hpp"
#include "skerry/words/pack.hpp"

namespace skerry::words::pack {

[[nodiscard]] std::string heading(const std::string& name);
/// Exactly so many characters: filled with blanks, or cut with dots.
[[nodiscard]] std::string cut(const std::string& text, std::size_t width);

/// Names of things, with commas; "nothing".
[[nodiscard]] std::string names(const advice::Advice& a, const std::vector<int>& things);

/// Trip and verdict.
[[nodiscard]] std::string head(const kit::Trip& trip, const advice::Advice& a, std::size_t columns);
/// People, firmness, practice: what stands beside the verdict.
[[nodiscard]] std::string summary(const kit::Trip& trip, const advice::Advice& a, std::size_t columns);
[[nodiscard]] std::string bags(const kit::Trip& trip, const advice::Advice& a, std::size_t columns);
/// "Likely contacts: 34, four times in five 11 to 104 (a rough guess)."; empty where there are none.
[[nodiscard]] std::string likely_contacts(const advice::Advice& a);
/// The same day by day.
[[nodiscard]] std::string contacts(const kit::Trip& trip, const advice::Advice& a, std::size_t columns);
[[nodiscard]] std::string power(const kit::Trip& trip, const advice::Advice& a, std::size_t columns);
[[nodiscard]] std::string trade_off(const advice::Advice& a, std::size_t columns);
[[nodiscard]] std::string other_kits(const advice::Advice& a, std::size_t columns);
/// "The same kit: SSB 16 %, FT8 60 %." Empty where one mode is wanted.
[[nodiscard]] std::string other_modes(const kit::Trip& trip, const advice::Advice& a, std::size_t columns);
/// What the kit does in each wanted mode, and what another would change.
[[nodiscard]] std::string modes(const kit::Trip& trip, const advice::Advice& a, std::size_t columns);
[[nodiscard]] std::string scenarios(const kit::Trip& trip, const advice::Advice& a, std::size_t columns);
[[nodiscard]] std::string band_pairs(const kit::Trip& trip, const advice::Advice& a, std::size_t columns);

}  // namespace skerry::words::pack
