// Real ground: balance, limits, and what low wires lose.
#include "check.hpp"
#include "mom_absorb.hpp"
#include "mom_system.hpp"
#include "skerry/antenna/pattern.hpp"
#include "skerry/core/parallel.hpp"
#include "solver_support.hpp"

using namespace solver_test;
using Complex = std::complex<double>;
using skerry::antenna::mom::port_impedances;

namespace {

/// 1 - (radiated + wire + loads + absorbed), absorbed found independently: 0 when everything is right.
double energy_defect_w(const Solution& solution, const FarField& field, const Ground& ground) {
  return 1 - field.radiated_w - solution.wire_loss_w - solution.load_loss_w -
         ground_absorption_w(solution, ground);
}

WireAntenna ground_plane(double radial_height_m) {
  const double h = radial_height_m;
  return antenna(
      {wire({0, 0, h}, {0, 0, h + 5.1}), wire({0, 0, h}, {5.1, 0, h}), wire({0, 0, h}, {-5.1, 0, h})},
      {1, 0});
}

WireAntenna inverted_v() {
  return antenna({wire({0, 0, 6}, {-4.1, 0, 3}), wire({0, 0, 6}, {4.1, 0, 3})}, {1, 0});
}

WireAntenna end_fed() {
  return antenna({wire({0, 0, 1}, {-2, 0, 0.5}), wire({0, 0, 1}, {0, 0, 6}), wire({0, 0, 6}, {13, 6, 2})},
                 {2, 0});
}

std::vector<WireAntenna> travellers() {
  return {ground_plane(0.5), inverted_v(), end_fed(), upright(10, 1, 0.5), dipole(10, 2)};
}

}  // namespace

TEST_CASE("What goes in comes out: radiated, wire and ground add up to the input",
          "[antenna][solver][property]") {
  // Energy conservation; the ground's share is found from the fields at its surface, independently of the
  // rest. 1 % is what is asked of the program; 0.1 % is what it does.
  for (const Ground& ground : {salt_water, average, rock, fresh_water, very_dry}) {
    for (const WireAntenna& a : travellers()) {
      const auto s = solve(a, ground, 14.1);
      REQUIRE(s);
      const FarField f = far_field(*s, ground);
      const double defect = energy_defect_w(*s, f, ground);
      CAPTURE(ground.name, a.wires.size(), f.radiated_w, f.ground_loss_w, defect);
      CHECK(std::abs(defect) < 1e-3);
      CHECK(f.ground_loss_w > 0);
    }
  }
}

TEST_CASE("What the ground's share costs follows from what lies low, not from what hangs above it",
          "[antenna][solver][regression]") {
  // A dipole for 160 m on a mast whose foot is 2 cm up: wide above, narrow below.
  const auto with_mast = [](double foot_m) {
    return antenna(
        {wire({0, 0, 5}, {-38, 0, 1}), wire({0, 0, 5}, {38, 0, 1}), wire({0.05, 0, foot_m}, {0.05, 0, 4.9})},
        {1, 0});
  };
  const auto high = solve(with_mast(1), average, 1.85);
  const auto low = solve(with_mast(0.02), average, 1.85);
  REQUIRE(high);
  REQUIRE(low);
  const double above = ground_absorption_work(*high, average);
  CHECK(ground_absorption_work(*low, average) < 2 * above);
  CHECK(above < 2e6);
  CHECK(std::abs(energy_defect_w(*low, far_field(*low, average), average)) < 5e-3);
  // Twice as low, four times the work, where all of it lies low.
  const auto flat = [](double height_m) {
    const auto s = solve(antenna({wire({-20, 0, height_m}, {20, 0, height_m})}, {1, 0.5}), average, 3.6);
    REQUIRE(s);
    return ground_absorption_work(*s, average);
  };
  CHECK_THAT(flat(0.1) / flat(0.2), Catch::Matchers::WithinRel(4.0, 0.3));
}

TEST_CASE("Where the ground's share would take minutes it is what is left, and said to be",
          "[antenna][solver][edge]") {
  const auto r = radiate(antenna({wire({-20, 0, 0.02}, {20, 0, 0.02})}, {1, 0.5}), average, 3.6);
  REQUIRE(r);
  const auto b = energy_balance(*r);
  CHECK(std::isnan(b.defect_w));
  CHECK_THAT(b.radiated_w + b.wire_w + b.parts_w + b.ground_w, WithinAbs(1.0, 1e-12));
}

