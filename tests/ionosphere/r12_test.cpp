// Solar activity stays within its bounds, whoever asks for more.
#include "skerry/ionosphere/r12.hpp"

#include "check.hpp"
#include "skerry/ionosphere/forecast_table.hpp"

using namespace skerry::ionosphere;

TEST_CASE("more or fewer sunspots end at the bounds", "[ionosphere][activity][edge]") {
  CHECK(R12(80).plus(30) == R12(110));
  CHECK(R12(80).plus(-80.5) == R12(0));
  CHECK(R12(299).plus(2) == R12(300));
  CHECK(R12(300).plus(0) == R12(300));
  CHECK(R12::nearest(1e9) == R12(R12::most));
  CHECK(R12::nearest(-1e-9) == R12());
}

TEST_CASE("no index of the Sun gives more than the maps and formulas stand for",
          "[ionosphere][activity][edge]") {
  CHECK(r12_from_ssn_v2(420) == R12(294));
  CHECK(r12_from_ssn_v2(600) == R12(300));
  CHECK(r12_from_f107(350).value() < 300);
  CHECK(r12_from_f107(400) == R12(300));
  const char* const forecast = R"([{"time-tag":"2027-02","predicted_ssn":500,"high_ssn":600}])";
  const auto read = forecast_from_file(forecast, *skerry::parse_month("2027-02", {}), {"f.json"});
  REQUIRE(read);
  CHECK(read->r12 == R12(300));
  CHECK(read->high_r12 == R12(300));
}

TEST_CASE("an activity is written as its number", "[ionosphere][activity][edge]") {
  CHECK(fmt::format("{:.0f} {:g}", R12(79.6), R12(0.5)) == "80 0.5");
}
