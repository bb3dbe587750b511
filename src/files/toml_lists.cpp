// Lists in a trip file: words, numbers, rows of numbers.
#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <cmath>

#include "skerry/core/text.hpp"
#include "toml_cursor.hpp"

namespace skerry::files {

std::vector<Placed> Cursor::words(std::string_view key) {
  std::vector<Placed> out;
  const std::string accepted = files::accepted(field(key));
  const auto* node = get(key, accepted);
  if (node == nullptr) return out;
  const bool shares = field(key).kind == Kind::shares;
  const auto add = [&](const toml::node& item) {
    const auto* value = item.as_string();
    std::optional<double> share;
    if (const auto* pair = shares ? item.as_table() : nullptr) {
      const auto* told = pair->get("share");
      if (told != nullptr && told->is_number()) share = told->value<double>();
      const bool whole = pair->size() == 2 && share && good(*share, {0, 1, ""});
      value = whole && pair->get("name") != nullptr ? pair->get("name")->as_string() : nullptr;
    }
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
    out.push_back({value->get(), item.source().begin, share});
  };
  const auto* list = node->as_array();
  if (node->is_string()) {
    add(*node);
  } else if (list == nullptr || list->empty() || list->size() > 500) {
    refuse(key, accepted,
           list != nullptr && list->empty() ? "an empty list says nothing: leave the key out" : "");
  } else {
    for (const auto& item : *list) add(item);
    if (out.size() < list->size()) return out;
    const auto told =
        std::count_if(out.begin(), out.end(), [](const Placed& p) { return p.share.has_value(); });
    double sum = 0;
    for (const auto& word : out) sum += word.share.value_or(0);
    if (told > 0 && told < static_cast<std::ptrdiff_t>(out.size())) {
      report(key, fmt::format("shares of some {} only", key), "a share for each, or none",
             "share = 0: told, and not counted");
    } else if (told > 0 && std::abs(sum - 1) > 1e-6) {
      report(key, fmt::format("shares that add up to {:g} in {}", sum, key), "shares that add up to 1");
    }
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

std::vector<std::vector<double>> Cursor::number_rows(std::string_view key) {
  std::vector<std::vector<double>> out;
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
    const auto* row = item.as_array();
    const auto count = static_cast<std::size_t>(f.count);
    if (row == nullptr || row->size() < count || row->size() > count + (f.further ? 1 : 0)) {
      mistakes_->add(item.source().begin, fmt::format("{} in {}", show(item), key), accepted);
      continue;
    }
    std::vector<double> values;
    bool all_good = true;
    for (std::size_t i = 0; i < row->size(); ++i) {
      const auto& part = *row->get(i);
      const auto value = part.is_number() ? part.value<double>() : std::nullopt;
      const Range& range = i < count ? f.range_of(static_cast<int>(i)) : *f.further;
      if (value && good(*value, range)) {
        values.push_back(*value);
      } else {
        all_good = false;
        mistakes_->add(part.source().begin, fmt::format("{} in {}", show(part), key), to_text(range));
      }
    }
    if (all_good) out.push_back(std::move(values));
  }
  return out;
}

}  // namespace skerry::files
