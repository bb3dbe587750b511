// Questions that need no trip to stay open: what the commands of the same names print.
// Layer: engine, private.
#pragma once

#include <map>
#include <optional>
#include <string>

#include "asked.hpp"
#include "skerry/engine/session.hpp"

namespace skerry::engine {

/// What a trip is called where it has no file's name.
inline constexpr const char* trip_name = "trip";

/// The questions of Session that end with "text". None: another name.
[[nodiscard]] std::optional<Checked<Said>> answer_alone(const std::string& what, const Json& message,
                                                        const Surroundings& around);

/// What was given with a trip: {"files": {NAME: CONTENT}}; and a reader of it, that asks `others` for what is not there.
[[nodiscard]] std::map<std::string, std::string> files_of(const Json& message);
[[nodiscard]] files::FileReader from_files(std::map<std::string, std::string> files,
                                           const files::FileReader& others);

// Some of them, in files of their own.
[[nodiscard]] Checked<Said> sun_of(const Json& message);
[[nodiscard]] Checked<Said> sky_of(const Json& message);
[[nodiscard]] Checked<Said> score_of(const Json& message);

}  // namespace skerry::engine
