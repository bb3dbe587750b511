// What a page sets beside a trip: power, date, the Sun; and how that is written into the trip file.
// Layer: engine, private.
#pragma once

#include <optional>
#include <set>
#include <string>

#include "json_reader.hpp"
#include "skerry/kit/trip.hpp"

namespace skerry::engine {

/// Absent: as the trip file has it.
struct Settings {
  std::optional<double> power_w;  ///< of every rig
  std::optional<double> r12;
  std::optional<Day> date;  ///< the first day; all other days move with it
  bool operator==(const Settings&) const = default;
};
[[nodiscard]] Settings read_settings(const Json& object, std::vector<Error>& errors);

/// The trip file with the settings written into it, and `always = true` for the things of these lines; comments
/// and all else stay. `trip` was read from `text`.
[[nodiscard]] Result<std::string> with_settings(const std::string& text, const kit::Trip& trip,
                                                const Settings& settings, const std::set<int>& always = {});
/// What of the settings no trip file can say, as it stands in a library: the power of its rigs.
void apply_to_library(kit::Trip& trip, const Settings& settings);

}  // namespace skerry::engine
