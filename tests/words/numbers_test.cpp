#include "skerry/words/numbers.hpp"

#include <cmath>

#include "check.hpp"
#include "strip_text.hpp"

using namespace skerry;
using namespace skerry::words;

namespace {

struct Lab {
  double l = 0, a = 0, b = 0;
};
/// CIELAB under D65: another space than the one the colours were made in. Source: CIE 15, IEC 61966-2-1.
Lab lab(const std::string& hex) {
  double c[3];
  for (std::size_t i = 0; i < 3; ++i) {
    const double v = std::stoi(hex.substr(1 + 2 * i, 2), nullptr, 16) / 255.0;
    c[i] = v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4);
  }
  const auto f = [](double t) { return t > 216.0 / 24389 ? std::cbrt(t) : (24389.0 / 27 * t + 16) / 116; };
  const double x = f((0.4124 * c[0] + 0.3576 * c[1] + 0.1805 * c[2]) / 0.95047);
  const double y = f(0.2126 * c[0] + 0.7152 * c[1] + 0.0722 * c[2]);
  const double z = f((0.0193 * c[0] + 0.1192 * c[1] + 0.9505 * c[2]) / 1.08883);
  return {116 * y - 16, 500 * (x - y), 200 * (y - z)};
}

}  // namespace

TEST_CASE("masses, shares, counts and clocks are said as readers write them", "[words][known]") {
  CHECK(mass(979.6) == "980 g");
  CHECK(mass(1404) == "1.40 kg");
  CHECK(percent(0.337) == "34 %");
  CHECK(percent(0.004) == "<1 %");
  CHECK(percent(-0.1) == "0 %");
  CHECK(counted(1, "hop") == "1 hop");
  CHECK(counted(0, "hop") == "0 hops");
  CHECK(clock_text(375) == "06:15");
  CHECK(clock_text(-15) == "23:45");
  CHECK(clock_of(23.999) == "00:00");
  circuit::Opening o;
  o.start_h = 22.5;
  o.end_h = 25.25;
  CHECK(opening_text(o) == "22:30 to 01:15");
  CHECK(opening_text(o, "-") == "22:30-01:15");
  o.end_h = o.start_h;
  CHECK(opening_text(o) == "about 22:30");
  o.all_day = true;
  CHECK(opening_text(o) == "all day");
  CHECK(whole_days(9.6) == "10 days in ten");
  CHECK(whole_days(1.49) == "1 day in ten");
  CHECK(whole_days(0.4) == "under half a day in ten");
}

TEST_CASE("more days are darker in even steps, so that no eye loses the order", "[words][property]") {
  // Lightness alone carries the order: all forms of colour blindness keep it (common practice).
  double last = lab(words::days_colour(0)).l;
  CHECK_THAT(last, WithinAbs(100, 0.1));
  for (int days = 1; days <= 10; ++days) {
    const double now = lab(words::days_colour(days)).l;
    CAPTURE(days, now);
    CHECK(now < last);
    if (days > 1)
      CHECK_THAT(last - now, WithinAbs(8.3, 2.5));  // CIELAB and OKLab differ a little in what is even
    last = now;
  }
  CHECK(last < 25);
}

TEST_CASE("a cell of a strip has its width whatever the terminal knows", "[words][known]") {
  CHECK(strip_cell(true, 7.2, {}) == "  7");
  CHECK(strip_cell(false, 0, {}) == "  .");
  CHECK(strip_cell(true, 0.3, {}) == "  -");
  CHECK(strip_cell(true, 9.7, {}) == " 10");
  Style unicode;
  unicode.unicode = true;
  CHECK(strip_cell(true, 10, unicode) ==
        "\xE2\x96\x88"
        "10");
  CHECK(strip_cell(false, 0, unicode) == "  \xC2\xB7");
  CHECK(strip_cell(true, 5, unicode, 6) ==
        "    \xE2\x96\x85"
        "5");
  Style colour;
  colour.colour = true;
  // Source: ECMA-48, SGR 0 ends what 48 and 38 began.
  const auto cell = strip_cell(true, 10, colour);
  CHECK(cell.rfind(" \x1b[48;5;", 0) == 0);
  CHECK(cell.substr(cell.size() - 6) == "10\x1b[0m");
  CHECK(strip_cell(true, 0.2, colour) == "  -");
}
