#include "skerry/core/decimal.hpp"

#include <fmt/format.h>

#include <cmath>

#include "check.hpp"

using namespace skerry;

// The judge is the formatting library's own rounding.
TEST_CASE("what would show as -0 shows as 0, and nothing else changes", "[core][property]") {
  for (const int digits : {0, 1, 2, 3, 4, 5, 6}) {
    const double unit = std::pow(10.0, -digits);
    for (const double value : {0.0, -0.0, -0.49 * unit, 0.49 * unit, -0.51 * unit, -0.99 * unit, -1e-12, -1.0,
                               2.5 * unit, -123.456}) {
      CAPTURE(digits, value);
      const auto plain = fmt::format("{:.{}f}", value, digits);
      const auto said = fmt::format("{:.{}f}", plus_zero(value, digits), digits);
      const bool minus_zero = plain.find_first_of("123456789") == std::string::npos && plain.front() == '-';
      CHECK(said == (minus_zero ? plain.substr(1) : plain));
    }
  }
}

TEST_CASE("numbers written fast read back as those of the JSON answers", "[core][property]") {
  for (const double value :
       {0.0, -0.0, 1.0, -1.5, 0.05, 0.049999, 123456.789, -0.004, 2.675, 1e-7, -99.999, 179.9999996}) {
    for (int digits = 0; digits <= 6; ++digits) {
      std::string text;
      append_fixed(text, value, digits);
      CAPTURE(value, digits, text);
      CHECK(std::stod(text) == rounded(value, digits));
      CHECK(text != "-0");
    }
  }
}
