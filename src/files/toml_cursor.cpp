#include "toml_cursor.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "skerry/core/text.hpp"

namespace skerry::files {

void Mistakes::add(Error error) {
  if (errors_.size() >= most) {
    cut_ = true;
    throw TooManyMistakes{};
  }
  errors_.push_back(std::move(error));
}

void Mistakes::add(const toml::source_position& at, std::string found, std::string accepted,
                   std::string mend) {
  add(Error{where(at), std::move(found), std::move(accepted), std::move(mend)});
}

Where Mistakes::where(const toml::source_position& at) const {
  return {file_, static_cast<int>(at.line), static_cast<int>(at.column)};
}

std::vector<Error> Mistakes::take() {
  std::stable_sort(errors_.begin(), errors_.end(), [](const Error& a, const Error& b) {
    return std::pair(a.where.line, a.where.column) < std::pair(b.where.line, b.where.column);
  });
  if (cut_) {
    Error more;
    more.where.file = file_;
    more.found = fmt::format("more than {} mistakes", most);
    more.mend = "mend these first";
    errors_.push_back(std::move(more));
  }
  return std::move(errors_);
}

std::string show(const toml::node& node) {
  if (const auto* s = node.as_string()) return "'" + one_line(s->get()) + "'";
  if (const auto* i = node.as_integer()) return fmt::format("{}", i->get());
  if (const auto* f = node.as_floating_point()) return fmt::format("{:g}", f->get());
  if (const auto* b = node.as_boolean()) return b->get() ? "true" : "false";
  if (const auto* d = node.as_date()) {
    return fmt::format("{:04}-{:02}-{:02}", int{d->get().year}, int{d->get().month}, int{d->get().day});
  }
  if (const auto* t = node.as_time())
    return fmt::format("{:02}:{:02}:{:02}", t->get().hour, t->get().minute, t->get().second);
  if (node.is_date_time()) return "a date with a time";
  if (const auto* list = node.as_array()) {
    if (list->is_array_of_tables()) return "[[tables]]";
    if (list->size() > 6) return fmt::format("a list of {}", list->size());
    std::string out = "[";
    for (const auto& item : *list)
      out += (out.size() > 1 ? ", " : "") + (item.is_array() ? std::string("[...]") : show(item));
    return out + "]";
  }
  return "a table";
}

bool decent(std::string_view text) {
  if (trim(text).empty() || text.size() > 200) return false;
  while (!text.empty()) {
    const auto c = take_character(text);
    if (!c || steers_screen(*c)) return false;
  }
  return true;
}

namespace {

std::optional<int> clock_minutes(std::string_view text) {
  if (text.size() != 5 || text[2] != ':') return std::nullopt;
  for (const std::size_t i : {0U, 1U, 3U, 4U}) {
    if (text[i] < '0' || text[i] > '9') return std::nullopt;
  }
  const int minutes = ((text[0] - '0') * 10 + (text[1] - '0')) * 60 + (text[3] - '0') * 10 + (text[4] - '0');
  if (text[3] > '5' || minutes > 24 * 60) return std::nullopt;
  return minutes;
}

}  // namespace

Cursor::Cursor(const toml::table& table, std::string_view fields, std::string title, Mistakes& mistakes)
    : table_(&table), fields_(&fields_of(fields)), title_(std::move(title)), mistakes_(&mistakes) {}

int Cursor::line() const {
  return static_cast<int>(table_->source().begin.line);
}

toml::source_position Cursor::at(std::string_view key) const {
  const auto* node = table_->get(key);
  return node != nullptr ? node->source().begin : table_->source().begin;
}

std::string Cursor::shown(std::string_view key) const {
  const auto* node = table_->get(key);
  return fmt::format("{} = {}", key, node != nullptr ? show(*node) : "nothing");
}

const toml::node* Cursor::get(std::string_view key, const std::string& accepted) {
  const auto* node = table_->get(key);
  if (node == nullptr && field(key).required) missing(key, accepted, {});
  return node;
}

void Cursor::report(std::string_view key, std::string found, std::string accepted, std::string mend) {
  mistakes_->add(at(key), std::move(found), std::move(accepted), std::move(mend));
}

void Cursor::refuse(std::string_view key, std::string accepted, std::string mend) {
  report(key, shown(key), std::move(accepted), std::move(mend));
}

void Cursor::missing(std::string_view key, std::string accepted, std::string mend) {
  mistakes_->add(table_->source().begin, fmt::format("{} without {}", title_, key),
                 fmt::format("{} = {}", key, accepted), std::move(mend));
}

void Cursor::pass_on(std::string_view key, Error error) {
  error.where = where(key);
  error.found = fmt::format("{}: {}", key, error.found);
  mistakes_->add(std::move(error));
}

void Cursor::only_one(std::string_view a, std::string_view b) {
  if (has(a) && has(b)) report(a, fmt::format("{} beside {}", a, b), "only one of them");
}

std::optional<double> Cursor::number(std::string_view key, const Range& range) {
  const auto* node = get(key);
  if (node == nullptr) return std::nullopt;
  const auto value = node->is_number() ? node->value<double>() : std::nullopt;
  if (!value || !good(*value, range)) {
    std::string mend;
    if (node->is_string() && to_number(node->as_string()->get())) mend = "a number stands without quotes";
    refuse(key, value ? to_text(range) : "a number, " + to_text(range), mend);
    return std::nullopt;
  }
  return value;
}

std::optional<std::string> Cursor::text(std::string_view key, std::string_view example) {
  const std::string accepted = fmt::format("text in quotes, as \"{}\"", example);
  const auto* node = get(key, accepted);
  if (node == nullptr) return std::nullopt;
  const auto* value = node->as_string();
  if (value == nullptr || !decent(value->get())) {
    refuse(key, accepted,
           value == nullptr ? "" : "1 to 200 characters on one line, without control or direction marks");
    return std::nullopt;
  }
  return value->get();
}

std::optional<std::string> Cursor::id(std::string_view key) {
  const auto* node = get(key);
  if (node == nullptr) return std::nullopt;
  const auto* value = node->as_string();
  const auto fits = [](const std::string& s) {
    return !s.empty() && s.size() <= 40 && std::all_of(s.begin(), s.end(), [](char c) {
      return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' ||
             c == '_';
    });
  };
  if (value == nullptr || !fits(value->get())) {
    refuse(key, accepted(field(key)));
    return std::nullopt;
  }
  return value->get();
}

std::optional<bool> Cursor::flag(std::string_view key) {
  const auto* node = get(key);
  if (node == nullptr) return std::nullopt;
  if (const auto* value = node->as_boolean()) return value->get();
  refuse(key, "true or false", "without quotes");
  return std::nullopt;
}

bool Cursor::is_flag(std::string_view key) const {
  const auto* node = table_->get(key);
  return node != nullptr && node->is_boolean();
}

bool Cursor::lacks(std::string_view key) const {
  const auto& unless = field(key).unless;
  if (!unless || has(key)) return false;
  const auto* other = table_->get(*unless);
  return other == nullptr || (other->is_boolean() && !other->as_boolean()->get());
}

std::optional<std::string> Cursor::word(std::string_view key) {
  const auto* node = get(key);
  if (node == nullptr) return std::nullopt;
  const auto* value = node->as_string();
  const std::vector<std::string> words(field(key).words.begin(), field(key).words.end());
  if (value == nullptr || std::find(words.begin(), words.end(), value->get()) == words.end()) {
    refuse(key, accepted(field(key)), value == nullptr ? "" : did_you_mean(value->get(), words));
    return std::nullopt;
  }
  return value->get();
}

std::optional<std::string> Cursor::word_or_table(std::string_view key) {
  const auto* node = table_->get(key);
  const auto* value = node != nullptr ? node->as_string() : nullptr;
  return value != nullptr ? std::optional(value->get()) : std::nullopt;
}

namespace {
std::optional<Day> day_of(const toml::node& node, const Where& where, std::string_view key,
                          Mistakes& mistakes) {
  Result<Day> day = fail(where, fmt::format("{} = {}", key, show(node)), "a date like 2027-02-14");
  if (node.is_date() || node.is_string()) {
    day = parse_day(node.is_date() ? show(node) : node.as_string()->get(), where);
    if (!day) day.error().found = fmt::format("{} = {}", key, show(node));
  }
  if (day) return *day;
  mistakes.add(day.error());
  return std::nullopt;
}
}  // namespace

std::optional<Day> Cursor::day(std::string_view key) {
  const auto* node = get(key);
  if (node == nullptr) return std::nullopt;
  return day_of(*node, where(key), key, *mistakes_);
}

std::vector<std::pair<Day, toml::source_position>> Cursor::days(std::string_view key) {
  std::vector<std::pair<Day, toml::source_position>> out;
  const auto* node = get(key);
  if (node == nullptr) return out;
  const auto* list = node->as_array();
  if (list == nullptr || list->empty()) {
    refuse(key, accepted(field(key)));
    return out;
  }
  for (const auto& item : *list) {
    if (const auto day = day_of(item, mistakes_->where(item.source().begin), key, *mistakes_)) {
      out.emplace_back(*day, item.source().begin);
    }
  }
  return out;
}

std::optional<int> Cursor::clock(std::string_view key) {
  const auto* node = get(key);
  if (node == nullptr) return std::nullopt;
  if (const auto* t = node->as_time()) {
    if (t->get().second == 0 && t->get().nanosecond == 0)
      return int{t->get().hour} * 60 + int{t->get().minute};
    refuse(key, "whole minutes, as 06:00");
    return std::nullopt;
  }
  if (const auto* s = node->as_string()) {
    if (const auto minutes = clock_minutes(s->get())) return minutes;
  }
  refuse(key, accepted(field(key)));
  return std::nullopt;
}

std::optional<Cursor> Cursor::table(std::string_view key) {
  const auto* node = table_->get(key);
  if (node == nullptr) return std::nullopt;
  if (!node->is_table()) {
    refuse(key, accepted(field(key)));
    return std::nullopt;
  }
  return Cursor(*node->as_table(), field(key).table, fmt::format("{} of {}", key, title_), *mistakes_);
}

std::vector<Cursor> Cursor::tables(std::string_view key) {
  std::vector<Cursor> out;
  const auto* node = table_->get(key);
  if (node == nullptr) return out;
  const Field& f = field(key);
  const auto most = static_cast<std::size_t>(f.count);
  if (const auto* one = node->as_table()) {
    out.emplace_back(*one, f.table, fmt::format("[{}]", key), *mistakes_);
    return out;
  }
  const auto* list = node->as_array();
  if (list == nullptr || list->empty() || !list->is_array_of_tables()) {
    refuse(key, accepted(f));
    return out;
  }
  if (list->size() > most) {
    mistakes_->add(list->get(most)->source().begin, fmt::format("{} tables [[{}]]", list->size(), key),
                   fmt::format("at most {}", most));
  }
  for (const auto& item : *list) {
    if (out.size() == most) break;
    out.emplace_back(*item.as_table(), f.table, fmt::format("[[{}]]", key), *mistakes_);
  }
  return out;
}

void Cursor::finish() {
  std::vector<std::string> known;
  for (const auto& f : fields_->fields) known.emplace_back(f.key);
  std::vector<std::string> sorted = known;
  std::sort(sorted.begin(), sorted.end());
  for (const auto& [key, value] : *table_) {
    if (std::find(known.begin(), known.end(), key.str()) != known.end()) continue;
    mistakes_->add(key.source().begin, fmt::format("unknown key '{}' in {}", one_line(key.str()), title_),
                   fmt::format("one of: {}", fmt::join(sorted, ", ")), did_you_mean(key.str(), known));
  }
}

}  // namespace skerry::files
