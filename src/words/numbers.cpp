#include "skerry/words/numbers.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "skerry/core/nth.hpp"
#include "skerry/core/units.hpp"

namespace skerry::words {

namespace {

struct Rgb {
  double r = 0, g = 0, b = 0;  ///< linear light
  [[nodiscard]] bool shown() const { return std::min({r, g, b}) >= 0 && std::max({r, g, b}) <= 1; }
};

/// Source: Ottosson 2020, OKLab to linear sRGB (from memory; tests/words checks white, black and the
/// primaries).
Rgb from_oklab(double lightness, double a, double b) {
  const auto cube = [](double x) { return x * x * x; };
  const double l = cube(lightness + 0.3963377774 * a + 0.2158037573 * b);
  const double m = cube(lightness - 0.1055613458 * a - 0.0638541728 * b);
  const double s = cube(lightness - 0.0894841775 * a - 1.2914855480 * b);
  return {4.0767416621 * l - 3.3077115913 * m + 0.2309699292 * s,
          -1.2684380046 * l + 2.6097574011 * m - 0.3413193965 * s,
          -0.0041960863 * l - 0.7034186147 * m + 1.7076147010 * s};
}

/// Source: IEC 61966-2-1 (sRGB transfer).
int byte_of(double linear) {
  const double v = linear <= 0.0031308 ? 12.92 * linear : 1.055 * std::pow(linear, 1 / 2.4) - 0.055;
  return static_cast<int>(std::lround(255 * std::clamp(v, 0.0, 1.0)));
}

}  // namespace

std::string mass(double grams) {
  return grams < 1000 ? fmt::format("{:.0f} g", grams) : fmt::format("{:.2f} kg", grams / 1000);
}

std::string percent(double share) {
  const double p = 100 * share;
  if (p > 0.05 && p < 1) return "<1 %";
  return fmt::format("{:.0f} %", std::max(0.0, p));
}

std::string percent_in_words(double share) {
  const double p = 100 * share;
  if (p > 1e-9 && p < 1) return "under 1 %";
  return fmt::format("{:.0f} %", p);
}

std::string counted(long long count, std::string_view one) {
  return fmt::format("{} {}{}", count, one, count == 1 ? "" : "s");
}

std::string clock_text(long minutes) {
  const long within = (minutes % 1440 + 1440) % 1440;
  return fmt::format("{:02}:{:02}", within / 60, within % 60);
}

std::string clock_of(double hours) {
  return clock_text(std::lround(hours * 60));
}

std::string opening_text(const circuit::Opening& opening, std::string_view to) {
  if (opening.all_day) return "all day";
  if (opening.start_h == opening.end_h) return "about " + clock_of(opening.start_h);
  return fmt::format("{}{}{}", clock_of(opening.start_h), to, clock_of(opening.end_h));
}

std::string local_clock(const sun::Zone& zone, const std::optional<UtcTime>& when) {
  return when ? zone.local_clock(*when) : "none";
}

std::string antenna_text(const std::optional<double>& gain_dbi) {
  return gain_dbi ? fmt::format("{:+g} dBi", *gain_dbi) : "a usual home antenna";
}

const char* layer_text(circuit::Layer layer) {
  static constexpr std::array names{"E", "F2", "Es"};
  return nth(names, layer);
}

const char* way_text(geodesy::Way way) {
  return way == geodesy::Way::short_way ? "short" : "long";
}

std::string days_sign(bool open, double days_in_ten) {
  if (!open) return ".";
  // From two decimals, as the machine-readable answers carry it, halves up: all who show it agree.
  const double days = std::round(100 * days_in_ten) / 100;
  if (days < 0.5) return "-";
  return fmt::format("{:.0f}", std::floor(days + 0.5));
}

std::string whole_days(double days_in_ten) {
  const auto sign = days_sign(true, days_in_ten);
  return sign == "-" ? "under half a day in ten" : sign + (sign == "1" ? " day in ten" : " days in ten");
}

int days_class(double days_in_ten) {
  return static_cast<int>(std::lround(std::clamp(days_in_ten, 0.0, 10.0)));
}

const char* days_bar(double days_in_ten) {
  static constexpr std::array<const char*, 8> bars{"▁", "▂", "▃", "▄", "▅", "▆", "▇", "█"};
  return nth(bars, std::clamp(std::lround(days_in_ten / 10 * 7), 0L, 7L));
}

std::string days_colour(int days) {
  if (days <= 0) return "#ffffff";
  const double t = (std::min(days, 10) - 1) / 9.0;
  // Judgement: lightness falls in even steps from 0.94 to 0.30 while the hue turns from yellow over green to
  // blue-violet.
  const double lightness = std::lerp(0.94, 0.30, t);
  const double hue = std::lerp(105.0, 278.0, t);
  double chroma = 0.13;
  Rgb rgb = from_oklab(lightness, chroma * cos_deg(hue), chroma * sin_deg(hue));
  while (!rgb.shown() && chroma > 0) {
    chroma -= 0.005;
    rgb = from_oklab(lightness, chroma * cos_deg(hue), chroma * sin_deg(hue));
  }
  return fmt::format("#{:02x}{:02x}{:02x}", byte_of(rgb.r), byte_of(rgb.g), byte_of(rgb.b));
}

bool light_letters(int days) {
  const auto fill = days_colour(days);
  double luminance = 0;
  constexpr std::array<double, 3> share{0.2126, 0.7152, 0.0722};
  for (std::size_t i = 0; i < 3; ++i) {
    const double c = std::stoi(fill.substr(1 + 2 * i, 2), nullptr, 16) / 255.0;
    luminance += share[i] * (c <= 0.04045 ? c / 12.92 : std::pow((c + 0.055) / 1.055, 2.4));
  }
  return 1.05 / (luminance + 0.05) > (luminance + 0.05) / 0.05;
}

}  // namespace skerry::words
