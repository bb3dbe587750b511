// Events of a calendar in words.
// Layer: words. Sees everything above it.
#pragma once

#include <string>

#include "skerry/advice/agenda.hpp"

namespace skerry::words {

/// "On the air: Summit", "20m to Europe (7 days in ten)"
[[nodiscard]] std::string event_title(const kit::Trip& trip, const advice::Event& event);
/// A few sentences; with the openings within a session where they are gathered there.
[[nodiscard]] std::string event_text(const kit::Trip& trip, const advice::Advice& advice,
                                     const advice::Event& event, bool gathered);

}  // namespace skerry::words
