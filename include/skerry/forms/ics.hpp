// Events as iCalendar.
// Layer: forms. Sees everything above it. Computes nothing.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "skerry/advice/agenda.hpp"

namespace skerry::forms {

struct IcsOptions {
  int alarm_minutes = 15;       ///< before sessions and leaving; 0: none
  bool opening_alarms = false;  ///< openings ring too
  UtcTime made{};               ///< DTSTAMP: when the calendar was made (RFC 5545 section 3.8.7.2)
};

/// RFC 5545: CRLF, folded at 75 octets, text escaped. Sessions and leaving carry the site's zone (with a
/// VTIMEZONE that holds its rules of those days), openings are in UTC; those within a session (gathered())
/// stand in its description by region, on the site's clock. UIDs are hashes of the trip's name and the
/// events' keys: made again, the calendar updates. The same trip and `made` give the same bytes.
[[nodiscard]] std::string ics_text(const kit::Trip& trip, const advice::Advice& advice,
                                   const std::vector<advice::Event>& events, const IcsOptions& options = {});

/// TEXT value (section 3.3.11): backslash, semicolon, comma and line breaks escaped, other control characters
/// left out.
[[nodiscard]] std::string ics_escaped(std::string_view text);
/// One content line with its CRLF, folded (section 3.1): no line over 75 octets, no UTF-8 character cut.
[[nodiscard]] std::string ics_folded(std::string_view line);

}  // namespace skerry::forms
