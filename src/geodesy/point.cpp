#include "skerry/geodesy/point.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <optional>
#include <span>
#include <vector>

#include "skerry/core/text.hpp"
#include "skerry/core/units.hpp"
#include "skerry/geodesy/gazetteer.hpp"

namespace skerry {

GeoPoint GeoPoint::at_deg(double lat_deg, double lon_deg) {
  assert(std::isfinite(lat_deg) && std::abs(lat_deg) <= 90.0 && std::isfinite(lon_deg));
  return {lat_deg, wrap_180(lon_deg)};
}

namespace geodesy {

namespace {

constexpr const char* accepted_forms =
    "a place such as \"-19.70,63.43\" (latitude, longitude; north and east positive), \"19.70S 63.43E\", "
    "\"19 42 S 63 25.8 E\", \"19°42'S 63°25'48\\\"E\" or a locator such as \"MH10rh\"";

struct Token {
  enum class Kind { number, letter, comma, degree, minute, second } kind;
  double value = 0;
  bool has_sign = false;
  bool has_point = false;
  char letter = 0;
};

/// The signs people use for degrees, minutes, seconds and minus, in UTF-8.
struct Sign {
  std::string_view bytes;
  Token::Kind kind;
};
constexpr std::array<Sign, 10> signs = {{
    {"°", Token::Kind::degree},
    {"º", Token::Kind::degree},
    {"˚", Token::Kind::degree},
    {"''", Token::Kind::second},
    {"\"", Token::Kind::second},
    {"″", Token::Kind::second},
    {"”", Token::Kind::second},
    {"'", Token::Kind::minute},
    {"′", Token::Kind::minute},
    {"’", Token::Kind::minute},
}};
constexpr std::string_view unicode_minus = "−";

bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

/// A number at the front of `rest`: sign, digits, one point. No exponent: E stands for east.
std::optional<Token> take_number(std::string_view& rest) {
  std::string text;
  Token token{Token::Kind::number};
  std::size_t i = 0;
  if (rest.starts_with(unicode_minus)) {
    text = "-";
    i = unicode_minus.size();
  } else if (rest.starts_with('-')) {
    text = "-";
    i = 1;
  } else if (rest.starts_with('+')) {
    i = 1;
  }
  token.has_sign = i > 0;
  for (; i < rest.size() && (is_digit(rest[i]) || (rest[i] == '.' && !token.has_point)); ++i) {
    token.has_point = token.has_point || rest[i] == '.';
    text += rest[i];
  }
  const auto value = to_number(text);
  if (!value) return std::nullopt;
  token.value = *value;
  rest.remove_prefix(i);
  return token;
}

std::optional<std::vector<Token>> tokens_of(std::string_view rest) {
  std::vector<Token> out;
  while (!rest.empty()) {
    if (rest[0] == ' ' || rest[0] == '\t') {
      rest.remove_prefix(1);
      continue;
    }
    if (rest[0] == ',') {
      out.push_back({Token::Kind::comma});
      rest.remove_prefix(1);
      continue;
    }
    const auto sign =
        std::find_if(signs.begin(), signs.end(), [&](const Sign& s) { return rest.starts_with(s.bytes); });
    if (sign != signs.end()) {
      out.push_back({sign->kind});
      rest.remove_prefix(sign->bytes.size());
      continue;
    }
    const char c = static_cast<char>(rest[0] & ~0x20);
    if (c == 'N' || c == 'S' || c == 'E' || c == 'W') {
      out.push_back({Token::Kind::letter, 0, false, false, c});
      rest.remove_prefix(1);
      continue;
    }
    const auto number = take_number(rest);
    if (!number) return std::nullopt;
    out.push_back(*number);
  }
  return out;
}

/// One half of a place: up to three numbers, perhaps with a hemisphere letter.
struct Half {
  std::vector<Token> numbers;
  char letter = 0;
};

using Tokens = std::span<const Token>;
bool is_letter(const Token& t) {
  return t.kind == Token::Kind::letter;
}

/// Numbers, each perhaps followed by its own mark (degrees, then minutes, then seconds).
std::optional<Half> half_of(Tokens tokens) {
  Half half;
  if (!tokens.empty() && is_letter(tokens.front())) {
    half.letter = tokens.front().letter;
    tokens = tokens.subspan(1);
  } else if (!tokens.empty() && is_letter(tokens.back())) {
    half.letter = tokens.back().letter;
    tokens = tokens.first(tokens.size() - 1);
  }
  bool marked = true;
  for (const Token& t : tokens) {
    const std::size_t count = half.numbers.size();
    if (t.kind == Token::Kind::number && count < 3) {
      half.numbers.push_back(t);
      marked = false;
      continue;
    }
    const std::size_t names = t.kind == Token::Kind::degree ? 1 : t.kind == Token::Kind::minute ? 2 : 3;
    const bool is_mark = names < 3 || t.kind == Token::Kind::second;
    if (!is_mark || marked || count != names) return std::nullopt;
    marked = true;
  }
  if (half.numbers.empty()) return std::nullopt;
  return half;
}

/// Latitude and longitude in the order written; nullopt when the tokens do not make two halves.
std::optional<std::array<Half, 2>> halves_of(Tokens tokens) {
  const auto letters = std::count_if(tokens.begin(), tokens.end(), is_letter);
  if (tokens.empty() || (letters != 0 && letters != 2)) return std::nullopt;
  auto split = tokens.begin();
  if (letters == 0) {
    // The second number, and whatever mark or comma stands before it, is the longitude.
    const auto is_number = [](const Token& t) { return t.kind == Token::Kind::number; };
    if (std::count_if(tokens.begin(), tokens.end(), is_number) != 2) return std::nullopt;
    split = std::find_if(tokens.begin() + 1, tokens.end(), is_number);
  } else if (is_letter(tokens.front())) {
    split = std::find_if(tokens.begin() + 1, tokens.end(), is_letter);
  } else {
    split = std::find_if(tokens.begin(), tokens.end(), is_letter) + 1;
    if (split != tokens.end() && split->kind == Token::Kind::comma) ++split;
  }
  Tokens front = tokens.first(static_cast<std::size_t>(split - tokens.begin()));
  const Tokens back = tokens.subspan(front.size());
  if (!front.empty() && front.back().kind == Token::Kind::comma) front = front.first(front.size() - 1);
  const auto first = half_of(front);
  const auto second = half_of(back);
  if (!first || !second || (letters == 2) != (first->letter != 0 && second->letter != 0)) return std::nullopt;
  return std::array<Half, 2>{*first, *second};
}

bool is_longitude_letter(char c) {
  return c == 'E' || c == 'W';
}

Result<double> degrees_of(const Half& half, bool longitude, const Where& where) {
  const char* name = longitude ? "longitude" : "latitude";
  double value = 0;
  double unit = 1;
  for (std::size_t i = 0; i < half.numbers.size(); ++i) {
    const Token& n = half.numbers[i];
    if (half.letter != 0 && n.has_sign) {
      return fail(where, fmt::format("{} with both a sign and the letter {}", name, half.letter),
                  "a sign or a letter, not both", "19.70S and -19.70 mean the same");
    }
    if (i > 0 && !(n.value >= 0 && n.value < 60)) {
      return fail(where, fmt::format("{} with {} {}", name, n.value, i == 1 ? "minutes" : "seconds"),
                  "minutes and seconds from 0 to below 60");
    }
    if (i + 1 < half.numbers.size() && n.has_point) {
      return fail(where, fmt::format("{} with a fraction before the last number", name),
                  "a decimal point in the last of degrees, minutes and seconds only",
                  "write 19 42.5 S or 19.7083 S");
    }
    value += n.value * unit;
    unit /= 60;
  }
  if (half.letter == 'S' || half.letter == 'W') value = -value;
  const double limit = longitude ? 180 : 90;
  if (!(std::abs(value) <= limit)) {
    const bool folds = longitude && value > 180 && value <= 360;
    const bool swapped = !longitude && half.letter == 0 && std::abs(value) <= 180;
    return fail(where, fmt::format("{} {:.6g}", name, value),
                longitude ? "-180 to 180, east positive" : "-90 to 90, north positive",
                folds     ? fmt::format("{:.6g} east is {:.6g}", value, value - 360)
                : swapped ? "latitude comes first, then longitude"
                          : "");
  }
  return value;
}

bool looks_like_locator(std::string_view t) {
  const auto letter = [](char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); };
  const auto word = [&](char c) { return letter(c) || is_digit(c); };
  return t.size() >= 4 && t.size() <= 12 && letter(t[0]) && letter(t[1]) &&
         std::all_of(t.begin(), t.end(), word);
}

}  // namespace

Result<GeoPoint> parse_place(std::string_view text, const Where& where) {
  const std::string_view t = trim(text);
  const std::string found = t.empty() ? std::string("nothing") : "\"" + one_line(t) + "\"";
  // Judgement: no way of writing a place is longer; bounds the work on hostile input.
  constexpr std::size_t longest = 100;
  if (t.empty() || t.size() > longest) return fail(where, found, accepted_forms);
  // A word of letters alone is most likely the name of a town; locators hold digits after two letters.
  const bool word = t.size() > 2 && std::all_of(t.begin(), t.end(), [](char c) {
                      return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == ' ' || c == '-' ||
                             c == '\'' || static_cast<unsigned char>(c) >= 0x80;
                    });
  if (word) {
    const auto named = find_whole_name(t).taken;
    return fail(where, found, accepted_forms,
                named ? fmt::format("{}, {}, stands at \"{:.4f},{:.4f}\"", named->name, named->country,
                                    named->at.lat_deg, named->at.lon_deg)
                      : "no one place of that name is known: give its position");
  }
  if (looks_like_locator(t)) return parse_locator(t, where);
  const auto tokens = tokens_of(t);
  auto halves = tokens ? halves_of(*tokens) : std::nullopt;
  if (!halves) {
    const bool comma_decimals = std::count(t.begin(), t.end(), ',') > 1;
    return fail(where, found, accepted_forms, comma_decimals ? "decimals take a point, not a comma" : "");
  }
  auto& [first, second] = *halves;
  if (is_longitude_letter(first.letter)) std::swap(first, second);
  if (is_longitude_letter(first.letter) || (second.letter != 0 && !is_longitude_letter(second.letter))) {
    return fail(where, found, "one latitude (N or S) and one longitude (E or W)");
  }
  const auto lat = degrees_of(first, false, where);
  if (!lat) return tl::unexpected(lat.error());
  const auto lon = degrees_of(second, true, where);
  if (!lon) return tl::unexpected(lon.error());
  return GeoPoint::at_deg(*lat, *lon);
}

std::string to_text(GeoPoint place, int digits) {
  digits = std::clamp(digits, 0, 9);
  const std::string lat = fmt::format("{:.{}f}", std::abs(place.lat_deg), digits);
  const std::string lon = fmt::format("{:.{}f}", std::abs(place.lon_deg), digits);
  // What rounds to nought has no hemisphere: it is written N and E.
  const auto is_nought = [](const std::string& s) { return s.find_first_not_of("0.") == std::string::npos; };
  return fmt::format("{} {} {} {}", lat, place.lat_deg < 0 && !is_nought(lat) ? 'S' : 'N', lon,
                     place.lon_deg < 0 && !is_nought(lon) ? 'W' : 'E');
}

}  // namespace geodesy
}  // namespace skerry
