// What one owns, kept in a file of its own across trips: a plain TOML file of the trip file's own tables.
// Layer: files. Sees everything above it.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "skerry/kit/trip.hpp"

namespace skerry::files {

/// Kinds of things, as tables are headed.
[[nodiscard]] const std::vector<std::string>& library_kinds();

/// All things of a library, in the order of the file, and every mistake in it: [[rig]], [[antenna]],
/// [[support]], [[cable]], [[tuner]], [[battery]], [[bag]] and [[item]] as in a trip file; nothing need be
/// there. `needs`, `supports` and `at_site` may name what only the trip has. At most 1 MB.
[[nodiscard]] Checked<std::vector<kit::LibraryEntry>> read_library(std::string_view text,
                                                                   const std::string& file);

/// A thing to be added: key and value as typed, in the order in which they shall stand.
struct NewEntry {
  std::string kind, id;
  std::vector<std::pair<std::string, std::string>> fields;
};

/// A value as typed, in TOML. Keys that end in _g, _kg, _m, _mm or _cm take units and are converted (to four
/// significant decimals of the key's own unit: 1 mg, 0.1 mm); size_cm, inner_cm and tube_cm take "8 x 6 x 2
/// in". Numbers, true and false stay; "a, b" becomes a list; what begins with [ or { is taken as TOML; all
/// else is text. Errors carry "KEY".
[[nodiscard]] Result<std::string> toml_value(const std::string& key, const std::string& typed);

/// The library with one thing more, below what stands there (which stays byte for byte). The whole is read
/// again before it is given back, so nothing gets in that a trip could not read.
///   errors  an id that is there already; a kind that is unknown; whatever the trip reader would refuse,
///           placed in the new entry ("new entry:3")
[[nodiscard]] Checked<std::string> with_entry(std::string_view text, const std::string& file,
                                              const NewEntry& entry);

/// A name made into an id: "6 m travel pole" -> "6-m-travel-pole"; letters, digits and dashes, at most 40.
[[nodiscard]] std::string id_of_name(std::string_view name);

}  // namespace skerry::files
