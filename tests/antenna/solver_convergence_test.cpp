#include <cstdlib>
#include <iostream>
#include <sstream>

#include "check.hpp"
#include "solver_support.hpp"

using namespace solver_test;

TEST_CASE("Doubling the segments changes little", "[antenna][solver][property]") {
  // No outside authority: a numerical method is checked against itself. Judgement: from the default 20 per
  // wavelength to 160, 3 % in |Z| (the delta gap's capacitance grows with the logarithm of the segments),
  // 0.05 dB in gain.
  struct Case {
    const char* name;
    WireAntenna antenna;
    Ground ground;
    double mhz;
  };
  const std::vector<Case> cases{
      {"dipole 0.1 m over average ground", dipole(20, 0.1), average, 7.1},
      {"dipole 6 m over rock", dipole(10, 6), rock, 14.1},
      {"vertical, two radials 0.1 m over the sea",
       antenna({wire({0, 0, 0.1}, {0, 0, 5.2}), wire({0, 0, 0.1}, {5.1, 0, 0.1}),
                wire({0, 0, 0.1}, {-5.1, 0, 0.1})},
               {1, 0}),
       salt_water, 14.1},
      {"end-fed 20 m over average ground, first harmonic",
       antenna({wire({0, 0, 1}, {-2, 0, 0.5}), wire({0, 0, 1}, {0, 0, 6}), wire({0, 0, 6}, {15, 0, 2})},
               {2, 0}),
       average, 14.2},
  };
  std::ostringstream table;
  table << "antenna; segments per wavelength; R; X; gain at 20 degrees dBi; radiated\n";
  for (const Case& c : cases) {
    std::complex<double> first_z;
    double first_gain = 0;
    for (const int n : {20, 40, 80, 160}) {
      const auto s = solve(c.antenna, c.ground, c.mhz, {n, 4, 3000});
      REQUIRE(s);
      const FarField f = far_field(*s, c.ground);
      const double gain = at_dbi(f, 20, 0);
      table << c.name << "; " << n << "; " << s->feed_ohm.real() << "; " << s->feed_ohm.imag() << "; " << gain
            << "; " << f.radiated_w << "\n";
      if (n == 20) {
        first_z = s->feed_ohm;
        first_gain = gain;
      }
      CAPTURE(c.name, n);
      CHECK(std::abs(s->feed_ohm - first_z) < 0.03 * std::abs(first_z));
      CHECK_THAT(gain, WithinAbs(first_gain, 0.05));
    }
  }
  if (std::getenv("SKERRY_PRINT_TABLES") != nullptr) std::cout << table.str();
}
