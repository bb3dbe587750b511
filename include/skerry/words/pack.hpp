// The packing advice in words.
// Layer: words. Sees everything above it.
#pragma once

#include <array>
#include <cstdint>
#include <span>
#include <string>

#include "skerry/advice/advise.hpp"
#include "skerry/words/path.hpp"

namespace skerry::words {

/// The parts of the packing text, in the order in which they are printed.
enum class Section : std::uint8_t {
  items,
  bags,
  uses,
  bands,
  power,
  frontier,
  kits,
  modes,
  cases,
  pairs,
  strips,
  days,
  cannot,
  remedies,
  cautions
};
/// What `--show` calls them, in that order.
inline constexpr std::array<const char*, 15> section_names = {
    "items", "bags",  "uses",   "bands", "power",  "frontier", "kits",    "modes",
    "cases", "pairs", "strips", "days",  "cannot", "remedies", "cautions"};

/// The answer on one screen: 24 lines of 80 columns for kits of ten things and five regions.
[[nodiscard]] std::string pack_screen(const kit::Trip& trip, const advice::Advice& advice,
                                      const Style& style);
/// The verdict with these parts.
[[nodiscard]] std::string pack_text(const kit::Trip& trip, const advice::Advice& advice,
                                    std::span<const Section> sections, const Style& style);
/// One section without its heading, each paragraph and row on a line of its own; empty where there is none.
[[nodiscard]] std::string section_lines(Section section, const kit::Trip& trip, const advice::Advice& advice);
/// What stands below the verdict (likely contacts, how firm, in practice), each on a line of its own.
[[nodiscard]] std::string summary_lines(const kit::Trip& trip, const advice::Advice& advice);
/// The answer to one "what if" alone.
[[nodiscard]] std::string what_if_text(const advice::Advice& advice, const advice::WhatIf& what_if,
                                       std::size_t columns);
/// Of what the whole reach hangs on, instead of "without it 0 % remain".
inline constexpr const char* nothing_left = "nothing is left without it";
/// What is left of the reach: "without it 34 % remain".
[[nodiscard]] std::string without_text(double left);

}  // namespace skerry::words
