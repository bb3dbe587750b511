#include "radiation.hpp"

#include <cmath>

#include "check.hpp"
#include "skerry/core/units.hpp"

using namespace skerry;
using namespace skerry::antenna;

namespace {

constexpr double mhz = 14.1;
constexpr double wave_m = light_km_per_s / 1000.0 / mhz;
constexpr double k = 2.0 * std::numbers::pi / wave_m;

Ground ground(const char* name) {
  return find_ground(name, {}).value();
}

/// A straight wire carrying sin k(distance from the nearer open end), 1 A at its maximum if it is long
/// enough.
CurrentPiece dipole(Vec3 from, Vec3 to, int steps = 400) {
  CurrentPiece piece{from, to, {}};
  const double length = std::hypot(to[0] - from[0], to[1] - from[1], to[2] - from[2]);
  for (int i = 0; i <= steps; ++i) {
    const double s = length * i / steps;
    piece.amps.emplace_back(std::sin(k * std::min(s, length - s)), 0.0);
  }
  return piece;
}
CurrentPiece level_dipole(double height_m) {
  return dipole({-wave_m / 4, 0, height_m}, {wave_m / 4, 0, height_m});
}
/// Base on the ground, open at the top.
CurrentPiece monopole(double height_m) {
  CurrentPiece piece = dipole({0, 0, -height_m}, {0, 0, height_m});
  piece.from_m = {0, 0, 0};
  piece.amps.erase(piece.amps.begin(), piece.amps.begin() + 200);
  return piece;
}
/// 1 A all along.
CurrentPiece hertz(Vec3 from, Vec3 to) {
  return {from, to, {1.0, 1.0}};
}

double gain_dbi(const std::vector<CurrentPiece>& pieces, const Ground& g, int elevation, int azimuth) {
  const RadiatedPower p = radiated_power(pieces, g, mhz, true);
  const auto u = radiation_intensity(pieces, g, mhz);
  return to_db(4 * std::numbers::pi * u[static_cast<std::size_t>(elevation * 36 + azimuth / 10)] /
               p.leaving_w());
}

// Si and Ci by their power series (Abramowitz and Stegun 5.2.14, 5.2.16), good below about 15.
double ci(double x) {
  double sum = 0.57721566490153286 + std::log(x), term = 1;
  for (int i = 1; i < 60; ++i) {
    term *= -x * x / ((2.0 * i) * (2.0 * i - 1.0));
    sum += term / (2.0 * i);
  }
  return sum;
}
/// Mutual resistance of two parallel half waves side by side. Source: induced EMF, Kraus, Antennas, ch. 10
/// (from memory).
double mutual_ohm(double spacing_m) {
  const double l = wave_m / 2, d = std::hypot(spacing_m, l);
  return 30.0 * (2 * ci(k * spacing_m) - ci(k * (d + l)) - ci(k * (d - l)));
}

}  // namespace

TEST_CASE("a half-wave dipole in free space has its textbook resistance, gain and pattern",
          "[antenna][known]") {
  // Balanis, Antenna Theory, ch. 4 (from memory): 73.08 ohm with 376.73, 2.151 dBi, cos(90 cos th)/sin th.
  const std::vector<CurrentPiece> wire{level_dipole(10)};
  const Ground free = ground("free");
  const RadiatedPower p = radiated_power(wire, free, mhz);
  CHECK_THAT(2.0 * p.leaving_w(), WithinAbs(73.08, 0.02));  // 400 straight steps: 0.01 %
  CHECK_THAT(p.up_w / p.down_w, WithinAbs(1.0, 1e-9));
  CHECK_THAT(gain_dbi(wire, free, 40, 0), WithinAbs(2.151, 0.002));
  const auto u = radiation_intensity(wire, free, mhz);
  for (int azimuth = 0; azimuth < 360; azimuth += 10) {
    const double along =
        std::abs(sin_deg(azimuth)) * cos_deg(30);  // cosine of the angle from the wire (east-west)
    const double expect = std::pow(std::cos(0.5 * std::numbers::pi * along), 2) / (1 - along * along);
    CHECK_THAT(u[static_cast<std::size_t>(30 * 36 + azimuth / 10)] / u[90 * 36], WithinAbs(expect, 2e-4));
  }
}

