#include "radiation.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>

#include "skerry/core/units.hpp"

namespace skerry::antenna {

namespace {

using Complex = std::complex<double>;
constexpr double two_pi = 2.0 * std::numbers::pi;

// Source: CODATA 2018, impedance of free space.
constexpr double eta_ohm = 376.730313668;
// Judgement: nearer wires are laid on the ground, where a thin wire's height no longer says how close the
// soil is.
constexpr double lowest_wire_m = 0.02;

// Judgement: the row of 0 degrees is that of 0.1, where a field that vanishes at the horizon is 20 dB below
// that at 1 degree: interpolating decibels towards nothing would make the first degree far too weak.
constexpr double grazing_deg = 0.1;

/// A piece made ready: from its low end up, so that every growth factor stays at or below one.
struct Ready {
  Vec3 start{}, step{}, along{};  // along: unit vector
  double segment = 0;
  std::vector<Complex> amps;
};

struct Shape {
  std::vector<Ready> pieces;
  double lowest_m = 1e9, reach_m = 0, top_m = 0;
  bool mirror = true;  // every wire in the plane y = 0
  bool round = true;   // every wire on the z axis
};

Shape make_ready(const std::vector<CurrentPiece>& given) {
  Shape out;
  for (const CurrentPiece& piece : given) {
    assert(piece.amps.size() >= 2);
    Ready r;
    const bool turn = piece.from_m[2] > piece.to_m[2];
    const Vec3& a = turn ? piece.to_m : piece.from_m;
    const Vec3& b = turn ? piece.from_m : piece.to_m;
    const double count = static_cast<double>(piece.amps.size() - 1);
    double length = 0;
    for (std::size_t i = 0; i < 3; ++i) length += (b[i] - a[i]) * (b[i] - a[i]);
    length = std::sqrt(length);
    assert(length > 0);
    r.start = a;
    for (std::size_t i = 0; i < 3; ++i) {
      r.step[i] = (b[i] - a[i]) / count;
      r.along[i] = (b[i] - a[i]) / length;
    }
    r.segment = length / count;
    r.amps = piece.amps;
    if (turn) {
      std::reverse(r.amps.begin(), r.amps.end());
      for (Complex& i : r.amps) i = -i;
    }
    for (const Vec3& end : {a, b}) {
      out.lowest_m = std::min(out.lowest_m, end[2]);
      out.top_m = std::max(out.top_m, end[2]);
      out.reach_m = std::max(out.reach_m, std::hypot(end[0], end[1]));
      out.mirror = out.mirror && std::abs(end[1]) < 1e-9;
      out.round = out.round && std::hypot(end[0], end[1]) < 1e-9;
    }
    out.pieces.push_back(std::move(r));
  }
  return out;
}

/// One node's triangle and the two half triangles at the ends, integrated against e^{x s} per segment.
struct Hats {
  Complex inner;  // all of the triangle, times z
  Complex first;  // half triangle falling from the first node
  Complex last;   // half triangle rising to the last node, times z
};
Hats hats(Complex x, Complex z) {
  if (std::norm(x) < 0.01) {
    // Series of the same three expressions, next term below 1e-7 for |x| < 0.1.
    const Complex slope = 1.0 + x * (0.5 + x * (1.0 / 6 + x * (1.0 / 24 + x / 120.0)));
    return {slope * slope, 0.5 + x * (1.0 / 6 + x * (1.0 / 24 + x * (1.0 / 120 + x / 720.0))),
            0.5 + x * (1.0 / 3 + x * (1.0 / 8 + x * (1.0 / 30 + x / 144.0)))};
  }
  const Complex inverse = 1.0 / x;
  const Complex slope = (z - 1.0) * inverse;
  return {slope * slope, (slope - 1.0) * inverse, (z - slope) * inverse};
}

/// Plain product: std::complex's operator checks for infinities and is several times slower.
inline Complex times(Complex a, Complex b) {
  return {a.real() * b.real() - a.imag() * b.imag(), a.real() * b.imag() + a.imag() * b.real()};
}

/// The sum over nodes of amps times e^{x s/segment}, times the segment, without the start's own phase.
Complex ladder(const Ready& piece, Complex x) {
  const double size = std::exp(x.real());
  const Complex z(size * std::cos(x.imag()), size * std::sin(x.imag()));
  const Hats h = hats(x, z);
  const std::size_t n = piece.amps.size() - 1;
  const Complex* amps = piece.amps.data();
  double re = 0, im = 0;
  for (std::size_t i = n - 1; i >= 1; --i) {  // Horner: sum amps[i] z^(i-1), i = 1..n-1
    const double t = re * z.real() - im * z.imag() + amps[i].real();
    im = re * z.imag() + im * z.real() + amps[i].imag();
    re = t;
  }
  // z^(n-1) from the exponential itself.
  const double far = std::exp(x.real() * static_cast<double>(n - 1));
  const double turn = x.imag() * static_cast<double>(n - 1);
  const Complex tail = times(amps[n], {far * std::cos(turn), far * std::sin(turn)});
  return piece.segment * (times({re, im}, h.inner) + times(amps[0], h.first) + times(tail, h.last));
}

struct Spectrum {
  std::array<Complex, 3> up{}, down{};
};

/// Current moment seen by a plane wave leaving upwards and by one leaving downwards. ux, uy: direction
/// cosines; uz real (or, with bound true, the decay rate: e^{-k uz z}, and only `down` is filled).
void add(Spectrum& out, const Ready& piece, double k, double ux, double uy, double uz, bool bound) {
  const double across = k * (ux * piece.start[0] + uy * piece.start[1]);
  const double step = k * (ux * piece.step[0] + uy * piece.step[1]);
  const Complex start(std::cos(across), std::sin(across));
  const double rise = k * uz * piece.start[2];
  const double climb = k * uz * piece.step[2];
  const auto put = [&piece](std::array<Complex, 3>& n, Complex moment) {
    for (std::size_t i = 0; i < 3; ++i) n[i] += piece.along[i] * moment;
  };
  if (bound) {
    put(out.down, times(start * std::exp(-rise), ladder(piece, {-climb, step})));
    return;
  }
  const Complex lift(std::cos(rise), std::sin(rise));
  const Complex up = ladder(piece, {0.0, step + climb});
  const Complex down = climb == 0.0 ? up : ladder(piece, {0.0, step - climb});
  put(out.up, times(times(start, lift), up));
  put(out.down, times(times(start, std::conj(lift)), down));
}

/// Fresnel coefficients for any horizontal wave number u (1 = grazing) and vertical one w (complex when
/// bound).
Fresnel reflect(const Ground& ground, Complex eps, double u, Complex w) {
  if (ground.kind == GroundKind::perfect) return {1.0, -1.0};
  if (ground.kind == GroundKind::free_space) return {0.0, 0.0};
  const Complex q = std::sqrt(eps - u * u);
  return {(eps * w - q) / (eps * w + q), (w - q) / (w + q)};
}

/// Parts of the moment across the ray: TM (theta) and TE (phi), of the wave up and the wave down.
struct Across {
  Complex tm_up, te_up, tm_down, te_down;
};
Across across(const Spectrum& n, double c, double s, double u, Complex w) {
  const Complex rho_up = c * n.up[0] + s * n.up[1];
  const Complex rho_down = c * n.down[0] + s * n.down[1];
  return {w * rho_up - u * n.up[2], -s * n.up[0] + c * n.up[1], -w * rho_down - u * n.down[2],
          -s * n.down[0] + c * n.down[1]};
}

struct Rule {
  std::vector<double> x, weight;  // on 0..1
};
/// Gauss-Legendre nodes by Newton's method on the recurrence. Source: Abramowitz and Stegun 25.4.30.
Rule gauss(int n) {
  Rule rule;
  for (int i = 0; i < n; ++i) {
    double x = std::cos(std::numbers::pi * (i + 0.75) / (n + 0.5));
    double slope = 1;
    for (int pass = 0; pass < 50; ++pass) {
      double p0 = 1, p1 = x;
      for (int j = 2; j <= n; ++j) {
        const double p2 = ((2.0 * j - 1.0) * x * p1 - (j - 1.0) * p0) / j;
        p0 = p1;
        p1 = p2;
      }
      slope = n * (x * p1 - p0) / (x * x - 1.0);
      const double move = p1 / slope;
      x -= move;
      if (std::abs(move) < 1e-15) break;
    }
    rule.x.push_back(0.5 * (1.0 - x));
    rule.weight.push_back(1.0 / ((1.0 - x * x) * slope * slope));
  }
  return rule;
}
// Judgement: counts that hold the sums to the accuracy the tests measure by doubling them.
constexpr int real_angles = 24;
constexpr int bound_angles = 20;
const Rule& rule_of(int base, int fineness) {
  static const std::array<Rule, 4> ready{gauss(real_angles), gauss(2 * real_angles), gauss(bound_angles),
                                         gauss(2 * bound_angles)};
  return ready[(base == real_angles ? 0U : 2U) + (fineness > 1 ? 1U : 0U)];
}

Spectrum spectrum(const Shape& shape, double k, double ux, double uy, double uz, bool bound) {
  Spectrum n;
  for (const Ready& piece : shape.pieces) add(n, piece, k, ux, uy, uz, bound);
  return n;
}

/// Calls visit(cos, sin, weight) over `count` (even) azimuths counted from the x axis; the weights sum to 2
/// pi.
template <class Visit>
void around(const Shape& shape, int count, const Visit& visit) {
  if (shape.round) {
    visit(1.0, 0.0, two_pi);
    return;
  }
  const int used = shape.mirror ? count / 2 : count;
  for (int j = 0; j < used; ++j) {
    const double angle = two_pi * (j + 0.5) / count;
    visit(std::cos(angle), std::sin(angle), two_pi / used);
  }
}

int even(double x) {
  return 2 * static_cast<int>(std::ceil(x / 2.0));
}

}  // namespace

RadiatedPower radiated_power(const std::vector<CurrentPiece>& pieces, const Ground& ground, double mhz,
                             bool skip_near, int fineness) {
  const Shape shape = make_ready(pieces);
  const double wave_m = light_km_per_s / 1000.0 / mhz;
  const double k = two_pi / wave_m;
  const Complex eps = ground.kind == GroundKind::real ? complex_permittivity(ground, mhz) : Complex(1.0);
  const double scale = eta_ohm / (8.0 * wave_m * wave_m);
  RadiatedPower out;

  // Real angles. Elevation = 90 deg s^2: dense near grazing, where sea water's reflection turns over.
  const Rule& real_rule = rule_of(real_angles, fineness);
  const double kr = k * shape.reach_m;
  // A pattern from wires within the reach R holds azimuth harmonics up to about 2 k R in power.
  const int ring = fineness * even(std::min(96.0, 2.0 * kr + 10.0));
  for (std::size_t i = 0; i < real_rule.x.size(); ++i) {
    const double elevation = 0.5 * std::numbers::pi * real_rule.x[i] * real_rule.x[i];
    const double w = std::sin(elevation), u = std::cos(elevation);
    const double weight = real_rule.weight[i] * std::numbers::pi * real_rule.x[i] * u * scale;
    const Fresnel r = reflect(ground, eps, u, w);
    const double lost_tm = 1.0 - std::norm(r.vertical), lost_te = 1.0 - std::norm(r.horizontal);
    around(shape, ring, [&](double c, double s, double share) {
      const Across f = across(spectrum(shape, k, u * c, u * s, w, false), c, s, u, w);
      out.up_w += weight * share *
                  (std::norm(f.tm_up + times(r.vertical, f.tm_down)) +
                   std::norm(f.te_up + times(r.horizontal, f.te_down)));
      const double down = weight * share * (lost_tm * std::norm(f.tm_down) + lost_te * std::norm(f.te_down));
      (ground.kind == GroundKind::free_space ? out.down_w : out.refracted_w) += down;
    });
  }
  if (ground.kind != GroundKind::real || skip_near) return out;

  // Bound waves: u = cosh t > 1, decay sinh t. The moment falls as e^{-k sinh(t) z}: past 6 nothing is left.
  const double lowest = std::max(lowest_wire_m, shape.lowest_m);
  const double t_end = std::asinh(6.0 / (k * lowest));
  const double sunk = std::max(0.0, lowest_wire_m - shape.lowest_m);
  const Rule& bound_rule = rule_of(bound_angles, fineness);
  // At u = sqrt(eps) waves stop running in the ground: a corner in the integrand when the ground hardly
  // conducts, so the range is cut there, with the nodes crowded at grazing and at the corner.
  const double corner = std::min(std::acosh(std::max(1.0, std::sqrt(ground.eps_r))), 0.6 * t_end);
  const auto bound = [&](double t, double dt) {
    const double u = std::cosh(t), decay = std::sinh(t);
    const Fresnel r = reflect(ground, eps, u, Complex(0.0, -decay));
    const double weight = dt * u * scale * std::exp(-2.0 * k * decay * sunk);
    const double lost_tm = -2.0 * r.vertical.imag(), lost_te = -2.0 * r.horizontal.imag();
    // A level wire's moment is narrow across its own direction: about 1/(u k R) of the circle.
    const int bound_ring = fineness * even(std::min(96.0, 2.0 * kr * std::min(u, 12.0) + 10.0));
    around(shape, bound_ring, [&](double c, double s, double share) {
      const Across f = across(spectrum(shape, k, u * c, u * s, decay, true), c, s, u, Complex(0.0, -decay));
      out.near_w += weight * share * (lost_tm * std::norm(f.tm_down) + lost_te * std::norm(f.te_down));
    });
  };
  for (std::size_t i = 0; i < bound_rule.x.size(); ++i) {
    const double x = bound_rule.x[i], w = bound_rule.weight[i];
    if (corner > 0) bound(corner * x * x * (3.0 - 2.0 * x), w * corner * 6.0 * x * (1.0 - x));
    bound(corner + (t_end - corner) * x * x, w * (t_end - corner) * 2.0 * x);
  }
  return out;
}

std::vector<double> radiation_intensity(const std::vector<CurrentPiece>& pieces, const Ground& ground,
                                        double mhz) {
  const Shape shape = make_ready(pieces);
  const double wave_m = light_km_per_s / 1000.0 / mhz;
  const double k = two_pi / wave_m;
  const double scale = eta_ohm / (8.0 * wave_m * wave_m);
  std::vector<double> out(91 * 36);
  for (int e = 0; e <= 90; ++e) {
    const double elevation = e == 0 ? grazing_deg : e;
    const double u = e == 90 ? 0.0 : cos_deg(elevation), w = sin_deg(elevation);
    const Fresnel r = fresnel(ground, elevation, mhz);
    double* row = out.data() + static_cast<std::size_t>(e) * 36;
    for (int a = 0; a < 36; ++a) {
      if (shape.round && a > 0) {
        row[a] = row[0];
        continue;
      }
      if (shape.mirror && a > 9 && a < 27) continue;  // filled below
      // Clockwise from north: east is x, north is y.
      const double c = sin_deg(10.0 * a), s = cos_deg(10.0 * a);
      const Across f = across(spectrum(shape, k, u * c, u * s, w, false), c, s, u, w);
      row[a] = scale * (std::norm(f.tm_up + times(r.vertical, f.tm_down)) +
                        std::norm(f.te_up + times(r.horizontal, f.te_down)));
    }
    // In the plane y = 0 north and south mirror each other: azimuths a and 180 - a.
    for (int a = 10; a < 27 && shape.mirror && !shape.round; ++a) row[a] = row[(54 - a) % 36];
  }
  return out;
}

}  // namespace skerry::antenna
