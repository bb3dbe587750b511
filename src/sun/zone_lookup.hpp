// Finding a zone by name, with the tz database handed in, so that its absence can be tried.
// Layer: sun, private. Sees core.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "skerry/core/result.hpp"

namespace skerry::sun {

/// What is asked of a tz database. Both may throw: an unreadable database throws from `names`.
struct ZoneDatabase {
  std::function<std::vector<std::string>()> names;
  std::function<const void*(const std::string&)> locate;  ///< throws when there is no such zone
};

[[nodiscard]] Result<const void*> locate_zone(std::string_view name, const Where& where,
                                              const ZoneDatabase& database);

/// "+04:00", "-3:30", "+0545", "+4", "UTC+4", "UTC-03:30" as seconds east; nullopt when it is no such thing.
/// An offset outside -12:00..+14:00 is not accepted (no zone has one).
[[nodiscard]] std::optional<int> parse_offset_s(std::string_view text);

}  // namespace skerry::sun
