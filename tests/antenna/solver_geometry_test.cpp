// Joints, parts, metal, and what is refused.
#include <limits>

#include "check.hpp"
#include "mom_system.hpp"
#include "solver_support.hpp"

using namespace solver_test;
using Complex = std::complex<double>;
using skerry::antenna::mom::internal_ohm_per_m;
using skerry::antenna::mom::load_ohm;

namespace {

std::string refusal(const WireAntenna& a, const Ground& ground = free_space, double mhz = 14.0,
                    const SolveOptions& options = {}) {
  const auto s = solve(a, ground, mhz, options);
  return s ? "solved" : s.error().to_line();
}

}  // namespace

TEST_CASE("Geometry that cannot be solved is refused with the reason", "[antenna][solver][edge]") {
  const double nan = std::numeric_limits<double>::quiet_NaN();
  const double infinity = std::numeric_limits<double>::infinity();
  CHECK_THAT(refusal(antenna({}, {})), ContainsSubstring("0 wires"));
  CHECK_THAT(refusal(antenna({wire({0, 0, nan}, {1, 0, 1})}, {})), ContainsSubstring("finite coordinates"));
  CHECK_THAT(refusal(antenna({wire({0, 0, 1}, {infinity, 0, 1})}, {})),
             ContainsSubstring("finite coordinates"));
  CHECK_THAT(refusal(antenna({wire({1, 1, 1}, {1, 1, 1})}, {})), ContainsSubstring("at least 0.01 m"));
  CHECK_THAT(refusal(antenna({wire({0, 0, 1}, {5, 0, 1}, 0)}, {})), ContainsSubstring("0.01 to 500 mm"));
  CHECK_THAT(refusal(antenna({wire({0, 0, 1}, {5, 0, 1}, nan)}, {})), ContainsSubstring("0.01 to 500 mm"));
  CHECK_THAT(refusal(antenna({wire({0, 0, 1}, {0.1, 0, 1}, 100)}, {})), ContainsSubstring("thin wire"));
  CHECK_THAT(refusal(antenna({wire({0, 0, 1}, {5, 0, 1}, 1, -1)}, {})), ContainsSubstring("conductivity"));
  CHECK_THAT(refusal(dipole(10, 0.005), average), ContainsSubstring("real ground"));
  CHECK_THAT(refusal(dipole(10, -1), average), ContainsSubstring("real ground"));
  CHECK_THAT(refusal(dipole(10, 0), perfect), ContainsSubstring("perfect ground"));
  CHECK_THAT(refusal(dipole(10, -2), perfect), ContainsSubstring("perfect ground"));
  CHECK_THAT(refusal(antenna({wire({0, 0, 1}, {5, 0, 1})}, {2, 0.5})), ContainsSubstring("feed on wire 2"));
  CHECK_THAT(refusal(antenna({wire({0, 0, 1}, {5, 0, 1})}, {1, 1.5})), ContainsSubstring("at 0 to 1"));
  CHECK_THAT(refusal(antenna({wire({0, 0, 1}, {5, 0, 1})}, {1, nan})), ContainsSubstring("at 0 to 1"));
  CHECK_THAT(refusal(dipole(10, 5), free_space, nan), ContainsSubstring("0.1 to 60 MHz"));
  CHECK_THAT(refusal(dipole(10, 5), free_space, 144), ContainsSubstring("0.1 to 60 MHz"));
  CHECK_THAT(refusal(dipole(10, 5), free_space, 14, {5, 4, 3000}), ContainsSubstring("per wavelength"));
  CHECK_THAT(refusal(dipole(10, 5), free_space, 14, {200, 200, 100}), ContainsSubstring("at most 100"));
  CHECK_THAT(refusal(dipole(10, 5), Ground{GroundKind::real, nan, 0.005, "own"}),
             ContainsSubstring("permittivity"));
  // Twice the same wire, a wire back along another, and two that cross unjoined.
  CHECK_THAT(refusal(antenna({wire({0, 0, 1}, {5, 0, 1}), wire({0, 0, 1}, {5, 0, 1})}, {})),
             ContainsSubstring("lie on each other"));
  CHECK_THAT(refusal(antenna({wire({0, 0, 1}, {5, 0, 1}), wire({5, 0, 1}, {2, 0, 1})}, {})),
             ContainsSubstring("lie on each other"));
  CHECK_THAT(refusal(antenna({wire({0, 0, 1}, {5, 0, 1}), wire({2, -1, 1}, {2, 1, 1})}, {})),
             ContainsSubstring("not joined"));
  std::vector<Wire> crowd;
  for (int i = 0; i < 600; ++i) crowd.push_back(wire({0, 1.0 * i, 0}, {5, 1.0 * i, 0}));
  CHECK_THAT(refusal(antenna(crowd, {})), ContainsSubstring("600 wires"));
  WireAntenna bad_load = dipole(10, 5);
  bad_load.loads.push_back({3, 0.5, 10, 0, 0, 0, false});
  CHECK_THAT(refusal(bad_load), ContainsSubstring("load on wire 3"));
  bad_load.loads[0] = {1, 0.5, nan, 0, 0, 0, false};
  CHECK_THAT(refusal(bad_load), ContainsSubstring("load value"));
}

