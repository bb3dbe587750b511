#include "skerry/words/style.hpp"

namespace skerry::words {

namespace {

/// Characters on the screen: bytes of UTF-8 that begin one, without colour sequences (ESC [ ... m).
std::size_t width(std::string_view text) {
  std::size_t n = 0;
  bool colour = false;
  for (const char c : text) {
    colour = colour || c == '\x1b';
    if (!colour) n += (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
    if (colour && c == 'm') colour = false;
  }
  return n;
}

}  // namespace

std::string wrapped(std::string_view text, std::size_t columns, std::string_view first,
                    std::string_view later) {
  std::string out(first);
  std::size_t used = width(first);
  bool fresh = true;
  while (!text.empty()) {
    const auto end = std::min(text.find(' '), text.size());
    const auto word = text.substr(0, end);
    text.remove_prefix(std::min(end + 1, text.size()));
    if (word.empty()) continue;
    if (!fresh && used + 1 + width(word) > columns) {
      out += "\n";
      out += later;
      used = width(later);
      fresh = true;
    }
    if (!fresh) {
      out += ' ';
      ++used;
    }
    out += word;
    used += width(word);
    fresh = false;
  }
  return out + "\n";
}

std::string fitted(const std::string& text, std::size_t columns) {
  std::string out;
  for (std::size_t at = 0; at < text.size();) {
    const auto end = std::min(text.find('\n', at), text.size());
    const std::string_view line = std::string_view(text).substr(at, end - at);
    at = end + 1;
    if (width(line) <= columns) {
      out += line;
      out += '\n';
      continue;
    }
    const std::string indent(line.find_first_not_of(' '), ' ');
    out += wrapped(line.substr(indent.size()), columns, indent, indent + "    ");
  }
  return out;
}

std::string on_screen(const std::string& text, const Style& style, int most_columns) {
  return fitted(style.ascii ? to_ascii(text) : text, style.width(most_columns));
}

}  // namespace skerry::words
