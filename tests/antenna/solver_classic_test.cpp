// Free space and perfect ground: the values every handbook gives.
#include "check.hpp"
#include "mom_system.hpp"
#include "solver_support.hpp"

using namespace solver_test;
using Complex = std::complex<double>;
using skerry::antenna::mom::port_impedances;

namespace {

/// Low, so that a hundredth of a millimetre is thin indeed.
constexpr double thin_mhz = 0.2;

Complex thin_dipole(double length_in_wavelengths) {
  const double length = length_in_wavelengths * wavelength_m(thin_mhz);
  return thin_limit(length, [&](double radius_mm) {
    const auto s = solve(dipole(length, 0, radius_mm, 1e30), free_space, thin_mhz, {60, 4, 3000});
    REQUIRE(s);
    return s->feed_ohm;
  });
}

FarField field_of(const WireAntenna& a, const Ground& g, double mhz) {
  const auto s = solve(a, g, mhz);
  REQUIRE(s);
  return far_field(*s, g);
}

}  // namespace

TEST_CASE("Dipoles in the thin limit have the classical impedances", "[antenna][solver][known]") {
  // Source: induced-EMF method (Balanis, "Antenna Theory", section 8.5; from memory): 30 Cin(2 pi) + j 30
  // Si(2 pi) for the half wave, the same of 6 pi for three half waves. Tolerance 0.6 ohm: the extrapolation's
  // own scatter when the largest radius is left out.
  const Complex half = thin_dipole(0.5);
  CHECK_THAT(half.real(), WithinAbs(73.1, 0.6));
  CHECK_THAT(half.imag(), WithinAbs(42.5, 0.6));
  const Complex three_halves = thin_dipole(1.5);
  CHECK_THAT(three_halves.real(), WithinAbs(105.5, 1.5));  // steeper in 1/Omega
  CHECK_THAT(three_halves.imag(), WithinAbs(45.5, 1.5));
}

TEST_CASE("A thicker dipole has more resistance at half a wave, and resonates shorter",
          "[antenna][solver][known]") {
  // Source: handbook curve of resonant length against thickness: 0.95 to 0.975 of a half wave (from memory).
  const double mhz = 14.0;
  const double lambda = wavelength_m(mhz);
  double last_r = 0;
  double last_resonance = 1;
  for (const double radius_mm : {0.1, 1.0, 10.0}) {
    const auto s = solve(dipole(lambda / 2, 0, radius_mm, no_loss), free_space, mhz);
    REQUIRE(s);
    CHECK(s->feed_ohm.real() > last_r);
    last_r = s->feed_ohm.real();
    double low = 0.44;
    double high = 0.5;
    for (int i = 0; i < 30; ++i) {
      const double middle = 0.5 * (low + high);
      const auto at = solve(dipole(lambda * middle, 0, radius_mm, no_loss), free_space, mhz);
      REQUIRE(at);
      (at->feed_ohm.imag() > 0 ? high : low) = middle;
    }
    CAPTURE(radius_mm, low);
    CHECK(low * 2 > 0.95);
    CHECK(low * 2 < 0.978);  // a tenth of a millimetre is thinner than the handbook's wires
    CHECK(low < last_resonance);
    last_resonance = low;
  }
  // "Several thousand ohm", falling with thickness (Kraus, "Antennas", from memory).
  const auto thin = solve(dipole(lambda * 0.96, 0, 0.5, no_loss), free_space, mhz);
  const auto thick = solve(dipole(lambda * 0.96, 0, 25, no_loss), free_space, mhz);
  REQUIRE(thin);
  REQUIRE(thick);
  CHECK(std::abs(thin->feed_ohm) > 3000);
  CHECK(std::abs(thick->feed_ohm) < 0.6 * std::abs(thin->feed_ohm));
}

TEST_CASE("Dipoles and monopoles have the textbook directivities", "[antenna][solver][known]") {
  // Source: Balanis, table of dipole directivities (from memory): short 1.76, half wave 2.15, full wave 3.82
  // dBi; monopoles 3 dB more over perfect ground. Tolerance 0.03 dB (thin wire; the textbook's current is a
  // pure sine); full wave 0.15 dB, its current at the feed being no node in truth.
  const double mhz = 14.0;
  const double lambda = wavelength_m(mhz);
  CHECK_THAT(best_dbi(field_of(dipole(0.02 * lambda, 0, 0.01, no_loss), free_space, mhz)),
             WithinAbs(1.76, 0.03));
  CHECK_THAT(best_dbi(field_of(dipole(0.5 * lambda, 0, 0.01, no_loss), free_space, mhz)),
             WithinAbs(2.15, 0.03));
  CHECK_THAT(best_dbi(field_of(dipole(lambda, 0, 0.01, no_loss), free_space, mhz)), WithinAbs(3.82, 0.15));
  CHECK_THAT(best_dbi(field_of(upright(0.25 * lambda, 0, 0, 0.01, no_loss), perfect, mhz)),
             WithinAbs(5.15, 0.03));
  CHECK_THAT(best_dbi(field_of(upright(0.02 * lambda, 0, 0, 0.01, no_loss), perfect, mhz)),
             WithinAbs(4.77, 0.03));
}

