// Reading a TOML table key by key, as the table of fields says: all mistakes kept with line and column.
// Layer: files, private.
#pragma once

#include <toml++/toml.h>

#include <algorithm>
#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "rows.hpp"
#include "skerry/core/result.hpp"
#include "skerry/core/time.hpp"

namespace skerry::files {

/// Thrown to end the reading of a file that is nothing but mistakes; within_mistakes() catches it.
struct TooManyMistakes {};

/// All mistakes of one file, up to `most`: one more throws TooManyMistakes, so that a hostile file costs no
/// more than an honest one.
class Mistakes {
 public:
  static constexpr std::size_t most = 100;
  explicit Mistakes(std::string file) : file_(std::move(file)) {}
  void add(const toml::source_position& at, std::string found, std::string accepted, std::string mend = {});
  void add(Error error);
  [[nodiscard]] Where where(const toml::source_position& at) const;
  [[nodiscard]] bool empty() const { return errors_.empty(); }
  /// In the order of the file.
  [[nodiscard]] std::vector<Error> take();

 private:
  std::string file_;
  std::vector<Error> errors_;
  bool cut_ = false;
};

/// Reads until done or until there are too many mistakes; those found are then in their Mistakes.
template <class Read>
void within_mistakes(Read&& read) {
  try {
    read();
  } catch (const TooManyMistakes&) {
    // What was found before is told.
  }
}

/// One word or number with its place in the file.
struct Placed {
  std::string text;
  toml::source_position at;
  std::optional<double> share{};  ///< of Kind::shares, where told
};

/// One table. Every key asked for stands in its table of fields; `finish` reports all others.
class Cursor {
 public:
  /// fields: the name of its table of fields; title: how messages call it: "[trip]", "[[antenna]] 'efhw'".
  Cursor(const toml::table& table, std::string_view fields, std::string title, Mistakes& mistakes);
  void rename(std::string title) { title_ = std::move(title); }

  [[nodiscard]] bool has(std::string_view key) const { return table_->contains(key); }
  /// Position of the value of a key, or of the table when the key is absent.
  [[nodiscard]] toml::source_position at(std::string_view key) const;
  [[nodiscard]] Where where(std::string_view key) const { return mistakes_->where(at(key)); }
  /// The value as written, for messages: "mass_g = -5".
  [[nodiscard]] std::string shown(std::string_view key) const;

  /// Each returns nothing when the key is absent or wrong; wrong, or absent and required, is reported.
  std::optional<double> number(std::string_view key) { return number(key, field(key).range); }
  /// The same within a narrower range.
  std::optional<double> number(std::string_view key, const Range& range);
  std::optional<std::string> text(std::string_view key) { return text(key, field(key).example); }
  std::optional<std::string> text(std::string_view key, std::string_view example);
  /// Letters, digits, - and _, at most 40.
  std::optional<std::string> id(std::string_view key);
  std::optional<bool> flag(std::string_view key);
  [[nodiscard]] bool is_flag(std::string_view key) const;
  /// The field is absent and so is what would excuse it: see Field::unless.
  [[nodiscard]] bool lacks(std::string_view key) const;
  /// One of the field's words.
  std::optional<std::string> word(std::string_view key);
  /// The text under a key that may also hold a table; nothing and no report when it is anything else.
  std::optional<std::string> word_or_table(std::string_view key);
  /// A date, bare or in quotes.
  std::optional<Day> day(std::string_view key);
  std::vector<std::pair<Day, toml::source_position>> days(std::string_view key);
  /// Minutes after midnight of "05:30" or a bare time; "24:00" is 1440.
  std::optional<int> clock(std::string_view key);
  /// A list of words, or of words with shares; a single word counts as a list of one. Words given twice are
  /// reported, and so are shares of some only, or that do not add up to 1.
  std::vector<Placed> words(std::string_view key);
  /// Exactly as many numbers as the field says, which must be N.
  template <std::size_t N>
  std::optional<std::array<double, N>> numbers(std::string_view key) {
    std::array<double, N> out{};
    return numbers(key, out.data(), N) ? std::optional(out) : std::nullopt;
  }
  /// A list of rows of numbers: as many as the field counts, and the further one where it stands.
  std::vector<std::vector<double>> number_rows(std::string_view key);
  /// A table or inline table under the key.
  std::optional<Cursor> table(std::string_view key);
  /// The tables of [[key]]; a single [key] counts as one.
  std::vector<Cursor> tables(std::string_view key);