TEST_CASE("A wire cut in two and joined is the same wire", "[antenna][solver][property]") {
  const auto whole = solve(dipole(10, 3), average, 14.1);
  const auto halves =
      solve(antenna({wire({-5, 0, 3}, {0, 0, 3}), wire({5, 0, 3}, {0, 0, 3})}, {1, 1}), average, 14.1);
  REQUIRE(whole);
  REQUIRE(halves);
  // 1e-5: observer and source change places between halves turned round, the quadrature is not quite
  // symmetric.
  CHECK(std::abs(whole->feed_ohm - halves->feed_ohm) < 1e-5 * std::abs(whole->feed_ohm));
}

TEST_CASE("A wire that ends on the middle of another is joined there", "[antenna][solver][property]") {
  // The same T built of three wires.
  const WireAntenna t = antenna({wire({-3, 0, 6}, {4, 0, 6}), wire({0, 0, 0}, {0, 0, 6})}, {2, 0});
  const WireAntenna three =
      antenna({wire({-3, 0, 6}, {0, 0, 6}), wire({0, 0, 6}, {4, 0, 6}), wire({0, 0, 0}, {0, 0, 6})}, {3, 0});
  const auto a = solve(t, perfect, 7.1);
  const auto b = solve(three, perfect, 7.1);
  REQUIRE(a);
  REQUIRE(b);
  CHECK(std::abs(a->feed_ohm - b->feed_ohm) < 0.01 * std::abs(b->feed_ohm));  // segments differ a little
  // And it matters: alone the upright is short and has far less resistance.
  const auto bare = solve(upright(6, 0, 0), perfect, 7.1);
  REQUIRE(bare);
  CHECK(a->feed_ohm.real() > 1.5 * bare->feed_ohm.real());
}

TEST_CASE("Currents at a joint add up to nothing", "[antenna][solver][property]") {
  // Kirchhoff: what flows into the foot of the vertical comes from its three radials.
  const double h = 1;
  const WireAntenna gp = antenna({wire({0, 0, h}, {0, 0, h + 5}), wire({0, 0, h}, {5, 0, h}),
                                  wire({0, 0, h}, {-3, 4, h}), wire({-3, -4, h}, {0, 0, h})},
                                 {1, 0});
  const auto s = solve(gp, average, 14.1);
  REQUIRE(s);
  Complex sum = 0;
  double largest = 0;
  int ends = 0;
  for (const SegmentCurrent& c : s->currents) {
    for (const bool at_to : {false, true}) {
      const Vec3& end = at_to ? c.to_m : c.from_m;
      if (std::hypot(end[0], end[1]) > 1e-6 || std::abs(end[2] - h) > 1e-6) continue;
      sum += at_to ? -c.to_a : c.from_a;
      largest = std::max(largest, std::abs(at_to ? c.to_a : c.from_a));
      ++ends;
    }
  }
  CHECK(ends == 4);
  CHECK(std::abs(sum) < 1e-12 * largest);
  // 1 W into the terminals: |I|^2 R = 1.
  CHECK_THAT(std::norm(s->currents[0].from_a) * s->feed_ohm.real(), WithinAbs(1, 1e-9));
}

TEST_CASE("A feed on an open end moves one segment in and says so", "[antenna][solver][edge]") {
  const auto s = solve(antenna({wire({0, 0, 5}, {10, 0, 5})}, {1, 0}), average, 14.1);
  REQUIRE(s);
  REQUIRE(s->notes.size() == 1);
  CHECK(s->notes[0].kind == NoteKind::feed_moved_in);
  CHECK(s->notes[0].a == 1);
  // Source: an end-fed half wave is taken as 1.8 to 5 kilohm at its end (common practice); one segment in it
  // is less.
  CHECK(std::abs(s->feed_ohm) > 500);
}

