// The data files, carried inside the program.
// Layer: core. Sees nothing.
#pragma once

#include <string_view>

namespace skerry {

namespace detail {
struct EmbeddedEntry {
  const char* name;
  const char* begin;
  const char* end;
};
extern const EmbeddedEntry embedded_entries[];
}  // namespace detail

/// The bytes of data/NAME, for example "bands/bands.toml". Free: nothing is copied or parsed.
/// A name that is not there is our bug: aborts with a message naming it.
[[nodiscard]] std::string_view embedded(std::string_view name);
/// The same of what a build may lack: empty when it does.
[[nodiscard]] std::string_view embedded_if(std::string_view name);

}  // namespace skerry
