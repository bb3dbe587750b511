// The report as one page that needs nothing else: verdict, list, chart, hours, hops, ledger, card.
// Layer: page. Sees everything above it.
#pragma once

#include <string>
#include <vector>

#include "skerry/page/parts.hpp"

namespace skerry::page {

/// A key of the trip file, as the page's editor explains it.
struct FieldHelp {
  std::string table, key, accepted, help;
};
/// What makes the page answer changes; empty: it stays the report.
struct Engine {
  std::string worker;             ///< script of a worker that answers messages
  std::string packed;             ///< the compressed engine that the worker is given, as text
  std::string trip;               ///< the trip file
  std::vector<FieldHelp> fields;  ///< of the trip file
  bool hosted = false;            ///< the page stands beside hosted_files()
};

/// HTML 5 with its styles, script and data inside; same input, same bytes. Nothing is loaded from anywhere:
/// the content policy of the page forbids it and allows only the page's own style and script, by their
/// hashes. Text of the trip is freed of control and direction marks, escaped, and set apart in direction
/// where it stands alone.
///   picture  of the same trip and advice
///   words    the section in plain words; empty: the page has none
///   engine   empty: no worker, nothing can be changed, and the policy allows neither
///   size     1.0 to 1.5 MB for the examples; the ledger of cells under half a day in ten is left out when a trip
///            has more than ledger_cells open ones, to stay under 1.5 MB
///   source   HTML Living Standard; W3C Content Security Policy Level 3; WAI-ARIA 1.2 (grid pattern)
[[nodiscard]] std::string report_html(const kit::Trip& trip, const advice::Advice& advice,
                                      const advice::Picture& picture,
                                      const std::vector<PlainWords>& words = {}, const Engine& engine = {});

/// Judgement: at about 250 bytes a cell, 1 MB.
inline constexpr int ledger_cells = 4000;

/// The data inside the page, as compact JSON (skerry.page/2). Cells are lists in the order of "cell_keys"; a
/// closed one holds only open = 0 and whether nothing in the kit works the band.
[[nodiscard]] std::string page_json(const kit::Trip& trip, const advice::Advice& advice,
                                    const advice::Picture& picture);

}  // namespace skerry::page