TEST_CASE("Without a lossy ground the balance closes too", "[antenna][solver][property]") {
  for (const Ground& ground : {free_space, perfect}) {
    for (const WireAntenna& a : travellers()) {
      for (const double mhz : {7.05, 14.1, 28.3}) {
        const auto s = solve(a, ground, mhz);
        REQUIRE(s);
        CAPTURE(ground.name, a.wires.size(), mhz);
        CHECK(std::abs(energy_defect_w(*s, far_field(*s, ground), ground)) < 1e-3);
      }
    }
  }
}

TEST_CASE("The balance holds over the sea where wires are wavelengths apart", "[antenna][solver][property]") {
  // A wire of nearly four wavelengths, end-fed, and two verticals three wavelengths apart with one driven.
  const double lambda = wavelength_m(28.3);
  const WireAntenna wire_40m = antenna({wire({-20, 0, 3}, {20, 0, 5})}, {1, 0.05});
  const WireAntenna two =
      antenna({wire({0, 0, 0.3}, {0, 0, 5}), wire({3 * lambda, 0, 0.3}, {3 * lambda, 0, 5})}, {1, 0.5});
  for (const WireAntenna& a : {wire_40m, two}) {
    const auto s = solve(a, salt_water, 28.3);
    REQUIRE(s);
    CHECK(std::abs(energy_defect_w(*s, far_field(*s, salt_water), salt_water)) < 1e-3);
  }
}

TEST_CASE("Very good ground is perfect ground, and ground like air is no ground",
          "[antenna][solver][property]") {
  for (const WireAntenna& a : travellers()) {
    const Ground metal{GroundKind::real, 1, 1e8, "metal"};
    const Ground air{GroundKind::real, 1.00001, 0, "air"};
    const auto over_metal = solve(a, metal, 14.1);
    const auto over_perfect = solve(a, perfect, 14.1);
    const auto over_air = solve(a, air, 14.1);
    const auto alone = solve(a, free_space, 14.1);
    REQUIRE(over_metal);
    REQUIRE(over_perfect);
    REQUIRE(over_air);
    REQUIRE(alone);
    CAPTURE(a.wires.size());
    // 0.2 %: twice the ground table's and the quadrature's accuracy; impedances near a half wave are steep.
    CHECK(std::abs(over_metal->feed_ohm - over_perfect->feed_ohm) < 2e-3 * std::abs(over_perfect->feed_ohm));
    CHECK(std::abs(over_air->feed_ohm - alone->feed_ohm) < 2e-3 * std::abs(alone->feed_ohm));
  }
}

TEST_CASE("Two antennas over lossy ground hear each other alike", "[antenna][solver][property]") {
  // Reciprocity to 0.1 %. The matrix is kept symmetric, so the wires' order and direction are turned round as
  // well: observer and source then swap places in every integral.
  const Wire low = wire({0, 0, 0.3}, {5, 1, 0.5});
  const Wire slope = wire({8, 4, 1}, {10, 9, 6});
  const auto turned = [](Wire w) {
    std::swap(w.from_m, w.to_m);
    return w;
  };
  for (const Ground& ground : {salt_water, average, rock}) {
    const auto z = port_impedances(antenna({low, slope}, {}), {{1, 0.3}, {2, 0.6}}, ground, 14.1);
    const auto back =
        port_impedances(antenna({turned(slope), turned(low)}, {}), {{2, 0.7}, {1, 0.4}}, ground, 14.1);
    REQUIRE(z);
    REQUIRE(back);
    CAPTURE(ground.name, (*z)(0, 1));
    CHECK(std::abs((*z)(0, 1) - (*z)(1, 0)) < 1e-3 * std::abs((*z)(0, 1)));
    CHECK(std::abs((*z)(0, 1) - (*back)(1, 0)) < 1e-3 * std::abs((*z)(0, 1)));
    CHECK(std::abs((*z)(0, 0) - (*back)(0, 0)) < 1e-3 * std::abs((*z)(0, 0)));
  }
}