  /// Sets `out` when there is a good number.
  template <class Number>
  void into(Number& out, std::string_view key) {
    if (const auto value = number(key)) out = static_cast<Number>(*value);
  }
  /// Sets every member that the rows of T bind to a key.
  template <class T>
  void fill(T& out);
  /// The text of a key as another room reads it: parse(text, where) gives a Result; its error is told with
  /// the key.
  template <class T, class Parse>
  bool parse(T& out, std::string_view key, Parse&& parse) {
    const auto said = text(key);
    if (!said) return false;
    auto read = parse(*said, where(key));
    if (read) {
      out = std::move(*read);
    } else {
      pass_on(key, read.error());
    }
    return bool(read);
  }
  /// The same for each word of a list; what two of them mean alike stands once, and so do their shares. Errors
  /// are told as they are.
  template <class T, class Parse, class Id>
  void parse_each(std::vector<T>& out, std::string_view key, Parse&& parse, Id&& id,
                  std::vector<double>* shares = nullptr) {
    for (const auto& word : words(key)) {
      auto read = parse(word.text, mistakes_->where(word.at));
      if (!read) {
        mistakes_->add(std::move(read.error()));
      } else {
        const auto same =
            std::find_if(out.begin(), out.end(), [&](const T& x) { return id(x) == id(*read); });
        if (shares != nullptr && word.share) {
          if (same == out.end()) shares->push_back(0);
          (*shares)[static_cast<std::size_t>(same - out.begin())] += *word.share;
        }
        if (same == out.end()) out.push_back(std::move(*read));
      }
    }
  }

  void report(std::string_view key, std::string found, std::string accepted, std::string mend = {});
  /// found: "key = value" as it stands.
  void refuse(std::string_view key, std::string accepted, std::string mend = {});
  /// "[[rig]] 'x' without key"; accepted: as the field says.
  void missing(std::string_view key, std::string mend = {}) {
    missing(key, accepted(field(key)), std::move(mend));
  }
  void missing(std::string_view key, std::string accepted, std::string mend);
  /// "a beside b", reported at a, where both are there.
  void only_one(std::string_view a, std::string_view b);
  /// Passes on an Error of another room, told with the key where it stands.
  void pass_on(std::string_view key, Error error);
  /// Reports every key that is no field.
  void finish();
  [[nodiscard]] const std::string& title() const { return title_; }
  [[nodiscard]] Mistakes& mistakes() { return *mistakes_; }
  [[nodiscard]] int line() const;

 private:
  [[nodiscard]] const Field& field(std::string_view key) const { return files::field(*fields_, key); }
  bool numbers(std::string_view key, double* out, std::size_t count);
  /// The node, or null; null and required is reported.
  const toml::node* get(std::string_view key, const std::string& accepted);
  const toml::node* get(std::string_view key) { return get(key, accepted(field(key))); }

  const toml::table* table_;
  const Table* fields_;
  std::string title_;
  Mistakes* mistakes_;
};

template <class T>
void Cursor::fill(T& out) {
  for (const auto& row : rows<T>()) {
    const char* key = row.field.key;
    if (const auto* member = std::get_if<bool T::*>(&row.to)) {
      if (const auto value = flag(key)) out.** member = *value;
    } else if (const auto* real = std::get_if<double T::*>(&row.to)) {
      if (const auto value = number(key)) out.** real = *value * row.factor;
    } else if (const auto* may_be = std::get_if<std::optional<double> T::*>(&row.to)) {
      if (const auto value = number(key)) out.** may_be = *value * row.factor;
    } else if (const auto* count = std::get_if<int T::*>(&row.to)) {
      into(out.**count, key);
    }
  }
}

/// Fit to be shown and stored: not empty, at most 200 bytes, UTF-8, nothing that steers a screen.
[[nodiscard]] bool decent(std::string_view text);
/// A node as a person would name it: "5", "'heavy'", "a list", "a table".
[[nodiscard]] std::string show(const toml::node& node);

}  // namespace skerry::files
