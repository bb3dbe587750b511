// The far station's usual antenna, computed again by the antenna room.
#include "check.hpp"
#include "skerry/antenna/kinds.hpp"
#include "skerry/antenna/pattern.hpp"
#include "skerry/circuit/contact.hpp"
#include "skerry/core/units.hpp"

using namespace skerry;

namespace {

/// Power over all azimuths, as the antenna room raises, trims and solves a kind without cable.
std::vector<double> mean_power(antenna::Kind kind, int radials, double height_m, double mhz) {
  antenna::Design design;
  design.kind = kind;
  design.shapes = {kind == antenna::Kind::dipole ? antenna::Shape::inverted_v : antenna::Shape::vertical};
  design.radials = radials;
  antenna::Support support;
  support.usable_height_m = height_m;
  const auto raised = antenna::raise(design, support, mhz);
  REQUIRE(!raised.ways.empty());
  const auto& ground = antenna::average_land();
  const auto way = antenna::trimmed(design, support, raised.ways.front(), ground, mhz);
  const auto radiated = antenna::radiate(way.antenna, ground, mhz);
  REQUIRE(radiated.has_value());
  const auto pattern = antenna::pattern_of(*radiated, antenna::chain_for(design, mhz, {}), radiated->field);
  std::vector<double> out;
  for (int e = 0; e <= 90; ++e) out.push_back(from_db(pattern.mean_dbi(e)));
  return out;
}

}  // namespace

TEST_CASE("the usual home antenna is what the antenna room makes of a dipole and a vertical",
          "[circuit][known]") {
  for (const double mhz : {3.6, 7.1, 14.1, 21.2, 28.4}) {
    const auto v = mean_power(antenna::Kind::dipole, 0, 10, mhz);
    const auto up = mean_power(antenna::Kind::vertical_quarter, 4, 44, mhz);
    const circuit::HomeAntenna home(mhz);
    for (const std::size_t e : {1U, 3U, 6U, 10U, 17U, 30U, 55U, 90U}) {
      CAPTURE(mhz, e);
      CHECK_THAT(home.gain_dbi(static_cast<double>(e)), WithinAbs(to_db((v[e] + up[e]) / 2), 0.15));
    }
  }
}

TEST_CASE("the home antenna holds its edges and has no jumps", "[circuit][property]") {
  CHECK(circuit::HomeAntenna(50.1).gain_dbi(10) == circuit::HomeAntenna(28.4).gain_dbi(10));
  CHECK(circuit::HomeAntenna(14.1).gain_dbi(0) == circuit::HomeAntenna(14.1).gain_dbi(1));
  for (double mhz = 1.8; mhz < 54; mhz += 0.25) {
    for (double e = 1; e < 90; e += 0.25) {
      const double now = circuit::HomeAntenna(mhz).gain_dbi(e);
      CHECK_THAT(circuit::HomeAntenna(mhz).gain_dbi(e + 0.25), WithinAbs(now, 1.6));
      CHECK_THAT(circuit::HomeAntenna(mhz + 0.25).gain_dbi(e), WithinAbs(now, 1.0));
    }
  }
}