TEST_CASE("A wire on the way to the ground never gives power away", "[antenna][solver][edge]") {
  // Negative resistance is what a reflection-coefficient ground gives at such heights.
  for (const Ground& ground : {salt_water, average, rock, fresh_water, very_dry}) {
    for (const double mhz : {1.9, 3.6, 14.1, 28.3}) {
      for (const double height : {0.01, 0.02, 0.1}) {
        const auto s = solve(dipole(0.45 * wavelength_m(mhz), height), ground, mhz);
        CAPTURE(ground.name, mhz, height);
        REQUIRE(s);
        CHECK(s->feed_ohm.real() > 0);
        const FarField f = far_field(*s, ground);
        CHECK(f.ground_loss_w > 0);
        CHECK(f.radiated_w > 0);
        CHECK(f.radiated_w < 0.3);
      }
    }
  }
}

TEST_CASE("A low dipole over average ground loses what practice says", "[antenna][solver][known]") {
  // Common practice (handbook figures for NVIS dipoles over average soil, low bands, from memory): zenith
  // gain about 6 dBi at 0.2 wavelengths; 1 to 3.5 dB of ground loss at 0.1 to 0.2, 5 to 8 dB at 0.05, against
  // perfect ground; and the resistance does not fall to the 5 ohm of perfect ground but stays near 40 to 60.
  const double mhz = 3.6;
  const double lambda = wavelength_m(mhz);
  const auto loss_db = [&](double h) {
    const auto real = solve(dipole(0.475 * lambda, h * lambda, 1, no_loss), average, mhz);
    const auto ideal = solve(dipole(0.475 * lambda, h * lambda, 1, no_loss), perfect, mhz);
    REQUIRE(real);
    REQUIRE(ideal);
    return at_dbi(far_field(*ideal, perfect), 90, 0) - at_dbi(far_field(*real, average), 90, 0);
  };
  CHECK(loss_db(0.05) > 5);
  CHECK(loss_db(0.05) < 8.1);
  CHECK(loss_db(0.1) < 3.6);
  CHECK(loss_db(0.1) > 2);
  CHECK(loss_db(0.2) > 1);
  CHECK(loss_db(0.2) < 2);
  const auto at_fifth = solve(dipole(0.475 * lambda, 0.2 * lambda, 1), average, mhz);
  REQUIRE(at_fifth);
  CHECK_THAT(at_dbi(far_field(*at_fifth, average), 90, 0), WithinAbs(6.2, 0.4));
  const auto at_twentieth = solve(dipole(0.475 * lambda, 0.05 * lambda, 1), average, mhz);
  REQUIRE(at_twentieth);
  CHECK(at_twentieth->feed_ohm.real() > 40);
  CHECK(at_twentieth->feed_ohm.real() < 60);
}

TEST_CASE("The sea lifts a vertical's low angles by 7 to 11 dB over land", "[antenna][solver][known]") {
  // Source: |1 + Rv|/2 of the Fresnel formula at 14.1 MHz: sea -0.9 and average -11.8 dB at 5 degrees, -0.4
  // and -7.8 at 10; the near ground adds to it, hence the wide bounds.
  const auto gain = [](const Ground& ground, int elevation) {
    const auto s = solve(ground_plane(0.5), ground, 14.1);
    REQUIRE(s);
    return at_dbi(far_field(*s, ground), elevation, 0);
  };
  CHECK(gain(salt_water, 5) - gain(average, 5) > 9);
  CHECK(gain(salt_water, 5) - gain(average, 5) < 13);
  CHECK(gain(salt_water, 10) - gain(average, 10) > 6);
  CHECK(gain(salt_water, 10) - gain(average, 10) < 10);
}

