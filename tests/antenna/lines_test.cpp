#include "skerry/antenna/lines.hpp"

#include <cmath>
#include <complex>

#include "check.hpp"
#include "skerry/core/units.hpp"

using namespace skerry;
using namespace skerry::antenna;
using Complex = std::complex<double>;

namespace {
const Cable& cable(const char* id) {
  return **find_cable(id, {});
}
}  // namespace

TEST_CASE("matched loss meets catalogue points", "[antenna][known]") {
  // dB per 100 m from makers' catalogues of the class, from memory; cables of one class differ by 10 %, thin
  // ones more.
  CHECK_THAT(matched_loss_db(cable("rg58"), 10, 100), WithinAbs(4.6, 0.46));
  CHECK_THAT(matched_loss_db(cable("rg58"), 50, 100), WithinAbs(10.8, 1.1));
  CHECK_THAT(matched_loss_db(cable("rg58"), 100, 100), WithinAbs(16.1, 1.6));
  CHECK_THAT(matched_loss_db(cable("rg174"), 10, 100), WithinAbs(10.6, 1.1));
  CHECK_THAT(matched_loss_db(cable("rg174"), 100, 100), WithinAbs(27.6, 2.8));
  CHECK_THAT(matched_loss_db(cable("rg213"), 50, 100), WithinAbs(4.9, 0.5));
  // The fitted table at 3.6, 7.1, 14.1, 28.3 MHz, printed to 0.01.
  const double mhz[] = {3.6, 7.1, 14.1, 28.3};
  const double rg316[] = {5.22, 7.33, 10.33, 14.63};
  const double foam240[] = {1.51, 2.12, 3.00, 4.25};
  for (std::size_t i = 0; i < 4; ++i) {
    CHECK_THAT(matched_loss_db(cable("RG-316"), mhz[i], 100), WithinAbs(rg316[i], 0.0051));
    CHECK_THAT(matched_loss_db(cable("foam240"), mhz[i], 100), WithinAbs(foam240[i], 0.0051));
  }
}

TEST_CASE("the exact line agrees with textbook transformations", "[antenna][known]") {
  const Cable& rg58 = cable("rg58");
  const double mhz = 14.1;
  const double wave_m = light_km_per_s / 1000 / mhz * rg58.velocity;
  // Matched: only the matched loss, wherever it is cut.
  const LineInput matched = through_line(rg58, mhz, 12.3, 50.0);
  CHECK_THAT(matched.loss_db, WithinAbs(matched_loss_db(rg58, mhz, 12.3), 1e-9));
  CHECK(std::abs(matched.ohm - 50.0) < 1e-9);
  // A quarter wave turns 100 ohm to z0^2/100 (any textbook); the cable's 0.2 dB pulls it towards 50 a little.
  CHECK_THAT(through_line(rg58, mhz, wave_m / 4, 100.0).ohm.real(), WithinAbs(25.0, 0.9));
  // A half wave repeats it, with the reflection (1/3) weakened by twice the loss.
  const double weak = from_db(-matched_loss_db(rg58, mhz, wave_m / 2)) / 3.0;
  CHECK_THAT(through_line(rg58, mhz, wave_m / 2, 100.0).ohm.real(),
             WithinAbs(50 * (1 + weak) / (1 - weak), 1e-6));
  // Averaged over the phase of the load, the exact loss is the handbook's.
  const double matched_db = matched_loss_db(rg58, mhz, 20.0);
  double in = 0;
  const int n = 72;
  for (int i = 0; i < n; ++i) {
    const Complex rho = std::polar(0.5, 2.0 * std::numbers::pi * i / n);
    in += through_line(rg58, mhz, 20.0, 50.0 * (1.0 + rho) / (1.0 - rho)).loss_db / n;
  }
  // Source: The ARRL Antenna Book, chapter on transmission lines (from memory): 10 log((a^2 - r^2) / (a (1 - r^2))).
  const double a = from_db(matched_db), r = 0.5;
  CHECK_THAT(in, WithinAbs(to_db((a * a - r * r) / (a * (1 - r * r))), 0.02));
}

TEST_CASE("standing-wave ratio of simple loads", "[antenna][known]") {
  CHECK_THAT(swr_of(100.0), WithinAbs(2.0, 1e-12));
  CHECK_THAT(swr_of(25.0), WithinAbs(2.0, 1e-12));
  CHECK_THAT(swr_of(Complex(50, 50)), WithinAbs(2.618, 0.001));  // (3 + sqrt 5)/2
  CHECK(swr_of(Complex(0, 30)) == 999.0);
}

TEST_CASE("transformers and tuners lose what practice says", "[antenna][known]") {
  // Common practice: 49:1 of travel size 0.3 to 1 dB, 9:1 0.5 to 1, tuners 0.2 to 2 dB and more at low
  // resistance.
  for (const double mhz : {3.6, 7.1, 14.1, 28.3}) {
    CHECK(transformer_loss_db(49, mhz) >= 0.3);
    CHECK(transformer_loss_db(49, mhz) <= 1.0);
    CHECK(transformer_loss_db(9, mhz) <= 1.0);
    CHECK(transformer_loss_db(1, mhz) == 0.0);
  }
  CHECK_THAT(transformer_loss_db(49, 14.0, 0.3), WithinAbs(0.3, 1e-12));
  CHECK_THAT(transformer_loss_db(49, 3.5, 0.3), WithinAbs(0.5, 1e-9));  // the row's 1.0 to 0.6
  CHECK_THAT(tuner_loss_db(50.0), WithinAbs(0.2, 0.01));
  CHECK(tuner_loss_db(Complex(2500, 0)) <= 2.0);
  CHECK(tuner_loss_db(Complex(5, 0)) > tuner_loss_db(Complex(500, 0)));
}

TEST_CASE("an unknown cable is refused by name", "[antenna][edge]") {
  const auto found = find_cable("rg59", {});
  REQUIRE(!found);
  CHECK(found.error().to_line().find("rg58") != std::string::npos);
  CHECK(find_cable("RG 8X", {}).value()->id == "rg8x");
}
