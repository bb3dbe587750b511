#include "html_text.hpp"

#include <fmt/format.h>

#include "skerry/core/markup.hpp"
#include "skerry/core/text.hpp"

namespace skerry::page {

std::string plain(std::string_view text) {
  std::string out;
  out.reserve(text.size());
  while (!text.empty()) {
    const std::string_view before = text;
    const auto c = take_character(text);
    if (!c) {
      out += "\xEF\xBF\xBD";
    } else if (!steers_screen(*c)) {
      out.append(before.substr(0, before.size() - text.size()));
    } else if (*c < 0xA0 || *c == 0x2028 || *c == 0x2029) {
      out += ' ';
    }
  }
  return out;
}

std::string markup(std::string_view text) {
  return xml_text(plain(text));
}

std::string bdi(std::string_view text) {
  return "<bdi>" + markup(text) + "</bdi>";
}

std::string filled_in(std::string_view text, const std::vector<std::string>& values) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const bool mark = text[i] == '%' && i + 1 < text.size() && text[i + 1] >= '0' && text[i + 1] <= '9';
    const auto value = mark ? static_cast<std::size_t>(text[i + 1] - '0') : 0;
    if (!mark || value >= values.size()) {
      out += text[i];
    } else {
      out += values[value];
      ++i;
    }
  }
  return out;
}

std::string script_json(std::string_view json) {
  std::string out;
  out.reserve(json.size());
  for (std::size_t i = 0; i < json.size(); ++i) {
    const char c = json[i];
    if (c == '<' || c == '>' || c == '&') {
      out += fmt::format("\\u{:04x}", static_cast<unsigned>(static_cast<unsigned char>(c)));
    } else if (json.substr(i, 3) == "\xE2\x80\xA8" || json.substr(i, 3) == "\xE2\x80\xA9") {
      out += json[i + 2] == '\xA8' ? "\\u2028" : "\\u2029";
      i += 2;
    } else {
      out += c;
    }
  }
  return out;
}

}  // namespace skerry::page
