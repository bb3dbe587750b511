// The report for a folder that is put on a web server.
// Layer: engine. Sees everything above it but after and os.
#pragma once

#include <string>

#include "skerry/engine/report.hpp"

namespace skerry::engine {

/// As report(), to stand beside page::hosted_files().
[[nodiscard]] std::string hosted_report(const kit::Trip& trip, const advice::Advice& advice,
                                        const advice::Picture& picture, const TripText& written);

}  // namespace skerry::engine
