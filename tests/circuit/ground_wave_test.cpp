#include "ground_wave.hpp"

#include <numbers>
#include <vector>

#include "check.hpp"
#include "skerry/core/units.hpp"

using namespace skerry;
using namespace skerry::circuit;

namespace {
const antenna::Ground sea{antenna::GroundKind::real, 70, 5, "sea"};
const antenna::Ground land{antenna::GroundKind::real, 22, 0.003, "land"};
}  // namespace

TEST_CASE("the Faddeeva function has its tabulated values", "[circuit][known]") {
  // Source: Abramowitz and Stegun, Table 7.9: w(0) = 1, w(i) = 0.427584, w(1+i) = 0.304744 + 0.208219 i, w(2)
  // = 0.018316 + 0.340026 i.
  CHECK_THAT(faddeeva({0, 0}).real(), WithinAbs(1, 1e-9));
  CHECK_THAT(faddeeva({0, 1}).real(), WithinAbs(0.427584, 1e-6));
  CHECK_THAT(faddeeva({1, 1}).real(), WithinAbs(0.304744, 1e-6));
  CHECK_THAT(faddeeva({1, 1}).imag(), WithinAbs(0.208219, 1e-6));
  CHECK_THAT(faddeeva({2, 0}).real(), WithinAbs(0.018316, 1e-6));
  CHECK_THAT(faddeeva({2, 0}).imag(), WithinAbs(0.340026, 1e-6));
}

TEST_CASE("near the sender 1 kW gives 300 mV/m over d", "[circuit][known]") {
  // Source: ITU-R P.368 reference: 300 mV/m at 1 km for 1 kW on a short vertical over perfect ground, 109.5
  // dB(uV/m).
  const std::vector<Stretch> near{{1, sea}};
  CHECK_THAT(ground_wave_field_dbuv(near, 2), WithinAbs(109.5, 0.1));
}

TEST_CASE("the ground wave stands near the P.368 curves", "[circuit][known]") {
  // Source: ITU-R P.368 curves, sea water (sigma 5, eps 70) and land (sigma 0.003, eps 22), dB(uV/m) for 1
  // kW, from memory of the figures, good to 4 dB.
  struct Row {
    const antenna::Ground& ground;
    double mhz, km, dbuv;
  };
  for (const Row& row : {Row{sea, 2, 100, 68.5}, Row{sea, 10, 100, 62}, Row{sea, 30, 100, 38},
                         Row{land, 2, 10, 70}, Row{land, 2, 100, 27}}) {
    const std::vector<Stretch> all{{row.km, row.ground}};
    CAPTURE(row.ground.name, row.mhz, row.km);
    CHECK_THAT(ground_wave_field_dbuv(all, row.mhz), WithinAbs(row.dbuv, 4));
  }
}

TEST_CASE("far out over flat ground the field falls as 1/(2p)", "[circuit][known]") {
  // Source: Norton 1941: |F| tends to 1/(2|p|) for large numerical distance p; at 10 km curvature still costs
  // little.
  const double mhz = 14, km = 10;
  const auto e = antenna::complex_permittivity(land, mhz);
  const double p = std::numbers::pi * km * mhz * 1e6 / light_km_per_s * std::abs((e - 1.0) / (e * e));
  CHECK_THAT(20 * std::log10(std::abs(ground_wave_factor(land, mhz, km))),
             WithinAbs(-20 * std::log10(2 * p), 0.5));
}

TEST_CASE("near and far forms meet without a step", "[circuit][property]") {
  for (const auto& ground : {sea, land, antenna::Ground{antenna::GroundKind::real, 3, 1e-4, "dry"}}) {
    for (const double mhz : {1.9, 7.0, 14.0, 29.0}) {
      // A step would stand out from the slope on either side of it.
      const auto db = [&](double km) {
        return 20 * std::log10(std::abs(ground_wave_factor(ground, mhz, km)));
      };
      for (double km = 5; km < 400; km *= 1.02) {
        const double before = db(km) - db(km / 1.02);
        const double after = db(km * 1.02) - db(km);
        CHECK_THAT(after, WithinAbs(before, 0.12));
        CHECK(after < 0.005);
      }
    }
  }
}

TEST_CASE("Millington's recovery: sea after land raises the field", "[circuit][property]") {
  // Source: ITU-R P.368 Annex 2; reciprocal, and between all-land and all-sea.
  const std::vector<Stretch> mixed{{50, land}, {50, sea}};
  const std::vector<Stretch> reversed{{50, sea}, {50, land}};
  const double both = ground_wave_field_dbuv(mixed, 7);
  CHECK_THAT(ground_wave_field_dbuv(reversed, 7), WithinAbs(both, 1e-9));
  CHECK(both < ground_wave_field_dbuv(std::vector<Stretch>{{100, sea}}, 7));
  CHECK(both > ground_wave_field_dbuv(std::vector<Stretch>{{100, land}}, 7));
}
