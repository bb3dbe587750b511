// What `pack` and `explain` ask of a trip.
// Layer: engine. Sees everything above it but os.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "skerry/advice/advise.hpp"
#include "skerry/kit/trip.hpp"
#include "skerry/words/pack.hpp"

namespace skerry::engine {

enum class Format { text, json, csv };
enum class PackTable { hours, things };

/// Keys of the same names in JSON, options of the same names with dashes on the command line.
struct PackAsk {
  Format format = Format::text;
  words::Style style;                  ///< of text
  PackTable table = PackTable::hours;  ///< of csv
  std::vector<words::Section> show;
  /// Ids of things that stay and of those that come too: either makes it a "what if", as text or JSON.
  std::vector<std::string> drop, add;
  [[nodiscard]] bool what_if() const { return !drop.empty() || !add.empty(); }
};
/// What `skerry pack` prints. Mistakes name the key "what_if" in where.file.
///   stop  as in advice::AdviceOptions: may end the search early
[[nodiscard]] Result<std::string> pack(const kit::Trip& trip, const PackAsk& ask,
                                       const choose::Stop& stop = advice::AdviceOptions{}.stop);

/// What may be wrong with a trip though it can be read: a line for each site whose time zone may not be its own
/// (sunset and sessions hang on it), and for one that lies in open water.
[[nodiscard]] std::vector<std::string> doubts(const kit::Trip& trip);

struct ExplainAsk {
  Format format = Format::text;  ///< text or json
  words::Style style;
  std::vector<std::string> bands;  ///< ids; empty: all
  std::optional<int> hour;         ///< UTC 0..23; none: each band's best
  std::string region, site;        ///< ids; "all" regions; empty: the region that weighs most, the first site
};
/// What `skerry explain` prints of a trip. Mistakes name the key in where.file.
[[nodiscard]] Result<std::string> explain(const kit::Trip& trip, const ExplainAsk& ask);

}  // namespace skerry::engine
