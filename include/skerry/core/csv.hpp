// Tables that people bring: comma-separated, with a header.
// Layer: core. Sees nothing.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "skerry/core/result.hpp"

namespace skerry {

struct CsvRow {
  int line = 0;  ///< where the record begins, from 1
  std::vector<std::string> cells;
};
struct CsvHead {
  std::vector<std::string> header;  ///< trimmed, lower case
  /// Position of the first of these names in the header; none: none of them stands there.
  [[nodiscard]] std::optional<std::size_t> column(std::initializer_list<std::string_view> names) const;
};

/// A table record by record: memory for one of them, however many there are.
/// Source: RFC 4180; lines that begin with # and empty lines are passed over, either line end is taken, a
/// byte order mark is skipped. Cells are trimmed unless quoted. A record with another number of cells than
/// the header stays as it is: the caller decides. A thousand cells of it are kept at most.
class CsvReader {
 public:
  /// The text must outlive the reader.
  ///   errors  UTF-16; no header, or one parted by semicolons or tabs; a name twice in it; a thousand columns or more; over `most` bytes
  [[nodiscard]] static Result<CsvReader> open(std::string_view text, const std::string& file,
                                              std::size_t most = 512U << 20U);
  [[nodiscard]] const CsvHead& head() const { return head_; }
  /// The next record into `row`, whose memory is used again; false: there is none.
  ///   errors  a quote that is never closed
  [[nodiscard]] Result<bool> next(CsvRow& row);

 private:
  CsvReader(std::string_view text, std::string file) : text_(text), file_(std::move(file)) {}
  void skip_lines();
  void record(std::vector<std::string>& cells);
  void cell(std::string& out);
  void quoted(std::string& out);

  std::string_view text_;
  std::string file_;
  CsvHead head_;
  std::size_t at_ = 0;
  int line_ = 1;
  bool unclosed_ = false;
};

/// A small table whole.
struct CsvTable : CsvHead {
  std::vector<CsvRow> rows;
};
/// Errors as CsvReader has them.
[[nodiscard]] Result<CsvTable> parse_csv(std::string_view text, const std::string& file,
                                         std::size_t most = 512U << 20U);

}  // namespace skerry
