// The packing advice as text, JSON and CSV.
// Layer: report. Sees everything above it.
#pragma once

#include <string>

#include "skerry/advice/advise.hpp"
#include "skerry/report/text.hpp"

namespace skerry::report {

[[nodiscard]] std::string pack_text(const kit::Trip& trip, const advice::Advice& advice, const Style& style);
/// skerry.pack/1; with an answer to "what if", under the key "what_if".
[[nodiscard]] std::string pack_json(const kit::Trip& trip, const advice::Advice& advice,
                                    const advice::WhatIf* what_if = nullptr);
/// The answer to one "what if" alone.
[[nodiscard]] std::string what_if_text(const advice::Advice& advice, const advice::WhatIf& what_if,
                                       std::size_t columns);
/// One line per region, hour and band under the packed kit.
[[nodiscard]] std::string pack_csv(const kit::Trip& trip, const advice::Advice& advice);

/// Lines of at most `columns` characters, broken at blanks, the later ones indented.
[[nodiscard]] std::string wrapped(std::string_view text, std::size_t columns, std::string_view first,
                                  std::string_view later);
/// Text whose lines are at most `columns` wide where they have blanks to break at: longer ones go on below,
/// four further in than they began. Lines that fit stay as they are.
[[nodiscard]] std::string fitted(const std::string& text, std::size_t columns);

}  // namespace skerry::report