TEST_CASE("A half-wave dipole's pattern is the textbook's", "[antenna][solver][known]") {
  // Source: cos(90 deg cos t)/sin t, t from the wire (Balanis). Down to -20 dB; 0.1 dB for a current that is
  // no pure sine.
  const auto f = field_of(dipole(0.5 * wavelength_m(14.0), 0, 0.01, no_loss), free_space, 14.0);
  for (int azimuth = 0; azimuth < 360; azimuth += 10) {
    for (int elevation = 0; elevation <= 90; elevation += 15) {
      const double along = std::cos(elevation * pi / 180) * std::sin(azimuth * pi / 180);
      const double across = std::sqrt(1 - along * along);
      if (across < 0.3) continue;
      const double field = std::cos(pi / 2 * along) / across;
      CAPTURE(azimuth, elevation);
      CHECK_THAT(at_dbi(f, elevation, azimuth), WithinAbs(2.15 + 20 * std::log10(field), 0.1));
    }
  }
}

TEST_CASE("A monopole on perfect ground is half a dipole", "[antenna][solver][known]") {
  // Exact by symmetry; 36.5 ohm in the thin limit follows from the dipole's 73.1.
  const double mhz = 7.0;
  const double lambda = wavelength_m(mhz);
  const auto monopole = solve(upright(0.25 * lambda, 0, 0, 1, no_loss), perfect, mhz);
  const auto whole = solve(dipole(0.5 * lambda, 0, 1, no_loss), free_space, mhz);
  REQUIRE(monopole);
  REQUIRE(whole);
  CHECK(std::abs(2.0 * monopole->feed_ohm - whole->feed_ohm) < 1e-3 * std::abs(whole->feed_ohm));
}

TEST_CASE("Short monopoles have the textbook radiation resistance and reactance",
          "[antenna][solver][known]") {
  // Source: assumed sine of current: 0.158, 1.000, 4.17 ohm at 0.02, 0.05 and 0.1 wavelengths (40 pi^2
  // (h/lambda)^2 where short); King, "The Theory of Linear Antennas" (from memory): the true current of a
  // short antenna is less full, R = 18.3 (k h)^2 (1 + 0.086 (k h)^2) for the dipole at moderate
  // thickness, 8.5 % under the sine's 20 (k h)^2, and X = -(60/(k h)) (Omega - 3.39), Omega = 2 ln(2h/a). R
  // must lie between the two, X within 2 % (cot for 1/(k h)).
  const double mhz = 7.0;
  const double lambda = wavelength_m(mhz);
  for (const auto& [h, sine_r] : {std::pair{0.02, 0.158}, {0.05, 1.000}, {0.1, 4.17}}) {
    const auto s = solve(upright(h * lambda, 0, 0, 0.05, no_loss), perfect, mhz, {40, 10, 3000});
    REQUIRE(s);
    CAPTURE(h, s->feed_ohm);
    const double kh = 2 * pi * h;
    CHECK(s->feed_ohm.real() < sine_r);
    CHECK(s->feed_ohm.real() > 0.5 * 18.3 * kh * kh * (1 + 0.086 * kh * kh));
    const double x = -30 * (2 * std::log(2 * h * lambda / 5e-5) - 3.39) / std::tan(kh);
    CHECK_THAT(s->feed_ohm.imag(), WithinAbs(x, 0.02 * std::abs(x)));
  }
}

TEST_CASE("Two parallel dipoles couple as the handbook curve says", "[antenna][solver][known]") {
  // Source: induced-EMF mutual resistance 30 (2 Ci(u0) - Ci(u1) - Ci(u2)) (Kraus; Balanis 8.6): 40.79,
  // -12.53, 4.01 ohm at 0.25, 0.5, 1 wavelength. Tolerance 0.6 ohm, as for the dipole's own thin limit.
  const double lambda = wavelength_m(thin_mhz);
  for (const auto& [spacing, r21] : {std::pair{0.25, 40.79}, {0.5, -12.53}, {1.0, 4.01}}) {
    const double y = spacing * lambda / 2;
    const double l = lambda / 4;
    const Complex mutual = thin_limit(lambda / 2, [&](double radius_mm) -> Complex {
      const WireAntenna pair = antenna(
          {wire({-l, -y, 0}, {l, -y, 0}, radius_mm, 1e30), wire({-l, y, 0}, {l, y, 0}, radius_mm, 1e30)}, {});
      const auto z = port_impedances(pair, {{1, 0.5}, {2, 0.5}}, free_space, thin_mhz, {60, 4, 3000});
      REQUIRE(z);
      return (*z)(0, 1);
    });
    CAPTURE(spacing, mutual);
    CHECK_THAT(mutual.real(), WithinAbs(r21, 0.6));
  }
}

