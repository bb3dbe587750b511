// The page in named pieces: the report is made of them, and an answer to a change brings them anew.
// Layer: page. Sees everything above it.
#pragma once

#include <string>
#include <vector>

#include "skerry/advice/picture.hpp"
#include "skerry/words/explain.hpp"

namespace skerry::page {

/// Causes from one site to one region, for the page's section in plain words.
struct PlainWords {
  int site = 0, target = 0;  ///< indices into the trip
  words::ExplainSheet sheet;
};

/// One piece: what stands in the element whose `data-part` is the name.
struct Part {
  const char* name = "";
  std::string html;  ///< escaped; empty where the advice has nothing of it
};

/// What hangs on the choice: "top", "beam", "regions", "pack", "leave", "plan", "practice", "bags", "worth",
/// "steps", "kits", "modes", "cases", "pairs", "days", "power", "remedies", "cautions", "cannot".
[[nodiscard]] std::vector<Part> quick_parts(const kit::Trip& trip, const advice::Advice& advice);
/// What hangs on every hour's ray as well: "ways", "bands", "said", "maps", "section", "strips", "why", "patterns", "card".
[[nodiscard]] std::vector<Part> slow_parts(const kit::Trip& trip, const advice::Advice& advice,
                                           const advice::Picture& picture,
                                           const std::vector<PlainWords>& words);

/// One sentence of at most 120 characters on what a change did: "Without 6 m travel pole: 28 % instead of
/// 31 %; Japan goes." Things are told by their ids, regions by their names; both trips need not be the same.
[[nodiscard]] std::string change_text(const kit::Trip& trip_before, const advice::Advice& before,
                                      const kit::Trip& trip, const advice::Advice& after);

}  // namespace skerry::page
