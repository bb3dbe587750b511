#include "skerry/antenna/ground.hpp"

#include <cmath>

#include "check.hpp"
#include "skerry/core/units.hpp"

using namespace skerry;
using namespace skerry::antenna;

namespace {
Ground ground(const char* name) {
  return find_ground(name, {}).value();
}
double phase_deg(std::complex<double> z) {
  return std::arg(z) * deg_per_rad;
}
}  // namespace

TEST_CASE("ground constants are those of the handbooks", "[antenna][known]") {
  // ITU-R P.527-3 classes and amateur handbooks, from memory.
  CHECK(ground("sea").sigma_s_per_m == 5.0);
  CHECK(ground("average").eps_r == 13.0);
  CHECK(ground("average").sigma_s_per_m == 0.005);
  CHECK(ground("medium-dry").eps_r == 15.0);
  CHECK(ground("Lava").name == "rock");
  CHECK(ground("perfect").kind == GroundKind::perfect);
  CHECK(ground("free").kind == GroundKind::free_space);
}

TEST_CASE("an unknown ground is refused with the nearest name", "[antenna][edge]") {
  const auto found = find_ground("averge", {"--ground", 0, 0});
  REQUIRE(!found);
  const std::string line = found.error().to_line();
  CHECK(line.find("averge") != std::string::npos);
  CHECK(line.find("very-dry") != std::string::npos);
  CHECK(line.find("did you mean 'average'") != std::string::npos);
  CHECK(!find_ground("", {}));
}

TEST_CASE("complex permittivity follows 18 000 sigma over MHz", "[antenna][known]") {
  // The imaginary part 17 975 sigma/f from eps0 (CODATA); handbooks print 18 000.
  const auto eps = complex_permittivity(ground("average"), 14.1);
  CHECK(eps.real() == 13.0);
  CHECK_THAT(eps.imag(), WithinAbs(-17975.0 * 0.005 / 14.1, 0.002));
}

TEST_CASE("reflection at 14.1 MHz meets an independent table", "[antenna][known]") {
  // Magnitudes and phases from a separate script on the same constants; printed to 0.001 and 1 degree, so
  // half a unit.
  struct Row {
    const char* ground;
    double elevation_deg, rv, rv_phase, rh;
  };
  const Row rows[] = {{"sea", 5, 0.816, -12, 0.998},         {"sea", 10, 0.903, -6, 0.997},
                      {"sea", 20, 0.949, -3, 0.994},         {"sea", 30, 0.965, -2, 0.991},
                      {"average", 5, 0.501, -171, 0.955},    {"average", 10, 0.217, -152, 0.913},
                      {"average", 20, 0.180, -36, 0.835},    {"average", 30, 0.339, -17, 0.769},
                      {"medium-dry", 5, 0.482, -178, 0.955}, {"medium-dry", 10, 0.180, -174, 0.912},
                      {"medium-dry", 20, 0.157, -7, 0.834},  {"medium-dry", 30, 0.332, -3, 0.767},
                      {"very-dry", 10, 0.465, -179, 0.783},  {"very-dry", 20, 0.173, -178, 0.620}};
  for (const Row& row : rows) {
    CAPTURE(row.ground, row.elevation_deg);
    const Fresnel r = fresnel(ground(row.ground), row.elevation_deg, 14.1);
    CHECK_THAT(std::abs(r.vertical), WithinAbs(row.rv, 0.00051));
    CHECK_THAT(phase_deg(r.vertical), WithinAbs(row.rv_phase, 0.51));
    CHECK_THAT(std::abs(r.horizontal), WithinAbs(row.rh, 0.00051));
  }
}

TEST_CASE("the pseudo-Brewster angle lies where the table puts it", "[antenna][known]") {
  // Angle of least |Rv| and its value at 14.1 MHz, separate script, steps of 0.05 degrees.
  struct Row {
    const char* ground;
    double angle_deg, least;
  };
  for (const Row& row : {Row{"sea", 0.70, 0.411}, Row{"wet", 9.95, 0.098}, Row{"average", 14.75, 0.107},
                         Row{"medium-dry", 14.45, 0.020}, Row{"rock", 23.80, 0.051}}) {
    CAPTURE(row.ground);
    double best = 2, at = 0;
    for (double d = 0.05; d < 45; d += 0.05) {
      const double now = std::abs(fresnel(ground(row.ground), d, 14.1).vertical);
      if (now < best) {
        best = now;
        at = d;
      }
    }
    CHECK_THAT(at, WithinAbs(row.angle_deg, 0.06));
    CHECK_THAT(best, WithinAbs(row.least, 0.001));
  }
  // Without loss it is atan(1/sqrt(eps)): Jordan and Balmain, from memory.
  const Ground glass{GroundKind::real, 4.0, 0.0, "glass"};
  CHECK(std::abs(fresnel(glass, std::atan(0.5) * deg_per_rad, 10).vertical) < 1e-12);
}

TEST_CASE("reflection has the right limits", "[antenna][property]") {
  for (const char* name : {"sea", "average", "rock"}) {
    const Fresnel grazing = fresnel(ground(name), 0.0, 7.0);
    CHECK(std::abs(grazing.vertical + 1.0) < 1e-12);
    CHECK(std::abs(grazing.horizontal + 1.0) < 1e-12);
    for (double d = 0; d <= 90; d += 5) {
      const Fresnel r = fresnel(ground(name), d, 7.0);
      CHECK(std::abs(r.vertical) <= 1.0 + 1e-12);
      CHECK(std::abs(r.horizontal) <= 1.0 + 1e-12);
      CHECK(reflection_loss_db(ground(name), d, 7.0) >= 0.0);
    }
    // Straight down the two polarisations are one: equal size, opposite sign by convention.
    const Fresnel down = fresnel(ground(name), 90.0, 7.0);
    CHECK(std::abs(down.vertical + down.horizontal) < 1e-12);
  }
  const Ground metal{GroundKind::real, 1.0, 1e9, "metal"};
  CHECK(std::abs(fresnel(metal, 20, 14).vertical - 1.0) < 1e-3);
  CHECK(std::abs(fresnel(metal, 20, 14).horizontal + 1.0) < 1e-3);
  const Ground air{GroundKind::real, 1.0, 0.0, "air"};
  CHECK(std::abs(fresnel(air, 20, 14).vertical) < 1e-12);
  CHECK(reflection_loss_db(ground("perfect"), 10, 14) == 0.0);
}
