#include "skerry/core/text.hpp"

#include <vector>

#include "check.hpp"
#include "skerry/core/result.hpp"

using namespace skerry;

TEST_CASE("the nearest key is the one a slip of the finger away", "[core][known]") {
  const std::vector<std::string> keys{"mass_g", "height_m", "conductive", "usable_m"};
  CHECK(nearest("mas_g", keys) == "mass_g");
  CHECK(nearest("hieght_m", keys) == "height_m");  // neighbours swapped: one step (Damerau 1964)
  CHECK(nearest("CONDUCTIVE", keys) == "conductive");
  CHECK_FALSE(nearest("colour", keys).has_value());
  CHECK_FALSE(nearest("", keys).has_value());
  CHECK_FALSE(nearest(std::string(100000, 'x'), keys).has_value());
  CHECK(did_you_mean("masss_g", keys) == "did you mean 'mass_g'?");
}

TEST_CASE("numbers are read whole or not at all", "[core][edge]") {
  CHECK(to_number("14.06") == 14.06);
  CHECK(to_number("-2") == -2.0);
  CHECK(to_number("+2e1") == 20.0);
  for (const char* bad : {"", " ", "1,5", "14.06 ", "nan", "inf", "1e999", "0x10", "--1", "abc"}) {
    CAPTURE(bad);
    CHECK_FALSE(to_number(bad).has_value());
  }
}

TEST_CASE("an error is one line whatever stands in it", "[core][edge]") {
  const Error error{{"a\nb.toml", 3, 5}, "lat\titude\r\n95", "-90 to 90", "check the sign"};
  CHECK(error.to_line() == "a?b.toml:3:5: found lat?itude??95; expected -90 to 90; check the sign");
  CHECK(one_line("a\x1b[31mred", 60) == "a?[31mred");
  CHECK(one_line(std::string(100, 'x'), 10) == "xxxxxxxxxx...");
  CHECK(one_line("aaaaaaaaa\xc3\xa9", 10) == "aaaaaaaaa...");  // a two-byte letter is not cut in two
}