TEST_CASE("An end-fed half wave with a short counterpoise has kilohms at its end",
          "[antenna][solver][known]") {
  // Common practice: 1.8 to 5 kilohm, 2450 the design value, counterpoise of 0.05 wavelengths. Largest value
  // near resonance.
  double best = 0;
  for (double mhz = 13.2; mhz < 15; mhz += 0.05) {
    const auto s =
        solve(antenna({wire({0, 0, 6}, {10.1, 0, 2}), wire({0, 0, 6}, {0, 0, 5})}, {1, 0}), average, mhz);
    REQUIRE(s);
    best = std::max(best, s->feed_ohm.real());
  }
  CHECK(best > 1800);
  CHECK(best < 5000);
}

TEST_CASE("Round wire has the handbook's resistance", "[antenna][solver][known]") {
  // Source: 1/(pi a^2 sigma) at zero frequency with inductance mu0/(8 pi) per metre; Rs/(2 pi a) with the
  // skin shallow (Ramo, Whinnery and Van Duzer). At a/depth = 28 the curvature adds depth/(2 a) = 1.8 % to
  // the flat skin's value.
  const double a = 0.5e-3;
  const double sigma = 5.8e7;
  const Complex slow = internal_ohm_per_m(a, sigma, 1e-4);
  CHECK_THAT(slow.real() * pi * a * a * sigma, WithinAbs(1, 1e-3));
  CHECK_THAT(slow.imag() / (2 * pi * 100), WithinAbs(0.5e-7, 1e-10));
  const double mhz = 14.0;
  const double surface = std::sqrt(pi * mhz * 1e6 * 4e-7 * pi / sigma);
  CHECK_THAT(internal_ohm_per_m(a, sigma, mhz).real() / (surface / (2 * pi * a)), WithinAbs(1.018, 0.003));
  // Both branches meet: |g a| = 30.
  const double edge_mhz = std::pow(30 / (std::sqrt(2.0) * a), 2) / (pi * 1e6 * 4e-7 * pi * sigma);
  const Complex below = internal_ohm_per_m(a, sigma, edge_mhz * 0.9999);
  const Complex above = internal_ohm_per_m(a, sigma, edge_mhz * 1.0001);
  CHECK(std::abs(above - below) < 3e-4 * std::abs(below));
}

TEST_CASE("A copper dipole loses its skin resistance times half its length", "[antenna][solver][known]") {
  // Source: a sine of current has a mean square of one half (any handbook). 3 %: not a pure sine.
  const double mhz = 14.0;
  const double length = 0.48 * wavelength_m(mhz);
  const auto s = solve(dipole(length, 0, 0.5), free_space, mhz);
  REQUIRE(s);
  const double expected = internal_ohm_per_m(0.5e-3, 5.8e7, mhz).real() * length / 2 / s->feed_ohm.real();
  CHECK_THAT(s->wire_loss_w / expected, WithinAbs(1, 0.03));
}

TEST_CASE("A jacket shortens the resonant length by two to four per cent", "[antenna][solver][known]") {
  // Common practice for PVC-insulated wire.
  const auto resonance = [](bool insulated) {
    double low = 12;
    double high = 16;
    for (int i = 0; i < 40; ++i) {
      const double mhz = 0.5 * (low + high);
      WireAntenna a = dipole(10, 0);
      a.wires[0].insulated = insulated;
      const auto s = solve(a, free_space, mhz);
      REQUIRE(s);
      (s->feed_ohm.imag() > 0 ? high : low) = mhz;
    }
    return low;
  };
  const double ratio = resonance(true) / resonance(false);
  CHECK(ratio < 0.98);
  CHECK(ratio > 0.96);
  WireAntenna jacketed = dipole(10, 0, 0.5, no_loss);
  jacketed.wires[0].insulated = true;
  const auto s = solve(jacketed, free_space, 14.0);
  REQUIRE(s);
  CHECK(s->wire_loss_w > 0);  // the plastic warms a little
  CHECK(s->wire_loss_w < 0.02);
  CHECK_THAT(far_field(*s, free_space).radiated_w + s->wire_loss_w, WithinAbs(1, 1e-3));
}

