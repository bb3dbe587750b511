// The far field by great circles against summing every direction by itself.
#include <cmath>
#include <string>

#include "check.hpp"
#include "mom_circles.hpp"
#include "mom_rays.hpp"
#include "mom_turn.hpp"
#include "solver_support.hpp"

using namespace skerry;
using namespace skerry::antenna;
using solver_test::wire;

namespace {

/// An inverted V fed off its middle: all in the plane y = 0, nothing else alike.
WireAntenna sloping() {
  WireAntenna out;
  out.wires = {wire({0, 0, 8}, {7, 0, 3}), wire({0, 0, 8}, {-9, 0, 1.2})};
  out.feed = {1, 0.3};
  return out;
}

/// A vertical with three radials at odd angles: no plane of symmetry.
WireAntenna lopsided() {
  WireAntenna out;
  out.wires = {wire({0, 0, 1}, {0.3, 0.2, 6}), wire({0, 0, 1}, {5, 1, 0.6}), wire({0, 0, 1}, {-2, 4, 0.6}),
               wire({0, 0, 1}, {-1, -4.5, 1.5})};
  out.feed = {1, 0};
  return out;
}

/// Decibels, where neither is in a hole: 60 dB below the strongest the floor of the interpolation shows.
void check_same(double ours_dbi, double gain) {
  const double exact = gain > 1e-10 ? 10 * std::log10(gain) : -99.0;
  if (exact < -55) {
    CHECK(ours_dbi < -50);
  } else {
    CHECK_THAT(ours_dbi, WithinAbs(exact, 2e-3));
  }
}

}  // namespace

TEST_CASE("great circles give the gain that every direction by itself gives", "[antenna][solver][property]") {
  for (const WireAntenna& antenna : {sloping(), lopsided()}) {
    for (const char* name : {"free", "perfect", "rock", "sea"}) {
      for (const double mhz : {3.6, 14.1, 28.4}) {
        const Ground ground = find_ground(name, {}).value();
        const auto solution = solve(antenna, ground, mhz);
        REQUIRE(solution);
        const mom::Lines lines(*solution);
        const FarField field = far_field(*solution, ground, 3, 15);
        mom::Rays rays(lines, ground, nullptr, 24);
        INFO(name << " " << mhz << " MHz");
        for (std::size_t e = 0; e <= 30; e += 2) {
          const auto gain = rays.gain(3.0 * static_cast<double>(e));
          for (std::size_t a = 0; a < 24; ++a)
            check_same(static_cast<double>(field.gain_dbi[e * 24 + a]), gain[a]);
        }
      }
    }
  }
}

TEST_CASE("a round shore by great circles is the round shore ray by ray", "[antenna][solver][property]") {
  const Ground rock = find_ground("rock", {}).value();
  for (const WireAntenna& antenna : {sloping(), lopsided()}) {
    for (const double from_m : {0.0, 0.7, 4.0, 8.1, 25.0, 400.0}) {
      const auto solution = solve(antenna, rock, 14.1);
      REQUIRE(solution);
      Foreground shore;
      shore.beyond = find_ground("sea", {}).value();
      shore.from_m = from_m;
      shore.all_round = true;
      const mom::Lines lines(*solution);
      const FarField field = far_field(*solution, rock, shore, 3, 15);
      mom::Rays rays(lines, rock, &shore, 24);
      INFO("sea from " << from_m << " m");
      for (std::size_t e = 0; e <= 30; ++e) {
        const auto gain = rays.gain(3.0 * static_cast<double>(e));
        for (std::size_t a = 0; a < 24; ++a)
          check_same(static_cast<double>(field.gain_dbi[e * 24 + a]), gain[a]);
      }
    }
  }
}

TEST_CASE("an odd number of azimuths and a long wire are served too", "[antenna][solver][edge]") {
  WireAntenna antenna = sloping();
  antenna.wires[0].to_m = {70, 0, 3};
  const Ground rock = find_ground("rock", {}).value();
  const auto solution = solve(antenna, rock, 28.4);
  REQUIRE(solution);
  const mom::Lines lines(*solution);
  for (const std::size_t azimuths : {5U, 10U, 36U}) {
    const FarField field = far_field(*solution, rock, 10, 360.0 / static_cast<double>(azimuths));
    mom::Rays rays(lines, rock, nullptr, azimuths);
    for (std::size_t e = 0; e <= 9; ++e) {
      const auto gain = rays.gain(10.0 * static_cast<double>(e));
      for (std::size_t a = 0; a < azimuths; ++a)
        check_same(static_cast<double>(field.gain_dbi[e * azimuths + a]), gain[a]);
    }
  }
}

TEST_CASE("Turning by an angle agrees with the C library's sine and cosine", "[antenna][solver][known]") {
  // Source: the C library, whose own error is below one unit in the last place. 4e-16 is the header's
  // promise.
  double worst = 0;
  for (int i = -200000; i <= 200000; ++i) {
    const double angle = 0.00731 * i * (1 + 1e-3 * i / 200000);
    const auto t = skerry::antenna::mom::turn(angle);
    worst = std::max({worst, std::abs(t.real() - std::cos(angle)), std::abs(t.imag() - std::sin(angle))});
  }
  for (const double angle :
       {0.0, 1e-300, 0.7853981633974483, 1.5707963267948966, -3.141592653589793, 99999.9}) {
    const auto t = skerry::antenna::mom::turn(angle);
    worst = std::max({worst, std::abs(t.real() - std::cos(angle)), std::abs(t.imag() - std::sin(angle))});
  }
  CHECK(worst < 4e-16);
}
