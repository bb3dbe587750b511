// Lists in a trip file: words, numbers, pairs.
#include <fmt/format.h>

#include <algorithm>
#include <cassert>

#include "skerry/core/text.hpp"
#include "toml_cursor.hpp"

namespace skerry::files {

std::vector<Placed> Cursor::words(std::string_view key) {
  std::vector<Placed> out;
  const std::string accepted = files::accepted(field(key));
  const auto* node = get(key, accepted);
  if (node == nullptr) return out;
  const auto add = [&](const toml::node& item) {
    const auto* value = item.as_string();
    if (value == nullptr || !decent(value->get())) {
      mistakes_->add(item.source().begin, fmt::format("{} in {}", show(item), key), accepted);
      return;
    }
    const auto twice =
        std::find_if(out.begin(), out.end(), [&](const Placed& p) { return p.text == value->get(); });
    if (twice != out.end()) {
      mistakes_->add(item.source().begin, fmt::format("'{}' twice in {}", one_line(value->get()), key),
                     "each word once");
      return;
    }
    out.push_back({value->get(), item.source().begin});
  };
  const auto* list = node->as_array();
  if (node->is_string()) {
    add(*node);
  } else if (list == nullptr || list->empty() || list->size() > 500) {
    refuse(key, accepted,
           list != nullptr && list->empty() ? "an empty list says nothing: leave the key out" : "");
  } else {
    for (const auto& item : *list) add(item);
  }
  return out;
}

bool Cursor::numbers(std::string_view key, double* out, std::size_t count) {
  const Field& f = field(key);
  assert(count == static_cast<std::size_t>(f.count));
  const auto* node = get(key);
  if (node == nullptr) return false;
  const auto* list = node->as_array();
  if (list == nullptr || list->size() != count) {
    refuse(key, accepted(f));
    return false;
  }
  bool all_good = true;
  for (std::size_t i = 0; i < count; ++i) {
    const auto& item = *list->get(i);
    const auto value = item.is_number() ? item.value<double>() : std::nullopt;
    const Range& range = f.range_of(static_cast<int>(i));
    if (value && good(*value, range)) {
      out[i] = *value;
      continue;
    }
    all_good = false;
    mistakes_->add(item.source().begin, fmt::format("{} in {}", show(item), shown(key)), to_text(range));
  }
  return all_good;
}

std::vector<std::array<double, 2>> Cursor::pairs(std::string_view key) {
  std::vector<std::array<double, 2>> out;
  const Field& f = field(key);
  const std::string accepted = files::accepted(f);
  const auto* node = get(key, accepted);
  if (node == nullptr) return out;
  const auto* list = node->as_array();
  if (list == nullptr || list->empty() || list->size() > 1000) {
    refuse(key, accepted);
    return out;
  }
  for (const auto& item : *list) {
    const auto* pair = item.as_array();
    if (pair == nullptr || pair->size() != 2) {
      mistakes_->add(item.source().begin, fmt::format("{} in {}", show(item), key), accepted);
      continue;
    }
    std::array<double, 2> values{};
    bool all_good = true;
    for (std::size_t i = 0; i < 2; ++i) {
      const auto& part = *pair->get(i);
      const auto value = part.is_number() ? part.value<double>() : std::nullopt;
      const Range& range = f.range_of(static_cast<int>(i));
      if (value && good(*value, range)) {
        values[i] = *value;
      } else {
        all_good = false;
        mistakes_->add(part.source().begin, fmt::format("{} in {}", show(part), key), to_text(range));
      }
    }
    if (all_good) out.push_back(values);
  }
  return out;
}

}  // namespace skerry::files
