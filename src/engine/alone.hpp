// Questions that need no trip to stay open: what the commands of the same names print.
// Layer: engine, private.
#pragma once

#include "json_reader.hpp"
#include "skerry/files/trip_file.hpp"

namespace skerry::engine {

/// What a trip is called where it has no file's name.
inline constexpr const char* trip_name = "trip";

/// "pack", "explain", "antenna" of {"trip": TOML}, "path" of {"question": the keys of `batch`}; each with "format"
/// ("text" without it), the first two with "columns". None: another name.
[[nodiscard]] std::optional<Checked<std::string>> answer_alone(const std::string& what, const Json& message,
                                                               const files::FileReader& files);

}  // namespace skerry::engine
