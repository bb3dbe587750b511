#include "skerry/files/settings.hpp"

#include <fmt/format.h>

#include "readers.hpp"
#include "skerry/core/text.hpp"

namespace skerry::files {

namespace {

/// As it would stand behind an option; nothing of what cannot.
std::optional<std::string> as_typed(const toml::node& node) {
  if (const auto* text = node.as_string()) return text->get();
  if (const auto* real = node.as_floating_point()) return fmt::format("{}", real->get());
  if (node.is_integer() || node.is_boolean() || node.is_date()) return show(node);
  return std::nullopt;
}

std::optional<std::vector<std::string>> values_of(const toml::node& node) {
  const auto* list = node.as_array();
  std::vector<std::string> out;
  const auto take = [&](const toml::node& one) {
    auto value = as_typed(one);
    if (value) out.push_back(std::move(*value));
    return value.has_value();
  };
  const bool whole =
      list == nullptr ? take(node) : !list->empty() && std::all_of(list->begin(), list->end(), take);
  return whole ? std::optional(std::move(out)) : std::nullopt;
}

}  // namespace

Checked<std::vector<PlacedSetting>> read_settings(std::string_view text, const std::string& file) {
  const auto document = parse_document(text, file);
  if (!document) return tl::unexpected(std::vector<Error>{document.error()});
  Mistakes mistakes(file);
  std::vector<PlacedSetting> out;
  const auto read = [&](const toml::table& table, const std::string& name) {
    for (const auto& [key, node] : table) {
      if (name.empty() && node.is_table()) continue;
      const auto at = node.source().begin;
      auto values = values_of(node);
      if (values) {
        out.push_back({name, std::string(key.str()), std::move(*values), mistakes.where(at)});
      } else {
        mistakes.add(at, fmt::format("{} = {}", one_line(key.str()), show(node)),
                     "text in quotes, a number, true or false, or a list of these");
      }
    }
  };
  within_mistakes([&] {
    read(*document, {});
    for (const auto& [key, node] : *document) {
      if (const auto* table = node.as_table()) read(*table, std::string(key.str()));
    }
  });
  if (!mistakes.empty()) return tl::unexpected(mistakes.take());
  std::stable_sort(out.begin(), out.end(), [](const auto& a, const auto& b) {
    return std::pair(a.where.line, a.where.column) < std::pair(b.where.line, b.where.column);
  });
  return out;
}

}  // namespace skerry::files
