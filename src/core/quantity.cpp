#include "skerry/core/quantity.hpp"

#include <optional>
#include <string>
#include <vector>

#include "skerry/core/text.hpp"

namespace skerry {

namespace {

struct Unit {
  std::string_view name;
  double size;
};

constexpr Unit masses[] = {
    {"kg", 1000}, {"g", 1}, {"lbs", 453.59237}, {"lb", 453.59237}, {"oz", 453.59237 / 16}};
constexpr Unit lengths[] = {{"mm", 0.001}, {"cm", 0.01},   {"m", 1},         {"ft", 0.3048}, {"feet", 0.3048},
                            {"'", 0.3048}, {"in", 0.0254}, {"inch", 0.0254}, {"\"", 0.0254}};

struct Part {
  double value = 0;
  std::optional<double> unit;
};

bool is_number_character(char c) {
  return (c >= '0' && c <= '9') || c == '.';
}
bool is_blank(char c) {
  return c == ' ' || c == '\t';
}

/// One number with its unit off the front of `text`; nullopt when there is none or the unit is unknown.
template <std::size_t N>
std::optional<Part> take(std::string_view& text, const Unit (&units)[N]) {
  text = trim(text);
  std::size_t end = 0;
  while (end < text.size() && is_number_character(text[end])) ++end;
  const auto value = to_number(text.substr(0, end));
  if (!value || *value < 0) return std::nullopt;
  text = trim(text.substr(end));
  std::size_t word = 0;
  while (word < text.size() && !is_number_character(text[word]) && !is_blank(text[word])) ++word;
  Part out{*value, std::nullopt};
  if (word == 0) return out;
  const auto name = lower(text.substr(0, word));
  for (const auto& unit : units) {
    if (unit.name == name) out.unit = unit.size;
  }
  if (!out.unit) return std::nullopt;
  text = trim(text.substr(word));
  return out;
}

/// All parts added up: "1 lb 3 oz"; each larger than the next, so that "3 4 kg" is refused.
template <std::size_t N>
std::optional<double> sum(std::string_view text, const Unit (&units)[N], double bare) {
  double total = 0, last = 1e99;
  bool any = false;
  text = trim(text);
  while (!text.empty()) {
    const auto part = take(text, units);
    if (!part) return std::nullopt;
    if (!part->unit && (any || !text.empty())) return std::nullopt;
    const double unit = part->unit.value_or(bare);
    if (unit >= last) return std::nullopt;
    last = unit;
    total += part->value * unit;
    any = true;
  }
  if (!any) return std::nullopt;
  return total;
}

std::optional<std::vector<double>> sides_cm(std::string_view text) {
  std::vector<Part> parts;
  std::size_t from = 0;
  const std::string all = lower(text);
  while (from <= all.size()) {
    const auto cross = std::min(all.find('x', from), all.size());
    std::string_view piece = std::string_view(all).substr(from, cross - from);
    const auto part = take(piece, lengths);
    if (!part || !piece.empty()) return std::nullopt;
    parts.push_back(*part);
    from = cross + 1;
  }
  std::vector<double> out(parts.size());
  double unit = 0.01;
  for (std::size_t i = parts.size(); i-- > 0;) {
    if (parts[i].unit) unit = *parts[i].unit;
    out[i] = parts[i].value * unit * 100;
    if (!(out[i] > 0) || out[i] > 1e5) return std::nullopt;
  }
  return out;
}

}  // namespace

Result<double> parse_mass_g(std::string_view text, const Where& where) {
  const auto value = sum(text, masses, 1);
  if (!value || !(*value > 0) || *value > 1e6)
    return fail(where, "'" + one_line(text) + "'",
                "a mass in g, kg, lb or oz, as \"540 g\" or \"1 lb 3 oz\"");
  return *value;
}

Result<double> parse_length_m(std::string_view text, const Where& where, double bare_unit_m) {
  const auto value = sum(text, lengths, bare_unit_m);
  if (!value || !(*value > 0) || *value > 1e5)
    return fail(where, "'" + one_line(text) + "'",
                "a length in m, cm, mm, ft or in, as \"10.5 m\" or \"6 ft 3 in\"");
  return *value;
}

Result<std::array<double, 2>> parse_tube_cm(std::string_view text, const Where& where) {
  const auto sides = sides_cm(text);
  if (!sides || sides->size() != 2)
    return fail(where, "'" + one_line(text) + "'", "length x diameter, as \"57 x 4 cm\" or \"22 x 1.6 in\"");
  return std::array<double, 2>{(*sides)[0], (*sides)[1]};
}

Result<std::array<double, 3>> parse_box_cm(std::string_view text, const Where& where) {
  const auto sides = sides_cm(text);
  if (!sides || sides->size() != 3)
    return fail(where, "'" + one_line(text) + "'",
                "length x width x height, as \"20 x 15 x 5 cm\" or \"8 x 6 x 2 in\"");
  return std::array<double, 3>{(*sides)[0], (*sides)[1], (*sides)[2]};
}

}  // namespace skerry
