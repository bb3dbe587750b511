#include "skerry/core/text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cerrno>
#include <charconv>
#include <cmath>
#include <cstdlib>
#include <vector>

namespace skerry {

namespace {

char lower_char(char c) {
  return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
}

std::size_t edit_distance(std::string_view a, std::string_view b) {
  std::vector<std::vector<std::size_t>> d(a.size() + 1, std::vector<std::size_t>(b.size() + 1));
  for (std::size_t i = 0; i <= a.size(); ++i) d[i][0] = i;
  for (std::size_t j = 0; j <= b.size(); ++j) d[0][j] = j;
  for (std::size_t i = 1; i <= a.size(); ++i) {
    for (std::size_t j = 1; j <= b.size(); ++j) {
      const std::size_t swap_cost = a[i - 1] == b[j - 1] ? 0 : 1;
      d[i][j] = std::min({d[i - 1][j] + 1, d[i][j - 1] + 1, d[i - 1][j - 1] + swap_cost});
      if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) {
        d[i][j] = std::min(d[i][j], d[i - 2][j - 2] + 1);
      }
    }
  }
  return d[a.size()][b.size()];
}

}  // namespace

std::optional<std::string> nearest(std::string_view word, std::span<const std::string> candidates) {
  // Longer words come from hostile input, not from a slip of the finger.
  constexpr std::size_t longest = 64;
  if (word.empty() || word.size() > longest) return std::nullopt;
  const std::string wanted = lower(word);
  const std::size_t limit = std::max<std::size_t>(1, word.size() / 3);
  std::optional<std::string> best;
  std::size_t best_distance = limit + 1;
  for (const auto& candidate : candidates) {
    // Each letter more or less is one step: most candidates need not be compared.
    if (candidate.size() >= wanted.size() + best_distance ||
        wanted.size() >= candidate.size() + best_distance)
      continue;
    const std::size_t distance = edit_distance(wanted, lower(candidate));
    if (distance < best_distance) {
      best_distance = distance;
      best = candidate;
    }
  }
  return best;
}

std::string did_you_mean(std::string_view word, std::span<const std::string> candidates) {
  const auto best = nearest(word, candidates);
  return best ? "did you mean '" + *best + "'?" : std::string{};
}

std::optional<double> to_number(std::string_view text) {
  if (!text.empty() && text.front() == '+') text.remove_prefix(1);
  double value = 0;
#ifdef __cpp_lib_to_chars
  const auto [end, problem] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (problem != std::errc{} || end != text.data() + text.size()) return std::nullopt;
#else
  // A standard library without it: the C library's reader (the program never sets a locale) of what it and
  // from_chars read alike.
  const bool plain = text.find_first_not_of("0123456789.eE+-") == std::string_view::npos;
  if (text.empty() || !plain || text.front() == '+') return std::nullopt;
  const std::string ended(text);
  char* end = nullptr;
  errno = 0;
  value = std::strtod(ended.c_str(), &end);
  if (end != ended.c_str() + ended.size() || (errno == ERANGE && value == 0)) return std::nullopt;
#endif
  if (!std::isfinite(value)) return std::nullopt;
  return value;
}

std::optional<char32_t> take_character(std::string_view& text) {
  const auto byte = [&](std::size_t i) { return i < text.size() ? static_cast<unsigned char>(text[i]) : 0U; };
  const unsigned lead = byte(0);
  std::size_t length = 1;
  char32_t code = lead;
  if (lead >= 0xC2 && lead <= 0xDF) {
    length = 2;
    code = lead & 0x1FU;
  } else if (lead >= 0xE0 && lead <= 0xEF) {
    length = 3;
    code = lead & 0x0FU;
  } else if (lead >= 0xF0 && lead <= 0xF4) {
    length = 4;
    code = lead & 0x07U;
  }
  bool good = lead < 0x80 || length > 1;
  for (std::size_t i = 1; i < length; ++i) {
    good = good && (byte(i) & 0xC0U) == 0x80U;
    code = (code << 6) | (byte(i) & 0x3FU);
  }
  // Overlong forms, surrogates and what lies beyond the last plane are no characters.
  if (length == 3) good = good && code >= 0x800 && (code < 0xD800 || code > 0xDFFF);
  if (length == 4) good = good && code >= 0x10000 && code <= 0x10FFFF;
  text.remove_prefix(good ? length : 1);
  return good ? std::optional(code) : std::nullopt;
}

