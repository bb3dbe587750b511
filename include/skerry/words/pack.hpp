// The packing advice in words.
// Layer: words. Sees everything above it.
#pragma once

#include <string>

#include "skerry/advice/advise.hpp"
#include "skerry/words/path.hpp"

namespace skerry::words {

[[nodiscard]] std::string pack_text(const kit::Trip& trip, const advice::Advice& advice, const Style& style);
/// The answer to one "what if" alone.
[[nodiscard]] std::string what_if_text(const advice::Advice& advice, const advice::WhatIf& what_if,
                                       std::size_t columns);
/// Of what the whole reach hangs on, instead of "without it 0 % remain".
inline constexpr const char* nothing_left = "nothing is left without it";
/// What is left of the reach: "without it 34 % remain".
[[nodiscard]] std::string without_text(double left);

}  // namespace skerry::words
