// A path's answer as lines of chosen columns, for many answers in one table.
// Layer: forms. Sees everything above it.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "skerry/circuit/path_answer.hpp"

namespace skerry::forms {

/// Every column there is: those of path_csv in their order, then more.
[[nodiscard]] std::vector<std::string> path_column_names();

/// CSV with one line for each way, hour and frequency.
class PathTable {
 public:
  ///   names  of path_column_names() (asserted), in the order that is wanted
  explicit PathTable(const std::vector<std::string>& names);
  [[nodiscard]] std::string head() const;
  /// What of an answer these columns show.
  [[nodiscard]] circuit::PathQuestion::Wanted wanted() const;
  /// `id_json`: what stands in the column "id"; `hours`: those that are written.
  [[nodiscard]] std::string rows(const circuit::PathAnswer& answer, const std::string& id_json,
                                 const std::array<bool, 24>& hours) const;

 private:
  std::vector<std::size_t> which_;
};

}  // namespace skerry::forms