TEST_CASE("Parts have the impedances of circuit theory", "[antenna][solver][known]") {
  // Source: circuit theory. 5 uH at 7 MHz is j219.9 ohm; with Q 200 it has 1.10 ohm.
  const Complex coil = load_ohm({1, 0.5, 0, 5, 0, 200, false}, 7);
  CHECK_THAT(coil.imag(), WithinAbs(219.91, 0.01));
  CHECK_THAT(coil.real(), WithinAbs(1.0996, 0.0001));
  // 100 pF at 7 MHz is -j227.4.
  CHECK_THAT(load_ohm({1, 0.5, 10, 0, 100, 0, false}, 7).imag(), WithinAbs(-227.36, 0.01));
  // A trap at resonance is Q times its reactance.
  const double uh = 5;
  const double pf = 1e6 / (std::pow(2 * pi * 7.0, 2) * uh);
  CHECK_THAT(std::abs(load_ohm({1, 0.5, 0, uh, pf, 200, true}, 7)) / (200 * 219.91), WithinAbs(1, 1e-3));
}

TEST_CASE("A part at the feed adds its impedance, and takes its share of the power",
          "[antenna][solver][property]") {
  // Circuit theory: it is in series with the source.
  WireAntenna a = dipole(10, 4);
  const auto bare = solve(a, average, 14.1);
  a.loads.push_back({1, 0.5, 20, 1.5, 0, 100, false});
  const auto loaded = solve(a, average, 14.1);
  REQUIRE(bare);
  REQUIRE(loaded);
  const Complex z = load_ohm(a.loads[0], 14.1);
  CHECK(std::abs(loaded->feed_ohm - bare->feed_ohm - z) < 1e-9 * std::abs(loaded->feed_ohm));
  CHECK_THAT(loaded->load_loss_w, WithinAbs(z.real() / loaded->feed_ohm.real(), 1e-9));
  CHECK(loaded->each_load_loss_w.size() == 1);
  // At a joint too, on a wire that is not fed.
  WireAntenna gp = antenna({wire({0, 0, 1}, {0, 0, 4}), wire({0, 0, 1}, {5, 0, 1})}, {1, 0});
  gp.loads.push_back({2, 0, 0, 4, 0, 150, false});
  const auto with = solve(gp, average, 14.1);
  gp.loads.clear();
  const auto without = solve(gp, average, 14.1);
  REQUIRE(with);
  REQUIRE(without);
  const Complex coil = load_ohm({2, 0, 0, 4, 0, 150, false}, 14.1);
  CHECK(std::abs(with->feed_ohm - without->feed_ohm - coil) < 1e-9 * std::abs(with->feed_ohm));
}

TEST_CASE("A trap makes a short dipole of a long one", "[antenna][solver][known]") {
  // Common practice: with traps resonant at 14.1 MHz at the ends of a 20 m dipole, what lies beyond hardly
  // counts.
  const double uh = 3;
  const double pf = 1e6 / (std::pow(2 * pi * 14.1, 2) * uh);
  WireAntenna trapped = dipole(18, 8);
  trapped.loads = {{1, 0.5 - 5.05 / 18, 0, uh, pf, 200, true}, {1, 0.5 + 5.05 / 18, 0, uh, pf, 200, true}};
  const auto with = solve(trapped, average, 14.1);
  const auto cut = solve(dipole(10.1, 8), average, 14.1);
  REQUIRE(with);
  REQUIRE(cut);
  CHECK(std::abs(with->feed_ohm - cut->feed_ohm) < 25);
  CHECK(with->load_loss_w > 0);
  CHECK(with->load_loss_w < 0.15);
}

TEST_CASE("A wire along a conductive mast is detuned", "[antenna][solver][property]") {
  // Common practice: a vertical wire run up a conducting mast (carbon fibre) is detuned.
  const WireAntenna alone = antenna({wire({0, 0, 0.5}, {0, 0, 5.5}), wire({0, 0, 0.5}, {5, 0, 0.5})}, {1, 0});
  WireAntenna beside = alone;
  beside.wires.push_back(wire({0, 0.05, 0.1}, {0, 0.05, 6}, 12, 5e4));
  const auto a = solve(alone, rock, 14.1);
  const auto b = solve(beside, rock, 14.1);
  REQUIRE(a);
  REQUIRE(b);
  CAPTURE(a->feed_ohm, b->feed_ohm, a->wire_loss_w, b->wire_loss_w);
  CHECK(std::abs(a->feed_ohm - b->feed_ohm) > 0.1 * std::abs(a->feed_ohm));
  // Worse when the mast is near a half wave itself.
  beside.wires.back() = wire({0, 0.05, 0.1}, {0, 0.05, 10}, 12, 5e4);
  const auto c = solve(beside, rock, 14.1);
  REQUIRE(c);
  CAPTURE(c->feed_ohm, c->wire_loss_w);
  CHECK(std::abs(a->feed_ohm - c->feed_ohm) > 0.5 * std::abs(a->feed_ohm));
}
