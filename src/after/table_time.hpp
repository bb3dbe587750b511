// Times as tables tell them.
// Room: after, internal. Sees core.
#pragma once

#include <string_view>

#include "skerry/core/result.hpp"
#include "skerry/core/time.hpp"

namespace skerry::after {

/// "2027-02-14T14:30[:00[.0]][Z]", a blank in place of T, or seconds since 1970 (9 or 10 figures).
/// Source: ISO 8601 (RFC 3339's profile, without offsets).
[[nodiscard]] Result<UtcTime> parse_utc(std::string_view text, const Where& where);

}  // namespace skerry::after
