// One region of a trip in plain words: for the explanation on the screen and on the page.
// Layer: cli (internal).
#pragma once

#include <optional>

#include "skerry/circuit/explain.hpp"
#include "skerry/kit/trip.hpp"
#include "skerry/words/explain.hpp"

namespace skerry::cli {

/// With the packed kit, every band of the question at `utc_hour` or at its best hour on the air.
[[nodiscard]] words::ExplainSheet explain_sheet(const kit::Trip& trip,
                                                const circuit::ExplainQuestion& question, int site,
                                                int target, std::optional<int> utc_hour);

}  // namespace skerry::cli
