// Every key of the trip file, said once: where it stands, what it may hold, what it means, what holds without
// it. Reader, errors, JSON Schema, the starter's remarks and the options of the same name take it from here.
// Layer: files. Sees core.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace skerry::files {

/// What a number may be, both ends included, and in which unit people read it.
struct Range {
  double least = 0, most = 0;
  const char* unit = "";  ///< "W"; in brackets where it is a remark: "(quality of the coil)"
  bool whole = false;
};
/// "1 to 40 W", "a whole number, 1 to 12".
[[nodiscard]] std::string to_text(const Range& range);
/// Finite, within the range, whole where it says so.
[[nodiscard]] bool good(double value, const Range& range);

enum class Kind {
  text,           ///< in quotes
  id,             ///< a short name, unique among its like
  word,           ///< one of `words`
  words,          ///< a list of text, of `words` where there are any
  ids,            ///< a list of short names
  shares,         ///< a list of text, or of tables with a name and a share of 0..1
  flag,           ///< true or false
  number,         ///< within `range`
  numbers,        ///< `count` of them
  rows,           ///< a list of lists of `count` numbers, to which a `further` one may be added
  day,            ///< 2027-02-13
  days,           ///< a list of them
  clock,          ///< "05:30"
  table,          ///< a table of its own, `table`
  tables,         ///< at most `count` of them, [[key]]
  name_or_table,  ///< a name, or a table that says it all
  flag_or_ids,    ///< true, or a list of short names
};

/// One key.
struct Field {
  const char* key = "";
  Kind kind = Kind::text;
  const char* help = "";           ///< what it means, a phrase that begins small; the unit stands in `range`
  Range range = {};                ///< of a number, or of each of several
  std::optional<Range> last = {};  ///< of the last of several, where it is another
  std::optional<Range> further = {};  ///< of a number that may follow the `count` ones of a row
  int count = 0;
  bool required = false;
  /// Required as well where a trip asks for it: unless that other key stands beside it (empty: none does).
  std::optional<const char*> unless = {};
  const char* example = "";  ///< as messages show it
  std::vector<const char*> words = {};
  const char* table = "";  ///< the name of the Table that stands under this key
  const char* noun = "";   ///< of a number, as options call it: "a power in watts"
  /// What holds without it: a number, or 1 and 0 for true and false; nullopt: nothing, or it hangs on others.
  std::optional<double> otherwise = {};
  /// Range of the i-th of several.
  [[nodiscard]] const Range& range_of(int i) const { return last && i + 1 == count ? *last : range; }
};

/// What may stand under one head.
struct Table {
  const char* name = "";  ///< "rig", "region.partner"; "trip file": what stands at the top
  std::vector<Field> fields;
};

/// "trip file" (from which all others hang), "trip", "site", "site.ground", "site.terrain", "session", "region",
/// "region.partner", "people", "licence", "mode", "rig", "antenna", "antenna.wire", "antenna.load", "antenna.feed",
/// "support", "cable", "tuner", "battery", "bag", "item"; "library file"; "learned file", "learned",
/// "learned.people"; and "question": what a path asks, by options or in a line of `batch`.
/// The name must be one of these (asserted).
[[nodiscard]] const Table& fields_of(std::string_view table);
/// One of its fields, by its key (asserted).
[[nodiscard]] const Field& field(const Table& table, std::string_view key);
[[nodiscard]] const Field& field(std::string_view table, std::string_view key);
/// What a field accepts, as errors say it: "1 to 40 W", "text in quotes, as \"quiet\"", "true or false".
[[nodiscard]] std::string accepted(const Field& field);

}  // namespace skerry::files