TEST_CASE("monopoles over perfect ground have their textbook values", "[antenna][known]") {
  const Ground perfect = ground("perfect");
  // Quarter wave: 36.5 ohm and 5.16 dBi (Balanis, from memory). The horizon row is computed at 0.1 degrees.
  const std::vector<CurrentPiece> quarter{monopole(wave_m / 4)};
  CHECK_THAT(2.0 * radiated_power(quarter, perfect, mhz).up_w, WithinAbs(36.54, 0.02));
  CHECK_THAT(gain_dbi(quarter, perfect, 0, 0), WithinAbs(5.161, 0.003));
  // Short: 395 (h/lambda)^2 ohm and 4.77 dBi (Kraus, from memory). At 0.02 the sine is a straight line to 0.1
  // %.
  const std::vector<CurrentPiece> stub{monopole(0.02 * wave_m)};
  const double base = std::norm(stub[0].amps.front());
  CHECK_THAT(2.0 * radiated_power(stub, perfect, mhz).up_w / base, WithinAbs(0.158, 0.001));
  CHECK_THAT(gain_dbi(stub, perfect, 0, 0), WithinAbs(4.77, 0.005));
  // Sinusoidal current, separate quadrature: 4.17 ohm at 0.1, 10.1 at 0.15 wavelengths.
  for (const auto& [waves, ohm] : {std::pair{0.05, 1.000}, std::pair{0.1, 4.17}, std::pair{0.15, 10.1}}) {
    const std::vector<CurrentPiece> one{monopole(waves * wave_m)};
    CHECK_THAT(2.0 * radiated_power(one, perfect, mhz).up_w / std::norm(one[0].amps.front()),
               WithinAbs(ohm, 0.005 * ohm));
  }
}

TEST_CASE("a short dipole has 20 pi^2 (l/lambda)^2 and 1.76 dBi", "[antenna][known]") {
  // Balanis, ch. 4 (from memory).
  const double l = 0.03 * wave_m;
  const std::vector<CurrentPiece> wire{dipole({0, 0, 5}, {0, 0, 5 + l})};
  const double peak = std::norm(wire[0].amps[200]);
  const double expect = 20 * std::pow(std::numbers::pi * 0.03, 2);
  CHECK_THAT(2.0 * radiated_power(wire, ground("free"), mhz).leaving_w() / peak,
             WithinAbs(expect, 0.004 * expect));
  CHECK_THAT(gain_dbi(wire, ground("free"), 0, 0), WithinAbs(1.761, 0.003));
}

TEST_CASE("a horizontal dipole's resistance over perfect ground follows the image", "[antenna][known]") {
  // R = 73.1 - R21(2h). Induced EMF; R21 checked against printed 40.79, -12.53, 4.01 at 0.25, 0.5, 1
  // wavelengths.
  CHECK_THAT(mutual_ohm(0.25 * wave_m), WithinAbs(40.79, 0.02));
  CHECK_THAT(mutual_ohm(0.5 * wave_m), WithinAbs(-12.53, 0.02));
  CHECK_THAT(mutual_ohm(1.0 * wave_m), WithinAbs(4.01, 0.02));
  for (const double waves : {0.05, 0.125, 0.25, 0.4, 0.5}) {
    CAPTURE(waves);
    const RadiatedPower p = radiated_power({level_dipole(waves * wave_m)}, ground("perfect"), mhz);
    CHECK_THAT(2.0 * p.up_w, WithinAbs(73.08 - mutual_ohm(2 * waves * wave_m), 0.05));
    CHECK(p.ground_w() == 0.0);
  }
}

