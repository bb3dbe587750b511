// What to pack as a line of chosen columns, for many trips in one table.
// Layer: forms. Sees everything above it.
#pragma once

#include <string>
#include <vector>

namespace skerry::forms {

/// Every column there is: "id", and keys of skerry.pack/1 that are one number or word; of "carry" and "leave" the ids, with
/// blanks between.
[[nodiscard]] const std::vector<std::string>& pack_column_names();

/// CSV with one line for each trip.
class PackTable {
 public:
  ///   names  of pack_column_names() (asserted), in the order that is wanted
  explicit PackTable(std::vector<std::string> names);
  [[nodiscard]] std::string head() const;
  /// `pack_json`: the answer; `id_json`: what stands in the column "id".
  [[nodiscard]] std::string row(const std::string& pack_json, const std::string& id_json) const;

 private:
  std::vector<std::string> names_;
};

/// The answer on one line with its line break: the asker's id first, where there is one, and the warnings last.
[[nodiscard]] std::string pack_line(const std::string& pack_json, const std::string& id_json,
                                    const std::vector<std::string>& warnings);

}  // namespace skerry::forms
