#include "skerry/core/json_scan.hpp"

namespace skerry {

std::optional<std::size_t> too_deep(std::string_view json, int most) {
  int depth = 0;
  bool in_string = false;
  for (std::size_t i = 0; i < json.size(); ++i) {
    const char c = json[i];
    if (in_string) {
      if (c == '\\') ++i;
      if (c == '"') in_string = false;
    } else if (c == '"') {
      in_string = true;
    } else if (c == '[' || c == '{') {
      if (++depth > most) return i;
    } else if (c == ']' || c == '}') {
      --depth;
    }
  }
  return std::nullopt;
}

std::string member_text(std::string_view object, std::string_view key) {
  int depth = 0;
  bool in_string = false, mine = false, is_key = false;
  std::string word, out;  // the string at depth 1 that is being read or was last
  for (std::size_t i = 0; i < object.size(); ++i) {
    const char c = object[i];
    const bool blank = c == ' ' || c == '\t' || c == '\r' || c == '\n';
    if (!in_string && depth == 1 && mine && (c == ',' || c == '}')) return out;
    if (mine && (in_string || !blank)) out += c;
    if (in_string) {
      if (c == '\\') {
        if (i + 1 < object.size()) (mine ? out : word) += object[++i];
      } else if (c == '"') {
        in_string = false;
      } else if (!mine) {
        word += c;
      }
    } else if (c == '"') {
      in_string = true;
      word.clear();
    } else if (c == '[' || c == '{') {
      ++depth;
      is_key = true;
    } else if (c == ']' || c == '}') {
      --depth;
    } else if (c == ',') {
      is_key = true;
    } else if (c == ':' && depth == 1 && is_key) {
      is_key = false;
      mine = mine || word == key;
    }
  }
  return {};
}

}  // namespace skerry
