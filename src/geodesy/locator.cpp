#include <algorithm>
#include <array>
#include <cmath>

#include "skerry/core/text.hpp"
#include "skerry/geodesy/point.hpp"

namespace skerry::geodesy {

namespace {

/// Steps in each pair of characters: fields, squares, subsquares, extended squares, extended subsquares.
/// Source: IARU Region 1 locator system (Maidenhead 1980); the fourth and fifth pair are common practice.
constexpr std::array<int, 5> steps = {18, 10, 24, 10, 24};

/// Cells of the finest pair on half a circle of longitude or the whole of latitude: 18 * 10 * 24 * 10 * 24.
constexpr double cells = 18.0 * 10 * 24 * 10 * 24;

/// Judgement: a place less than this share of a finest cell (4 micrometres) below an edge stands on it, so
/// that decimal fractions such as 70.3 that have no exact double fall where paper and pencil put them.
constexpr double edge_slack = 1e-7;

bool is_ascii_letter(char c) {
  return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z');
}
bool is_digit(char c) {
  return c >= '0' && c <= '9';
}

constexpr const char* accepted_form =
    "a locator of 4, 6, 8 or 10 characters: letters A-R, digits, letters A-X, digits, letters A-X, such as "
    "MH10rh";

}  // namespace

Result<GeoPoint> parse_locator(std::string_view text, const Where& where) {
  const std::string_view t = trim(text);
  const std::string found = "locator \"" + one_line(t, 24) + "\"";
  if (t.size() < 4 || t.size() > 10 || t.size() % 2 != 0) {
    return fail(where, found + " of " + std::to_string(t.size()) + " characters", accepted_form);
  }
  double lon = -180;
  double lat = -90;
  double lon_step = 360;
  double lat_step = 180;
  for (std::size_t i = 0; i < t.size(); ++i) {
    const int count = steps[i / 2];
    const char c = t[i];
    int index = -1;
    if (count == 10 && is_digit(c)) index = c - '0';
    if (count != 10 && is_ascii_letter(c)) index = (c | 0x20) - 'a';
    if (index < 0 || index >= count) {
      return fail(where, found + ", character " + std::to_string(i + 1) + " is '" + one_line({&c, 1}) + "'",
                  accepted_form);
    }
    if (i % 2 == 0) {
      lon_step /= count;
      lon += index * lon_step;
    } else {
      lat_step /= count;
      lat += index * lat_step;
    }
  }
  return GeoPoint::at_deg(lat + lat_step / 2, lon + lon_step / 2);
}

std::string to_locator(GeoPoint place, int characters) {
  const int pairs = std::clamp(characters, 4, 10) / 2;
  const auto cell = [](double share) {
    return std::clamp(static_cast<int>(std::floor(share * cells + edge_slack)), 0,
                      static_cast<int>(cells) - 1);
  };
  int lon = cell((place.lon_deg + 180) / 360);
  int lat = cell((place.lat_deg + 90) / 180);
  std::string out(10, ' ');
  for (std::size_t pair = steps.size(); pair-- > 0;) {
    const int count = steps[pair];
    const char first = count == 10 ? '0' : pair == 0 ? 'A' : 'a';
    out[2 * pair] = static_cast<char>(first + lon % count);
    out[2 * pair + 1] = static_cast<char>(first + lat % count);
    lon /= count;
    lat /= count;
  }
  return out.substr(0, static_cast<std::size_t>(pairs) * 2);
}

}  // namespace skerry::geodesy
