// The data files, carried inside the program.
// Layer: core. Sees nothing.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

namespace skerry {

namespace detail {
struct EmbeddedEntry {
  const char* name;
  const char* begin;
  const char* end;
  /// Bytes of a row of a file that is kept by columns (all first bytes, all second bytes, and so on); 1: as it is.
  unsigned row_bytes;
};
extern const EmbeddedEntry embedded_entries[];
/// The bytes of a file that is kept by columns.
[[nodiscard]] std::string by_rows(std::string_view columns, std::size_t row_bytes);
}  // namespace detail

/// The bytes of data/NAME, for example "bands/bands.toml". Free: nothing is copied or parsed (in the
/// module for a page some are put together at the first call).
/// A name that is not there is our bug: aborts with a message naming it.
[[nodiscard]] std::string_view embedded(std::string_view name);
/// The same of what a build may lack: empty when it does.
[[nodiscard]] std::string_view embedded_if(std::string_view name);

}  // namespace skerry
