// Reading a TOML table key by key: typed, within bounds, all mistakes kept with line and column.
// Layer: files, private. Sees core.
#pragma once

#include <toml++/toml.h>

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

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

/// What a number may be, and in which unit people read it.
struct Bounds {
  double low = 0, high = 0;
  const char* unit = "";
  bool whole = false;
};

/// One word or number with its place in the file.
struct Placed {
  std::string text;
  toml::source_position at;
};

enum class Need { optional, required };

/// One table. Every getter marks its key as known; `finish` reports all others.
class Cursor {
 public:
  /// title: how messages call the table: "[trip]", "[[antenna]] 'efhw'".
  Cursor(const toml::table& table, std::string title, Mistakes& mistakes);
  void rename(std::string title) { title_ = std::move(title); }

  [[nodiscard]] bool has(std::string_view key) const { return table_->contains(key); }
  /// Position of the value of a key, or of the table when the key is absent.
  [[nodiscard]] toml::source_position at(std::string_view key) const;
  [[nodiscard]] Where where(std::string_view key) const { return mistakes_->where(at(key)); }
  /// The value as written, for messages: "mass_g = -5".
  [[nodiscard]] std::string shown(std::string_view key) const;

  /// Each returns nothing when the key is absent or wrong; wrong, or absent and required, is reported.
  std::optional<double> number(std::string_view key, const Bounds& bounds, Need need = Need::optional);
  /// Sets `out` when there is a good value.
  void number_into(double& out, std::string_view key, const Bounds& bounds, Need need = Need::optional);
  void whole_into(int& out, std::string_view key, int low, int high, const char* unit);
  std::optional<std::string> text(std::string_view key, std::string_view example, Need need = Need::optional);
  /// Letters, digits, - and _, at most 40.
  std::optional<std::string> id(std::string_view key, Need need = Need::required);
  void flag_into(bool& out, std::string_view key);
  [[nodiscard]] bool is_flag(std::string_view key) const;
  /// One of the words.
  std::optional<std::string> word(std::string_view key, const std::vector<std::string>& words,
                                  Need need = Need::optional);
  /// The text under a key that may also hold a table; nothing and no report when it is anything else.
  std::optional<std::string> word_or_table(std::string_view key);
  /// A date, bare or in quotes.
  std::optional<Day> day(std::string_view key, Need need = Need::optional);
  std::vector<std::pair<Day, toml::source_position>> days(std::string_view key);
  /// Minutes after midnight of "05:30" or a bare time; "24:00" is 1440.
  std::optional<int> clock(std::string_view key, Need need = Need::optional);
  /// A list of words; a single word counts as a list of one. Words given twice are reported.
  std::vector<Placed> words(std::string_view key, std::string_view example, Need need = Need::optional);
  /// Exactly n numbers.
  template <std::size_t N>
  std::optional<std::array<double, N>> numbers(std::string_view key, const std::array<Bounds, N>& bounds,
                                               std::string_view example, Need need = Need::optional) {
    std::array<double, N> out{};
    return numbers(key, bounds.data(), out.data(), N, example, need) ? std::optional(out) : std::nullopt;
  }
  /// A list of pairs of numbers.
  std::vector<std::array<double, 2>> pairs(std::string_view key, const std::array<Bounds, 2>& bounds,
                                           std::string_view example);
  /// A table or inline table under the key.
  std::optional<Cursor> table(std::string_view key, std::string_view example);
  /// The tables of [[key]]; a single [key] counts as one. At most `most`.
  std::vector<Cursor> tables(std::string_view key, std::size_t most);

  void report(std::string_view key, std::string found, std::string accepted, std::string mend = {});
  /// found: "key = value" as it stands.
  void refuse(std::string_view key, std::string accepted, std::string mend = {});
  /// "[[rig]] 'x' without key".
  void missing(std::string_view key, std::string accepted, std::string mend = {});
  void known(std::string_view key) { remember(key); }
  /// Passes on an Error of another room, told with the key where it stands.
  void pass_on(std::string_view key, Error error);
  /// The same for a mistake inside another file, whose own place goes into the text.
  void pass_on_file(std::string_view key, const std::string& file, Error error);
  /// Reports every key that nobody asked for.
  void finish();
  [[nodiscard]] const std::string& title() const { return title_; }
  [[nodiscard]] Mistakes& mistakes() { return *mistakes_; }
  [[nodiscard]] int line() const;

 private:
  bool numbers(std::string_view key, const Bounds* bounds, double* out, std::size_t count,
               std::string_view example, Need need);
  void remember(std::string_view key);
  /// The node, or null; null and required is reported.
  const toml::node* get(std::string_view key, Need need, const std::string& accepted);

  const toml::table* table_;
  std::string title_;
  Mistakes* mistakes_;
  std::vector<std::string> known_;
};

/// Fit to be shown and stored: not empty, at most 200 bytes, UTF-8, nothing that steers a screen.
[[nodiscard]] bool decent(std::string_view text);
/// Finite, within the bounds, whole where they say so.
[[nodiscard]] bool good(double value, const Bounds& bounds);
/// "1 to 40 W", "a whole number, 1 to 12".
[[nodiscard]] std::string to_text(const Bounds& bounds);
/// A node as a person would name it: "5", "'heavy'", "a list", "a table".
[[nodiscard]] std::string show(const toml::node& node);

}  // namespace skerry::files
