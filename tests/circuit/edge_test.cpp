// A ridge in front of a station: the curve itself, and what it makes of contacts.
#include "edge.hpp"

#include <cmath>
#include <numbers>

#include "check.hpp"
#include "skerry/circuit/path_answer.hpp"
#include "skerry/core/nth.hpp"

using namespace skerry;
using namespace skerry::circuit;

namespace {

/// Fresnel's integrals by the midpoint rule.
double exact_knife_edge_db(double v) {
  double c = 0, s = 0;
  constexpr int steps = 20000;
  const double step = v / steps;
  for (int i = 0; i < steps; ++i) {
    const double t = (i + 0.5) * step;
    c += std::cos(std::numbers::pi * t * t / 2) * step;
    s += std::sin(std::numbers::pi * t * t / 2) * step;
  }
  return -20 * std::log10(std::hypot(1 - c - s, c - s) / 2);
}

/// From an island shore to a town 4000 km away, at noon in March.
PathAnswer behind(geodesy::Skyline skyline) {
  PathQuestion q;
  q.from.at = GeoPoint::at_deg(59.53, -1.63);
  q.to.at = GeoPoint::at_deg(36, 22);
  q.from.skyline = skyline;
  q.climate.day = middle_of(std::chrono::year{2027} / 3);
  q.climate.r12 = ionosphere::R12(100);
  q.mode = *noise::find_mode("cw", {});
  for (const double mhz : {7.03, 10.12, 14.06, 18.09, 21.06, 24.91, 28.06})
    q.frequencies.push_back({"", mhz});
  return answer(q);
}

}  // namespace

TEST_CASE("the loss over a knife edge is Fresnel's", "[circuit][known]") {
  // Source: ITU-R P.526 section 4.1 gives J(v) as a fit to the integral that its equation (26) names: 6.0 dB at
  // grazing, nothing from v = -0.78 down. The integral is worked out here; the fit is apart by up to 0.13 dB.
  CHECK_THAT(knife_edge_db(0), WithinAbs(6.02, 0.02));
  for (const double v : {-0.5, 0.0, 0.5, 1.0, 2.0, 3.0, 5.0})
    CHECK_THAT(knife_edge_db(v), WithinAbs(exact_knife_edge_db(v), 0.15));
  CHECK(knife_edge_db(-0.79) == 0);
  CHECK(knife_edge_db(-5) == 0);
}

TEST_CASE("an edge costs 6 dB at grazing at any distance and frequency, and less the clearer the ray",
          "[circuit][known]") {
  // v by hand: a ray 3 degrees over an edge 1.3 km away at 14.06 MHz (21.3 m): 0.05236 sqrt(2600/21.32) = 0.578.
  CHECK_THAT(skyline_db({5, 1.3}, 8, 14.06), WithinAbs(exact_knife_edge_db(-0.578), 0.2));
  for (const double mhz : {1.9, 7.0, 28.0}) {
    for (const double km : {0.1, 1.0, 30.0}) {
      CHECK_THAT(skyline_db({5, km}, 5, mhz), WithinAbs(6.02, 0.02));
      CHECK(skyline_db({5, km}, 6, mhz) < skyline_db({5, km}, 5, mhz));
      CHECK(skyline_db({5, km}, 4, mhz) > skyline_db({5, km}, 5, mhz));
    }
  }
  // The farther away and the higher the frequency, the sharper its shadow.
  CHECK(skyline_db({10, 5}, 5, 14) > skyline_db({10, 1}, 5, 14));
  CHECK(skyline_db({10, 1}, 5, 28) > skyline_db({10, 1}, 5, 14));
  // A free view costs nothing.
  CHECK(skyline_db({0, 1}, 1, 14) == 0);
  CHECK(skyline_db({-2, 1}, 0, 14) == 0);
}

TEST_CASE("a tenth of a degree of skyline moves no answer by a decibel", "[circuit][scan]") {
  for (const double km : {0.3, 1.3, 10.0}) {
    auto before = behind({0, km});
    for (double deg = 0.1; deg < 25; deg += 0.1) {
      const auto after = behind({deg, km});
      for (std::size_t h = 0; h < 24; ++h) {
        for (std::size_t f = 0; f < before.question.frequencies.size(); ++f) {
          const auto& a = nth(before.ways.front().hours, h).bands[f];
          const auto& b = nth(after.ways.front().hours, h).bands[f];
          REQUIRE(a.any() == b.any());
          CHECK(std::abs(a.there.margin_db - b.there.margin_db) < 1);
        }
      }
      before = after;
    }
  }
}

TEST_CASE("a ridge takes more the higher it stands, and the ledger still adds up", "[circuit][property]") {
  const auto free = behind({});
  const auto low = behind({4, 1.3});
  const auto high = behind({12, 1.3});
  for (std::size_t h = 0; h < 24; ++h) {
    for (std::size_t f = 0; f < free.question.frequencies.size(); ++f) {
      const auto& a = nth(free.ways.front().hours, h).bands[f];
      const auto& b = nth(low.ways.front().hours, h).bands[f];
      const auto& c = nth(high.ways.front().hours, h).bands[f];
      CHECK(a.there_terms.skyline_db == 0);
      for (const auto* cell : {&b, &c}) {
        for (const auto& m : cell->passage.in_use()) CHECK(m.skyline_db >= 0);
        CHECK_THAT(cell->there_terms.margin_db(), WithinAbs(cell->there.margin_db, 1e-9));
      }
      for (std::size_t m = 0; m < static_cast<std::size_t>(b.passage.count); ++m)
        CHECK(b.passage.modes[m].skyline_db <= c.passage.modes[m].skyline_db);
    }
  }
}
