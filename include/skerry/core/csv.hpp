// Tables that people bring: comma-separated, with a header.
// Layer: core. Sees nothing.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "skerry/core/result.hpp"

namespace skerry {

struct CsvRow {
  int line = 0;  ///< where the record begins, from 1
  std::vector<std::string> cells;
};
struct CsvTable {
  std::vector<std::string> header;  ///< trimmed, lower case
  std::vector<CsvRow> rows;
  /// Position of the first of these names in the header; -1: none of them stands there.
  [[nodiscard]] int column(std::initializer_list<std::string_view> names) const;
};

/// Source: RFC 4180; lines that begin with # and empty lines are passed over, either line end is taken, a
/// byte order mark is skipped. Cells are trimmed unless quoted. A record with another number of cells than
/// the header stays as it is: the caller decides.
///   errors  no header; a name twice in it; a quote that is never closed; over `most` bytes
[[nodiscard]] Result<CsvTable> parse_csv(std::string_view text, const std::string& file,
                                         std::size_t most = 512U << 20U);

}  // namespace skerry