TEST_CASE("first lobes of a horizontal dipole lie where the height puts them", "[antenna][known]") {
  // asin(lambda/4h): the array factor 2 sin(k h sin d). Half a degree for the grid and the sum over it; the
  // dipole itself is even in the plane across it.
  for (const auto& [waves, lobe] :
       {std::pair{0.5, 30.0}, std::pair{0.75, 19.5}, std::pair{1.0, 14.5}, std::pair{1.5, 9.6}}) {
    const auto u = radiation_intensity({level_dipole(waves * wave_m)}, ground("perfect"), mhz);
    int best = 1;
    for (int e = 1; e < static_cast<int>(lobe * 1.8); ++e) {
      if (u[static_cast<std::size_t>(e * 36)] > u[static_cast<std::size_t>(best * 36)]) best = e;
    }
    CHECK_THAT(best, WithinAbs(lobe, 0.6));
  }
}

TEST_CASE("a vertical loses at low angles over land and hardly over the sea", "[antenna][known]") {
  // |1 + Rv|/2 against perfect ground, same current, 14.1 MHz: separate script, printed to 0.1 dB. The factor
  // holds for current at the ground; a whole quarter wave, centred higher, differs by up to 0.2 dB.
  const std::vector<CurrentPiece> wire{monopole(0.01 * wave_m)};
  const auto perfect = radiation_intensity(wire, ground("perfect"), mhz);
  struct Row {
    const char* ground;
    int elevation;
    double db;
  };
  for (const Row& row :
       {Row{"sea", 5, -0.9}, Row{"sea", 10, -0.4}, Row{"sea", 20, -0.2}, Row{"average", 5, -11.8},
        Row{"average", 10, -7.8}, Row{"average", 20, -4.8}, Row{"medium-dry", 5, -11.7},
        Row{"medium-dry", 10, -7.7}, Row{"medium-dry", 20, -4.8}}) {
    CAPTURE(row.ground, row.elevation);
    const auto u = radiation_intensity(wire, ground(row.ground), mhz);
    const auto at = static_cast<std::size_t>(row.elevation * 36);
    CHECK_THAT(to_db(u[at] / perfect[at]), WithinAbs(row.db, 0.051));
    const std::vector<CurrentPiece> whole{monopole(wave_m / 4)};
    const double quarter = radiation_intensity(whole, ground(row.ground), mhz)[at] /
                           radiation_intensity(whole, ground("perfect"), mhz)[at];
    CHECK_THAT(to_db(quarter), WithinAbs(row.db, 0.25));
  }
}

TEST_CASE("near-field loss of a tiny dipole is that of its electrostatic image", "[antenna][known]") {
  // Close to a lossy half space (k h << 1) the absorbed power is 1/2 w |p|^2 (-Im K)/(16 pi eps0 h^3) for a
  // vertical dipole and half of it for a horizontal one, K = (eps - 1)/(eps + 1): image of a charge, Jackson
  // ch. 4; the same limit as Chance, Prock and Silbey (1978). Next terms are of the order (k h)^2 |eps|: 1 to
  // 3 % here.
  const double eps0 = 8.8541878128e-12;
  const double omega = 2 * std::numbers::pi * mhz * 1e6;
  const double l = 0.002, h = 0.05;
  for (const char* name : {"average", "rock", "very-dry"}) {
    CAPTURE(name);
    const auto eps = complex_permittivity(ground(name), mhz);
    const double loss = -((eps - 1.0) / (eps + 1.0)).imag();
    const double expect = 0.5 * (l * l / omega) * loss / (16 * std::numbers::pi * eps0 * h * h * h);
    const double vertical =
        radiated_power({hertz({0, 0, h - l / 2}, {0, 0, h + l / 2})}, ground(name), mhz).near_w;
    const double level = radiated_power({hertz({-l / 2, 0, h}, {l / 2, 0, h})}, ground(name), mhz).near_w;
    CHECK_THAT(vertical / expect, WithinAbs(1.0, 0.03));
    CHECK_THAT(level / (0.5 * expect), WithinAbs(1.0, 0.03));
  }
}