Result<bool> check_encoding(std::string_view text, const Where& where) {
  const auto mark = text.substr(0, 2);
  bool wide = mark == "\xFF\xFE" || mark == "\xFE\xFF";
  if (text.size() >= 4) {
    const auto zero = [&](std::size_t i) { return text[i] == '\0'; };
    wide = wide || (zero(0) != zero(1) && zero(0) == zero(2) && zero(1) == zero(3));
  }
  if (wide) return fail(where, "text in UTF-16", "text in UTF-8", "save it again with the encoding UTF-8");
  return true;
}

bool steers_screen(char32_t c) {
  return c < 0x20 || (c >= 0x7F && c <= 0x9F) || c == 0x061C || c == 0x200E || c == 0x200F ||
         (c >= 0x2028 && c <= 0x202E) || (c >= 0x2066 && c <= 0x2069) || c == 0xFEFF;
}

std::string one_line(std::string_view text, std::size_t most) {
  std::string out;
  const std::size_t size = text.size();
  while (!text.empty()) {
    const std::string_view before = text;
    const auto c = take_character(text);
    const auto shown = c && !steers_screen(*c) ? before.substr(0, before.size() - text.size()) : "?";
    if (size > most && size - text.size() > most) return out + "...";
    out += shown;
  }
  return out;
}

namespace {

/// The length of one of our own colour marks at the front, or 0.
std::size_t colour_mark(std::string_view text) {
  constexpr std::string_view reset = "\x1b[0m", begin = "\x1b[48;5;", middle = ";38;5;";
  if (text.substr(0, reset.size()) == reset) return reset.size();
  if (text.substr(0, begin.size()) != begin) return 0;
  const auto digits = [&](std::size_t from) {
    std::size_t n = 0;
    while (from + n < text.size() && n < 3 && text[from + n] >= '0' && text[from + n] <= '9') ++n;
    return n;
  };
  std::size_t at = begin.size() + digits(begin.size());
  if (text.substr(at, middle.size()) != middle) return 0;
  at += middle.size();
  at += digits(at);
  return at < text.size() && text[at] == 'm' ? at + 1 : 0;
}

}  // namespace

std::string written_out(std::string_view text, bool colours) {
  std::string out;
  out.reserve(text.size());
  while (!text.empty()) {
    // Nearly all of a text is plain, and goes over in one piece.
    std::size_t plain = 0;
    while (plain < text.size() && (text[plain] == '\n' || (text[plain] >= ' ' && text[plain] < '\x7f')))
      ++plain;
    out += text.substr(0, plain);
    text.remove_prefix(plain);
    if (text.empty()) break;
    if (text.substr(0, 2) == "\r\n") {
      out += "\r\n";
      text.remove_prefix(2);
      continue;
    }
    if (const auto mark = colours ? colour_mark(text) : 0; mark > 0) {
      out += text.substr(0, mark);
      text.remove_prefix(mark);
      continue;
    }
    const std::string_view before = text;
    const auto c = take_character(text);
    if (c && !steers_screen(*c)) {
      out += before.substr(0, before.size() - text.size());
    } else if (c) {
      out += fmt::format("\\u{:04x}", static_cast<unsigned>(*c));
    } else {
      out += fmt::format("\\x{:02x}", static_cast<unsigned char>(before.front()));
    }
  }
  return out;
}

std::string_view trim(std::string_view text) {
  const auto first = text.find_first_not_of(" \t\r\n");
  if (first == std::string_view::npos) return {};
  return text.substr(first, text.find_last_not_of(" \t\r\n") - first + 1);
}

std::string lower(std::string_view text) {
  std::string out(text);
  std::transform(out.begin(), out.end(), out.begin(), lower_char);
  return out;
}

}  // namespace skerry
