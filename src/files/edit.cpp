#include "skerry/files/edit.hpp"

#include <fmt/format.h>
#include <toml++/toml.h>

#include <algorithm>

#include "skerry/core/text.hpp"

namespace skerry::files {

namespace {

/// Byte of a place, which is told by line and character, both from 1.
std::size_t byte_at(std::string_view text, toml::source_position at) {
  std::size_t byte = 0;
  for (toml::source_index line = 1; line < at.line && byte < text.size(); ++byte)
    line += text[byte] == '\n' ? 1U : 0U;
  auto rest = text.substr(byte);
  for (toml::source_index i = 1; i < at.column && !rest.empty(); ++i) (void)take_character(rest);
  return text.size() - rest.size();
}

std::string replaced(std::string_view text, std::size_t from, std::size_t to, std::string_view with) {
  return std::string(text.substr(0, from)).append(with).append(text.substr(to));
}

const toml::table* table_in(const toml::table& root, int line) {
  for (const auto& [key, node] : root) {
    if (const auto* one = node.as_table()) {
      if (static_cast<int>(one->source().begin.line) == line) return one;
    }
    if (const auto* list = node.as_array()) {
      for (const auto& item : *list) {
        const auto* one = item.as_table();
        if (one != nullptr && static_cast<int>(one->source().begin.line) == line) return one;
      }
    }
  }
  return nullptr;
}

}  // namespace

Result<std::string> with_key(std::string_view text, const TableAt& at, std::string_view key,
                             std::string_view toml, const std::vector<std::string_view>& instead) {
  toml::table root;
  try {
    root = toml::parse(text, std::string_view{});
  } catch (const toml::parse_error& problem) {
    return fail({{}, static_cast<int>(problem.source().begin.line)}, std::string(problem.description()),
                "good TOML");
  }
  const auto* table = at.line > 0 ? table_in(root, at.line) : root[at.name].as_table();
  if (table == nullptr)
    return fail({std::string(at.name), at.line}, "no table to write '" + std::string(key) + "' into",
                "a table of the file");
  if (const auto* old = table->get(key))
    return replaced(text, byte_at(text, old->source().begin), byte_at(text, old->source().end), toml);
  const auto entry = fmt::format("{} = {}", key, toml);
  for (const auto& [name, node] : *table) {
    if (std::find(instead.begin(), instead.end(), name.str()) != instead.end())
      return replaced(text, byte_at(text, name.source().begin), byte_at(text, node.source().end), entry);
  }
  const auto head = byte_at(text, table->source().begin);
  if (table->is_inline()) return replaced(text, head + 1, head + 1, table->empty() ? entry : entry + ", ");
  const auto end = std::min(text.find('\n', head), text.size());
  return replaced(text, end, end, (end > 0 && text[end - 1] == '\r' ? "\n" + entry + "\r" : "\n" + entry));
}

}  // namespace skerry::files
