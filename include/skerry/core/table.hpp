// The small TOML tables below data/: rows of named numbers and words.
// Layer: core. Sees nothing else.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace skerry {

/// One row `[[name]]` of a data table.
class TableRow {
 public:
  using Value = std::variant<double, bool, std::string, std::vector<double>, std::vector<std::string>>;
  explicit TableRow(std::map<std::string, Value> cells) : cells_(std::move(cells)) {}

  [[nodiscard]] bool has(std::string_view key) const;
  /// The cell, of that type; a missing or wrongly typed cell in our own data is our bug and aborts, naming
  /// it.
  [[nodiscard]] double number(std::string_view key) const;
  [[nodiscard]] const std::string& text(std::string_view key) const;
  [[nodiscard]] std::string text_or(std::string_view key, std::string otherwise) const;
  [[nodiscard]] bool flag_or(std::string_view key, bool otherwise) const;
  [[nodiscard]] const std::vector<double>& numbers(std::string_view key) const;
  [[nodiscard]] std::vector<std::string> texts_or_empty(std::string_view key) const;

 private:
  [[nodiscard]] const Value& at(std::string_view key) const;
  std::map<std::string, Value> cells_;
};

/// All rows of array-of-tables `[[name]]` in data/FILE, in file order. Parsed at each call: keep the
/// result.
[[nodiscard]] std::vector<TableRow> table_rows(std::string_view file, std::string_view name);

}  // namespace skerry
