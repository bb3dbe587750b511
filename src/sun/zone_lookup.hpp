// Finding a zone by name in the tz database's tables that are compiled in, and what clocks show there.
// Layer: sun, private. Sees core.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "skerry/core/result.hpp"

namespace skerry::sun {

/// Sorted.
[[nodiscard]] const std::vector<std::string>& zone_names();
/// The steps of a zone, as data/zones/tables.py wrote them: 18 bytes each. Never empty for a zone found.
[[nodiscard]] Result<std::string_view> locate_zone(std::string_view name, const Where& where);

/// Seconds east of Greenwich at a moment (seconds since 1970 UTC). Outside 1950..2050 the nearest year's.
[[nodiscard]] int offset_at(std::string_view steps, std::int64_t utc_s);
/// What the clock is called then: "CEST", or "+04" where the database has no letters for it.
[[nodiscard]] std::string_view name_at(std::string_view steps, std::int64_t utc_s);
/// The offset by what a clock there shows, told as seconds since 1970 of its own: in a gap the offset before it,
/// of two the first.
[[nodiscard]] int offset_by_clock(std::string_view steps, std::int64_t local_s);

/// "+04:00", "-3:30", "+0545", "+4", "UTC+4", "UTC-03:30" as seconds east; nullopt when it is no such thing.
/// An offset outside -12:00..+14:00 is not accepted (no zone has one).
[[nodiscard]] std::optional<int> parse_offset_s(std::string_view text);

}  // namespace skerry::sun
