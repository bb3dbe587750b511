#include "skerry/core/table.hpp"

#include <fmt/format.h>
#include <toml++/toml.h>

#include <functional>
#include <map>
#include <memory>
#include <mutex>

#include "skerry/core/embedded.hpp"
#include "skerry/core/result.hpp"

namespace skerry {

namespace {

std::optional<TableRow::Value> cell(const toml::node& node) {
  if (const auto n = node.value<double>(); n && node.is_number()) return *n;
  if (const auto b = node.as_boolean()) return b->get();
  if (const auto s = node.as_string()) return s->get();
  if (const auto d = node.as_date()) {
    return fmt::format("{:04}-{:02}-{:02}", d->get().year, d->get().month, d->get().day);
  }
  if (const auto* list = node.as_array()) {
    if (!list->empty() && list->front().is_string()) {
      std::vector<std::string> words;
      for (const auto& item : *list) words.push_back(item.value_or(std::string{}));
      return words;
    }
    std::vector<double> numbers;
    for (const auto& item : *list) numbers.push_back(item.value_or(0.0));
    return numbers;
  }
  return std::nullopt;
}

}  // namespace

const TableRow::Value& TableRow::at(std::string_view key) const {
  const auto it = cells_.find(std::string(key));
  if (it == cells_.end()) our_bug("no cell '" + std::string(key) + "'");
  return it->second;
}

bool TableRow::has(std::string_view key) const {
  return cells_.count(std::string(key)) != 0;
}

namespace {
template <class T>
const T& typed(const TableRow::Value& value, std::string_view key) {
  const T* out = std::get_if<T>(&value);
  if (out == nullptr) our_bug("cell '" + std::string(key) + "' has another type");
  return *out;
}
}  // namespace

double TableRow::number(std::string_view key) const {
  return typed<double>(at(key), key);
}
const std::string& TableRow::text(std::string_view key) const {
  return typed<std::string>(at(key), key);
}
std::string TableRow::text_or(std::string_view key, std::string otherwise) const {
  if (has(key)) return text(key);
  return otherwise;
}
bool TableRow::flag_or(std::string_view key, bool otherwise) const {
  return has(key) ? typed<bool>(at(key), key) : otherwise;
}
const std::vector<double>& TableRow::numbers(std::string_view key) const {
  return typed<std::vector<double>>(at(key), key);
}
std::vector<std::string> TableRow::texts_or_empty(std::string_view key) const {
  return has(key) ? typed<std::vector<std::string>>(at(key), key) : std::vector<std::string>{};
}

namespace {
/// Each file is parsed once: several are asked for more than one of their tables.
std::shared_ptr<const toml::table> document_of(std::string_view file) {
  static std::mutex guard;
  static std::map<std::string, std::shared_ptr<const toml::table>, std::less<>> known;
  const std::lock_guard lock(guard);
  const auto at = known.find(file);
  if (at != known.end()) return at->second;
  try {
    auto parsed = std::make_shared<const toml::table>(toml::parse(embedded(file), file));
    return known.emplace(file, std::move(parsed)).first->second;
  } catch (const toml::parse_error& problem) {
    our_bug(std::string(file) + ": " + std::string(problem.description()));
  }
}
}  // namespace

std::vector<TableRow> table_rows(std::string_view file, std::string_view name) {
  const auto document = document_of(file);
  std::vector<TableRow> rows;
  const auto* list = document->get_as<toml::array>(name);
  if (list == nullptr) our_bug(std::string(file) + " has no [[" + std::string(name) + "]]");
  for (const auto& node : *list) {
    std::map<std::string, TableRow::Value> cells;
    for (const auto& [key, value] : *node.as_table()) {
      if (auto v = cell(value)) cells.emplace(std::string(key.str()), std::move(*v));
    }
    rows.emplace_back(std::move(cells));
  }
  return rows;
}

}  // namespace skerry