TEST_CASE("power over the ground has the right limits and balances", "[antenna][property]") {
  const std::vector<CurrentPiece> wire{dipole({-4, 0, 3}, {4, 1, 6})};
  const Ground air{GroundKind::real, 1.0, 0.0, "air"};
  const RadiatedPower free = radiated_power(wire, ground("free"), mhz);
  const RadiatedPower nothing = radiated_power(wire, air, mhz);
  CHECK_THAT((nothing.up_w + nothing.ground_w()) / free.leaving_w(), WithinAbs(1.0, 1e-6));
  const Ground metal{GroundKind::real, 1.0, 1e8, "metal"};
  const RadiatedPower image = radiated_power(wire, ground("perfect"), mhz);
  const RadiatedPower close = radiated_power(wire, metal, mhz);
  CHECK_THAT(close.up_w / image.up_w, WithinAbs(1.0, 1e-3));
  CHECK(close.ground_w() < 1e-3 * image.up_w);
  // The printed grid holds the same power: 10 degrees by 1 degree, trapezoid, within 0.5 %.
  for (const char* name : {"free", "perfect", "average", "sea"}) {
    const auto u = radiation_intensity(wire, ground(name), mhz);
    double sum = 0;
    for (int e = 0; e <= 90; ++e) {
      for (int a = 0; a < 36; ++a) {
        sum += u[static_cast<std::size_t>(e * 36 + a)] * cos_deg(e) * rad_per_deg * 10 * rad_per_deg *
               (e == 0 ? 0.5 : 1.0);
      }
    }
    CHECK_THAT(sum / radiated_power(wire, ground(name), mhz).up_w, WithinAbs(1.0, 0.005));
  }
}

TEST_CASE("sums over angles have converged", "[antenna][property]") {
  // Doubling every count moves no share of the power by more than 1 % of the whole, down to 0.25 m over sea
  // and land.
  for (const char* name : {"sea", "average", "rock", "very-dry"}) {
    for (const double height : {0.25, 1.0, 5.0, 10.0}) {
      CAPTURE(name, height);
      const std::vector<CurrentPiece> wires{level_dipole(height), dipole({3, 0, height}, {3, 0, height + 5})};
      const RadiatedPower once = radiated_power(wires, ground(name), mhz);
      const RadiatedPower twice = radiated_power(wires, ground(name), mhz, false, 2);
      const double all = twice.up_w + twice.ground_w();
      CHECK_THAT(once.up_w / all, WithinAbs(twice.up_w / all, 0.005));
      CHECK_THAT(once.refracted_w / all, WithinAbs(twice.refracted_w / all, 0.005));
      CHECK_THAT(once.near_w / all, WithinAbs(twice.near_w / all, 0.01));
    }
  }
}

TEST_CASE("the mirror short cut changes nothing", "[antenna][property]") {
  // The same wires turned by 90 degrees leave the plane y = 0, where the pattern is computed in full.
  const std::vector<CurrentPiece> east{dipole({-4, 0, 3}, {5, 0, 6})};
  const std::vector<CurrentPiece> north{dipole({0, -4, 3}, {0, 5, 6})};
  const auto a = radiation_intensity(east, ground("rock"), mhz);
  const auto b = radiation_intensity(north, ground("rock"), mhz);
  for (std::size_t e = 0; e <= 90; ++e) {
    for (std::size_t az = 0; az < 36; ++az) {
      CHECK_THAT(a[e * 36 + az], WithinAbs(b[e * 36 + (az + 27) % 36], 1e-9 * a[45 * 36]));
    }
  }
}
