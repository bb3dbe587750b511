#include "skerry/core/quantity.hpp"

#include "check.hpp"

using namespace skerry;

TEST_CASE("masses and lengths convert by the units' own definitions", "[core][known]") {
  // Source: International Yard and Pound Agreement, 1959: 1 lb = 0.45359237 kg, 1 yd = 0.9144 m, both exact.
  CHECK(*parse_mass_g("1 lb", {}) == Approx(453.59237).epsilon(1e-12));
  CHECK(*parse_mass_g("1 lb 3 oz", {}) == Approx(453.59237 * 19 / 16).epsilon(1e-12));
  CHECK(*parse_mass_g("1lb3oz", {}) == Approx(453.59237 * 19 / 16).epsilon(1e-12));
  CHECK(*parse_mass_g("19 OZ", {}) == Approx(453.59237 * 19 / 16).epsilon(1e-12));
  CHECK(*parse_mass_g("0.54 kg", {}) == Approx(540));
  CHECK(*parse_mass_g(" 540 ", {}) == 540);
  CHECK(*parse_length_m("33 ft", {}) == Approx(33 * 0.9144 / 3).epsilon(1e-12));
  CHECK(*parse_length_m("6 ft 3 in", {}) == Approx(75 * 0.9144 / 36).epsilon(1e-12));
  CHECK(*parse_length_m("6'3\"", {}) == Approx(75 * 0.9144 / 36).epsilon(1e-12));
  CHECK(*parse_length_m("10.5", {}) == 10.5);
  CHECK(*parse_length_m("57 cm", {}) == Approx(0.57));
  CHECK(*parse_length_m("4", {}, 0.001) == Approx(0.004));
}

TEST_CASE("sizes take one unit for all sides or one each", "[core][known]") {
  const auto box = parse_box_cm("8 x 6x2 in", {});
  REQUIRE(box);
  CHECK((*box)[0] == Approx(20.32));
  CHECK((*box)[1] == Approx(15.24));
  CHECK((*box)[2] == Approx(5.08));
  CHECK((*parse_box_cm("20x15x5", {}))[1] == 15);
  const auto mixed = parse_box_cm("200 x 150 mm x 5 cm", {});
  REQUIRE(mixed);
  CHECK((*mixed)[0] == Approx(20));
  CHECK((*mixed)[1] == Approx(15));
  CHECK((*mixed)[2] == Approx(5));
  const auto tube = parse_tube_cm("2 ft x 1.5 in", {});
  REQUIRE(tube);
  CHECK((*tube)[0] == Approx(60.96));
  CHECK((*tube)[1] == Approx(3.81));
}

TEST_CASE("what is no mass, length or size is refused with an example", "[core][edge]") {
  for (const char* text : {"", "lb", "-3 g", "0 g", "3 4 kg", "1 oz 2 lb", "5 stone", "1e3 g", "nan", "5 g g",
                           "1 lb 3", "99999999 kg", "1..2 g"}) {
    CAPTURE(text);
    const auto mass = parse_mass_g(text, {"--mass"});
    REQUIRE_FALSE(mass);
    CHECK(mass.error().where.file == "--mass");
    CHECK(mass.error().accepted.find("1 lb 3 oz") != std::string::npos);
  }
  for (const char* text : {"", "3 in 2 ft", "m", "5 km", "-1 m", "1 m 2"}) {
    CAPTURE(text);
    CHECK_FALSE(parse_length_m(text, {}));
  }
  for (const char* text : {"", "20x15", "20x15x5x5", "20xx5", "a x b x c", "20x15x0", "20 x 15 x 5 g", "x"}) {
    CAPTURE(text);
    CHECK_FALSE(parse_box_cm(text, {}));
  }
  CHECK_FALSE(parse_tube_cm("20x15x5", {}));
}