TEST_CASE("A shore under the mast is sea, a shore far away is land", "[antenna][solver][property]") {
  // Limits of the two-ground ray picture, and its point: low rays meet the sea, high rays the rock.
  const auto s = solve(ground_plane(0.5), rock, 14.1);
  REQUIRE(s);
  const FarField land = far_field(*s, rock);
  const FarField on_water = far_field(*s, salt_water);
  const FarField same = far_field(*s, rock, {rock, 20, 90, 0});
  const FarField distant = far_field(*s, rock, {salt_water, 1e9, 90, 0});
  const FarField shore = far_field(*s, rock, {salt_water, 20, 90, 0});
  for (int e = 1; e <= 90; e += 7) {
    for (int a = 0; a < 360; a += 40) {
      CAPTURE(e, a);
      CHECK_THAT(at_dbi(same, e, a), WithinAbs(at_dbi(land, e, a), 1e-3));
      CHECK_THAT(at_dbi(distant, e, a), WithinAbs(at_dbi(land, e, a), 1e-3));
    }
  }
  // The top of the antenna, 5.6 m up, is reflected 20 m out at atan(5.6/20) = 15.6 degrees, its foot at 1.4
  // degrees.
  CHECK_THAT(at_dbi(shore, 1, 90), WithinAbs(at_dbi(on_water, 1, 90), 1e-3));
  CHECK_THAT(at_dbi(shore, 17, 90), WithinAbs(at_dbi(land, 17, 90), 1e-3));
  CHECK(at_dbi(shore, 5, 90) > at_dbi(land, 5, 90) + 3);
  CHECK_THAT(at_dbi(shore, 5, 270), WithinAbs(at_dbi(land, 5, 270), 1e-3));
  // Powers are told of the near ground.
  CHECK(shore.radiated_w == land.radiated_w);
}

TEST_CASE("Falling ground brings a horizontal wire's lobe down by the slope's angle",
          "[antenna][solver][known]") {
  // Source: image on a plane tilted by s: the first maximum stands at asin(lambda/(4 h')) - s, h' the height
  // above the plane: wire at 0.7 wavelengths above the origin, 20.9 - 10 = 10.9 degrees down the slope. Grid
  // of one degree, and the wire's own pattern is flat there.
  const double mhz = 14.1;
  const double lambda = wavelength_m(mhz);
  const auto s = solve(dipole(0.48 * lambda, 0.7 * lambda), perfect, mhz);
  REQUIRE(s);
  const FarField f = far_field(*s, perfect, {perfect, 0, 0, 10});
  const auto first_lobe = [&](int azimuth) {
    int e = 1;
    while (at_dbi(f, e + 1, azimuth) > at_dbi(f, e, azimuth)) ++e;
    return e;
  };
  const double height = 0.7 * std::cos(10 * pi / 180);
  CHECK_THAT(first_lobe(0), WithinAbs(std::asin(1 / (4 * height)) * 180 / pi - 10, 1.0));
  // Up the slope the hill hides what is below it, and the lobe stands as much higher.
  CHECK(at_dbi(f, 5, 180) == -99);
  int up = 10;
  while (at_dbi(f, up + 1, 180) > at_dbi(f, up, 180)) ++up;
  CHECK_THAT(up, WithinAbs(std::asin(1 / (4 * height)) * 180 / pi + 10, 1.0));
}

TEST_CASE("Raised radials lose less than low ones", "[antenna][solver][property]") {
  // Common practice: radials a metre up waste less than radials a hand's breadth above poor soil.
  double last = 1;
  for (const double height : {0.05, 0.2, 1.0}) {
    const auto s = solve(ground_plane(height), rock, 14.1);
    REQUIRE(s);
    const double loss = far_field(*s, rock).ground_loss_w;
    CHECK(loss < last);
    last = loss;
  }
}

TEST_CASE("The answer does not depend on the number of threads", "[antenna][solver][property]") {
  const auto all = travellers();
  const auto run = [&] {
    std::vector<Complex> z(all.size() * 3);
    skerry::parallel_for(z.size(), 1, [&](std::size_t begin, std::size_t end) {
      for (std::size_t i = begin; i < end; ++i) {
        const double mhz = std::array{10.11, 18.07, 24.91}[i % 3];
        z[i] = solve(all[i / 3], Ground{GroundKind::real, 9, 0.004, "own"}, mhz)->feed_ohm;
      }
    });
    return z;
  };
  skerry::set_thread_count(4);
  const auto with_four = run();
  skerry::set_thread_count(1);
  const auto alone = run();
  skerry::set_thread_count(0);
  for (std::size_t i = 0; i < alone.size(); ++i) CHECK(alone[i] == with_four[i]);
}
