#include "skerry/ionosphere/layers.hpp"

#include <cmath>

#include "check.hpp"
#include "skerry/core/units.hpp"
#include "skerry/ionosphere/field.hpp"

using namespace skerry;
using namespace skerry::ionosphere;

TEST_CASE("foE has the values of the formula worked by another program", "[ionosphere][foe][known]") {
  // Source: ITU-R P.1239 section 4, evaluated independently, printed to 0.001 MHz.
  struct Row {
    double lat, dec, zenith, flux, hours, expect;
  };
  for (const Row& r :
       {Row{40, 23.4, 16.6, 66, -1, 3.269}, Row{40, 23.4, 16.6, 150, -1, 3.781},
        Row{40, -23.4, 63.4, 100, -1, 2.933}, Row{0, 0, 0, 100, -1, 3.680}, Row{60, -20, 80, 100, -1, 2.202},
        Row{60, -20, 85, 100, -1, 1.906}, Row{40, 0, 90, 100, 0, 1.636}, Row{40, 0, 100, 100, 1, 1.153}}) {
    CAPTURE(r.lat, r.dec, r.zenith, r.flux);
    CHECK_THAT(foe_mhz(r.lat, r.dec, r.zenith, r.flux, r.hours), WithinAbs(r.expect, 0.0006));
  }
}

TEST_CASE("an overhead Sun makes an E layer of about 3.3 MHz at minimum and 4 MHz at maximum of the cycle",
          "[ionosphere][foe][known]") {
  // Source: common practice (handbooks give foE = 0.9 [(180 + 1.44 R) cos(chi)]^(1/4)); 5 % is how far the
  // two formulas differ.
  for (const double r12 : {0.0, 50.0, 100.0, 150.0}) {
    const double flux = 63.7 + 0.728 * r12 + 8.9e-4 * r12 * r12;
    const double handbook = 0.9 * std::pow(180 + 1.44 * r12, 0.25);
    CAPTURE(r12);
    CHECK_THAT(foe_mhz(5, 5, 0, flux, -1) / handbook, WithinAbs(1.0, 0.05));
  }
}

TEST_CASE("foE is the same north and south and falls as the Sun sinks", "[ionosphere][foe][property]") {
  for (double lat = 0; lat <= 90; lat += 7.5) {
    for (const double dec : {-23.4, -10.0, 0.0, 15.0, 23.4}) {
      double before = 100;
      for (double zenith = 0; zenith <= 180; zenith += 0.5) {
        const double now = foe_mhz(lat, dec, zenith, 120, -1);
        CHECK(now == foe_mhz(-lat, -dec, zenith, 120, -1));
        CHECK(now <= before + 0.006);  // the three cases join within 0.006 MHz at 73 and 90 deg
        before = now;
      }
    }
  }
}

TEST_CASE("the three cases of foE join", "[ionosphere][foe][edge]") {
  for (const double lat : {0.0, 20.0, 50.0, 70.0}) {
    CAPTURE(lat);
    // At 73 deg the bend is 0.05 deg; at 90 the source itself joins 0.0717 to 0.072.
    CHECK_THAT(foe_mhz(lat, 0, 73.0, 100, -1), WithinAbs(foe_mhz(lat, 0, 73.0001, 100, -1), 0.006));
    CHECK_THAT(foe_mhz(lat, 0, 89.9999, 100, -1), WithinAbs(foe_mhz(lat, 0, 90.0, 100, 0), 0.006));
    // and just before sunrise, long after sunset, the second night term leads up to the same value
    CHECK_THAT(foe_mhz(lat, 0, 90.0, 100, 12), WithinAbs(foe_mhz(lat, 0, 90.0, 100, 0), 1e-12));
  }
}

TEST_CASE("the latitude steps of foE are as small as the header says", "[ionosphere][foe][edge]") {
  double at12 = 0;
  double at32 = 0;
  for (double zenith = 0; zenith <= 120; zenith += 1) {
    for (const double dec : {-23.4, 0.0, 23.4}) {
      at12 =
          std::max(at12, std::abs(foe_mhz(12, dec, zenith, 150, 1) - foe_mhz(12.0001, dec, zenith, 150, 1)));
      at32 =
          std::max(at32, std::abs(foe_mhz(32, dec, zenith, 150, 1) - foe_mhz(31.9999, dec, zenith, 150, 1)));
    }
  }
  CAPTURE(at12, at32);
  CHECK(at12 < 0.13);
  CHECK(at32 < 0.005);
}

TEST_CASE("at night foE decays and ends on its floor", "[ionosphere][foe][property]") {
  // Source: foE^4 >= 0.004 (1 + 0.021 flux)^2, P.1239 section 4 (from memory).
  const double floor = std::pow(0.004 * std::pow(1 + 0.021 * 150, 2), 0.25);
  CHECK_THAT(foe_mhz(0, 0, 180, 150, -1), WithinAbs(floor, 1e-12));
  CHECK_THAT(foe_mhz(0, 0, 170, 150, 6), WithinAbs(floor, 1e-12));
  CHECK(foe_mhz(0, 0, 105, 150, 1) > foe_mhz(0, 0, 105, 150, 2));
  // polar night, Sun 5 degrees down: only the second term
  const double d = std::pow(0.072, 1.2) * std::exp(25.2 - 0.28 * 95);
  const double b = std::pow(cos_deg(80), 0.11 - 0.49 * cos_deg(80));
  const double expect = std::pow((1 + 0.0094 * (100 - 66)) * b * (92 + 35 * cos_deg(80)) * d, 0.25);
  CHECK_THAT(foe_mhz(80, -15, 95, 100, -1), WithinAbs(expect, 1e-9));
  CHECK(foe_mhz(80, -15, 95, 100, -1) <= foe_mhz(80, -15, 95, 100, 0.5));
}
