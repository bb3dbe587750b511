// What a report needs besides the advice: the regions in plain words, then the page as a whole.
// Layer: engine. Sees everything above it but after and os.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "skerry/advice/advise.hpp"
#include "skerry/advice/picture.hpp"
#include "skerry/page/parts.hpp"
#include "skerry/words/explain.hpp"

namespace skerry::engine {

/// One region of a trip in plain words: with the packed kit, every band of the question at `utc_hour` or at its
/// best hour on the air. `site` and `target` are indices into the trip.
[[nodiscard]] words::ExplainSheet explain_sheet(const kit::Trip& trip,
                                                const circuit::ExplainQuestion& question, int site,
                                                int target, std::optional<int> utc_hour);

/// The engine itself, for a page that answers changes: a script for a worker (src/wasm/worker.js says what it is
/// told) and the module, packed, as text (cmake/pack_module.py). Both empty where the program was built without it.
struct Module {
  std::string_view worker, packed;
};
[[nodiscard]] Module module();

/// Every region from every site in plain words, for the page.
[[nodiscard]] std::vector<page::PlainWords> plain_words(const kit::Trip& trip, const advice::Advice& advice);

/// The trip file as somebody wrote it, and the files that it names by their names.
struct TripText {
  std::string text;
  std::map<std::string, std::string> files;
};
/// page::report_html with all its parts, as `skerry report` writes it; one that answers changes where the program
/// carries the engine.
[[nodiscard]] std::string report(const kit::Trip& trip, const advice::Advice& advice,
                                 const advice::Picture& picture, const TripText& written);

}  // namespace skerry::engine