TEST_CASE("A dipole's resistance over perfect ground follows its image", "[antenna][solver][known]") {
  // Source: R(h) = 73.1 - R21(2h), R21 as above; thin limit, tolerance 0.8 ohm (two such limits).
  const double lambda = wavelength_m(thin_mhz);
  for (const auto& row : {std::pair{0.125, 73.1 - 40.79}, {0.25, 73.1 + 12.53}, {0.5, 73.1 - 4.01}}) {
    const double h = row.first, r = row.second;
    const Complex z = thin_limit(lambda / 2, [&](double radius_mm) {
      const auto s = solve(dipole(lambda / 2, h * lambda, radius_mm, 1e30), perfect, thin_mhz, {60, 4, 3000});
      REQUIRE(s);
      return s->feed_ohm;
    });
    CAPTURE(h, z);
    CHECK_THAT(z.real(), WithinAbs(r, 0.8));
  }
}

TEST_CASE("First lobes of a dipole over perfect ground stand where the image puts them",
          "[antenna][solver][known]") {
  // Source: asin(lambda/(4 h)): 30, 19.5 and 14.5 degrees at 0.5, 0.75 and 1 wavelength. Grid of one degree.
  const double mhz = 14.0;
  const double lambda = wavelength_m(mhz);
  for (const auto& [h, lobe] : {std::pair{0.5, 30.0}, {0.75, 19.5}, {1.0, 14.5}}) {
    const auto f = field_of(dipole(0.48 * lambda, h * lambda), perfect, mhz);
    int best = 1;
    for (int e = 1; e < 45; ++e) {
      if (at_dbi(f, e, 0) > at_dbi(f, best, 0)) best = e;
    }
    CHECK_THAT(best, WithinAbs(lobe, 1.0));
  }
}

TEST_CASE("A two-element wire beam has the usual gain and front-to-back ratio", "[antenna][solver][known]") {
  // Common practice: driven element with a reflector 5 % longer at 0.15 wavelengths: 6.5 to 7.2 dBi, 8 to 15
  // dB.
  const double mhz = 14.0;
  const double lambda = wavelength_m(mhz);
  const WireAntenna beam =
      antenna({wire({-0.237 * lambda, 0, 0}, {0.237 * lambda, 0, 0}, 1),
               wire({-0.248 * lambda, -0.15 * lambda, 0}, {0.248 * lambda, -0.15 * lambda, 0}, 1)},
              {1, 0.5});
  const auto f = field_of(beam, free_space, mhz);
  CHECK(at_dbi(f, 0, 0) > 6.3);
  CHECK(at_dbi(f, 0, 0) < 7.4);
  CHECK(at_dbi(f, 0, 0) - at_dbi(f, 0, 180) > 7);
}

TEST_CASE("A folded dipole has four times a dipole's resistance", "[antenna][solver][known]") {
  // Source: 4 x 73 ohm (Kraus). 10 %: at the plain dipole's resonant length the stubs add a little reactance
  // only.
  const double mhz = 14.0;
  const double l = 0.2405 * wavelength_m(mhz);
  const double d = 0.1;
  const WireAntenna folded = antenna({wire({-l, 0, 0}, {l, 0, 0}, 1), wire({l, 0, 0}, {l, 0, d}, 1),
                                      wire({l, 0, d}, {-l, 0, d}, 1), wire({-l, 0, d}, {-l, 0, 0}, 1)},
                                     {1, 0.5});
  const auto one = solve(dipole(2 * l, 0, 1), free_space, mhz);
  const auto four = solve(folded, free_space, mhz);
  REQUIRE(one);
  REQUIRE(four);
  CAPTURE(one->feed_ohm, four->feed_ohm);
  const double r =
      1 / (1.0 / four->feed_ohm).real();  // as a parallel resistance: the stubs lie across the feed
  const double r1 = 1 / (1.0 / one->feed_ohm).real();
  CHECK_THAT(r / r1, WithinAbs(4, 0.4));
}

TEST_CASE("A small loop has the textbook radiation resistance", "[antenna][solver][known]") {
  // Source: 31171 (A/lambda^2)^2 ohm for uniform current; a loop of 0.04 wavelengths round, fed at one point,
  // carries (tan k l)/(k l) = 1.005 times more on the average than at its feed (k l = 0.126, half way round):
  // 1 % in R, and its line wave is a little slower than light; tolerance 3 %.
  const double mhz = 7.0;
  const double lambda = wavelength_m(mhz);
  const double side = 0.01 * lambda;
  const WireAntenna loop =
      antenna({wire({0, 0, 0}, {side, 0, 0}, 5, 1e18), wire({side, 0, 0}, {side, 0, side}, 5, 1e18),
               wire({side, 0, side}, {0, 0, side}, 5, 1e18), wire({0, 0, side}, {0, 0, 0}, 5, 1e18)},
              {1, 0.5});
  const auto s = solve(loop, free_space, mhz, {20, 8, 3000});
  REQUIRE(s);
  const double area = side * side / (lambda * lambda);
  CAPTURE(s->feed_ohm);
  CHECK_THAT(s->feed_ohm.real() / (31171 * area * area), WithinAbs(1, 0.03));
  CHECK(s->feed_ohm.imag() > 0);
  CHECK_THAT(best_dbi(far_field(*s, free_space)), WithinAbs(1.76, 0.1));
}
