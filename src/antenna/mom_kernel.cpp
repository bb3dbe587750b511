#include "mom_kernel.hpp"

#include <algorithm>
#include <cmath>

#include "mom_geometry.hpp"
#include "mom_numbers.hpp"
#include "mom_turn.hpp"

namespace skerry::antenna::mom {

namespace {

/// Clusters points at both ends, where the inner integral has logarithms: s = t^2 (3 - 2t).
template <std::size_t N>
constexpr Rule<N> crowded(const Rule<N>& rule) {
  Rule<N> out{};
  for (std::size_t i = 0; i < N; ++i) {
    const double t = rule.at[i];
    out.at[i] = t * t * (3 - 2 * t);
    out.weight[i] = rule.weight[i] * 6 * t * (1 - t);
  }
  return out;
}
constexpr auto outer8 = crowded(gauss8);
constexpr auto outer6 = crowded(gauss6);

/// Inner integrals over segment q: of G with both shapes, of K with both slopes.
struct Inner {
  Complex g[2], k[2];
  void add(const Shape& shape, double b, double weight, Complex g_value, Complex k_value) {
    g[0] += g_value * (weight * shape.value(1 - b));
    g[1] += g_value * (weight * shape.value(b));
    k[0] -= k_value * (weight * shape.slope(1 - b));
    k[1] += k_value * (weight * shape.slope(b));
  }
};

/// Both integrals.
struct Moments {
  Block g{}, k{};
  void add(const Shape& shape, double a, double weight, const Inner& inner) {
    const double n0 = weight * shape.value(1 - a);
    const double n1 = weight * shape.value(a);
    const double s0 = -weight * shape.slope(1 - a);
    const double s1 = weight * shape.slope(a);
    for (std::size_t b = 0; b < 2; ++b) {
      g[b] += inner.g[b] * n0;
      g[2 + b] += inner.g[b] * n1;
      k[b] += inner.k[b] * s0;
      k[2 + b] += inner.k[b] * s1;
    }
  }
  /// With positions scaled to 0..1 the slopes cancel the lengths of the charge integral.
  [[nodiscard]] Block block(double area, double charge) const {
    Block out;
    for (std::size_t i = 0; i < 4; ++i) out[i] = g[i] * area - k[i] * charge;
    return out;
  }
};

Complex free_space(double r) {
  return turn(-r) * (1 / r);
}

double centre_distance(const Scaled& p, const Scaled& q) {
  return distance(p.at(0.5), q.at(0.5));
}

/// How far apart the segments are, in lengths of the longer.
double relative_gap(const Scaled& p, const Scaled& q) {
  return (centre_distance(p, q) - 0.5 * (p.length + q.length)) / std::max(p.length, q.length);
}
/// Judgement, by test against brute force: errors below 3e-4 of the self term either side of these
/// borders.
constexpr double touching_gap = 0.5;
constexpr double near_gap = 1.2;
constexpr double middle_gap = 3.0;
constexpr double far_gap = 5.0;

double mean_square_radius(const Scaled& p, const Scaled& q) {
  return 0.5 * (p.radius * p.radius + q.radius * q.radius);
}

template <std::size_t N>
Moments far_moments(const Scaled& p, const Scaled& q, const Rule<N>& rule) {
  Moments m;
  const double a2 = mean_square_radius(p, q);
  const Shape on_p(p.length);
  const Shape on_q(q.length);
  for (std::size_t i = 0; i < N; ++i) {
    const Vec3 at = p.at(rule.at[i]);
    Inner inner;
    for (std::size_t j = 0; j < N; ++j) {
      const Vec3 d = minus(at, q.at(rule.at[j]));
      const Complex g = free_space(std::sqrt(dot(d, d) + a2));
      inner.add(on_q, rule.at[j], rule.weight[j], g, g);
    }
    m.add(on_p, rule.at[i], rule.weight[i], inner);
  }
  return m;
}

/// Integrals of N/R and N'/R over a segment whose start lies `foot` before the point nearest to the observer,
/// in units where the segment runs from 0 to 1; d2 is the distance squared from the segment's line. In closed
/// form. With t = s - foot: integrals of t^n/R, n = 0..3 (Gradshteyn and Ryzhik 2.26, or by differentiation).
struct Static {
  double value, slope;
};
Static static_part(const Shape& shape, double length, double foot, double d2) {
  const double t0 = -foot;
  const double t1 = length - foot;
  const double r0 = std::sqrt(t0 * t0 + d2);
  const double r1 = std::sqrt(t1 * t1 + d2);
  // asinh(t1/d) - asinh(t0/d), without cancellation.
  const double a0 = t0 >= 0 ? t0 + r0 : d2 / (r0 - t0);
  const double a1 = t1 >= 0 ? t1 + r1 : d2 / (r1 - t1);
  const double j0 = std::log(a1 / a0);
  const double j1 = r1 - r0;
  const double j2 = 0.5 * (t1 * r1 - t0 * r0 - d2 * j0);
  const double j3 = (r1 * r1 * r1 - r0 * r0 * r0) / 3 - d2 * j1;
  const double m1 = j1 + foot * j0;
  const double m2 = j2 + 2 * foot * j1 + foot * foot * j0;
  const double m3 = j3 + 3 * foot * j2 + 3 * foot * foot * j1 + foot * foot * foot * j0;
  const double by = 1 / length;
  return {shape.scale * by * by * (m1 - shape.cubic * m3 * by * by),
          shape.scale * by * (j0 - 3 * shape.cubic * m2 * by * by)};
}

/// Inner integral of 1/R in closed form, of (exp(-jR) - 1)/R by Gauss.
Moments near_moments(const Scaled& p, const Scaled& q) {
  Moments m;
  const double a2 = mean_square_radius(p, q);
  const Shape on_p(p.length);
  const Shape on_q(q.length);
  for (std::size_t i = 0; i < outer8.at.size(); ++i) {
    const double a = outer8.at[i];
    const Vec3 from_q = minus(p.at(a), q.from);
    const double foot = dot(from_q, q.along);
    const double d2 = std::max(dot(from_q, from_q) - foot * foot, 0.0) + a2;
    const Static rising = static_part(on_q, q.length, foot, d2);
    const Static falling = static_part(on_q, q.length, q.length - foot, d2);
    Inner inner;
    inner.g[0] = falling.value;
    inner.g[1] = rising.value;
    inner.k[0] = -falling.slope;
    inner.k[1] = rising.slope;
    for (std::size_t j = 0; j < gauss4.at.size(); ++j) {
      const double s = gauss4.at[j] * q.length - foot;
      const double r = std::sqrt(s * s + d2);
      const Complex half = turn(0.5 * r);
      const double inverse = 1 / r;
      const Complex g(-2 * half.imag() * half.imag() * inverse, -2 * half.imag() * half.real() * inverse);
      inner.add(on_q, gauss4.at[j], gauss4.weight[j], g, g);
    }
    m.add(on_p, a, outer8.weight[i], inner);
  }
  return m;
}

/// How exp(-jR)/R changes along a segment `u` = cosine to the line between, r away: relative first and second
/// derivatives.
struct Change {
  Complex first, second;
  Change(double u, double r) {
    const Complex fall(1 / (r * r), 1 / r);
    first = Complex(-u / r, -u);
    second = (3 * u * u - 1) * fall - u * u;
  }
};

/// A shape and its slope over one segment against a potential that changes so: end 0 and end 1.
struct Lumped {
  Complex value[2], slope[2];
  Lumped(double length, double u, double r) {
    const Shape shape(length);
    const Change change(u, r);
    const Complex even = 1.0 + change.second * (length * length / 24);
    const Complex lean = change.first * length;
    value[0] = (even - lean * shape.lean()) * shape.mean();
    value[1] = (even + lean * shape.lean()) * shape.mean();
    slope[0] = -even + lean * shape.slope_lean();
    slope[1] = even + lean * shape.slope_lean();
  }
};

/// Both integrals from the potentials between the middles, by Taylor's series to the second order along each
/// segment.
///   way  from the middle of q (or its image) to that of p, r long
Moments lumped(const Scaled& p, const Scaled& q, const Vec3& way, double r, Complex g, Complex k) {
  const Lumped on_p(p.length, dot(way, p.along) / r, r);
  const Lumped on_q(q.length, -dot(way, q.along) / r, r);
  Moments m;
  for (std::size_t a = 0; a < 2; ++a) {
    const Complex g_p = times(g, on_p.value[a]);
    const Complex k_p = times(k, on_p.slope[a]);
    for (std::size_t b = 0; b < 2; ++b) {
      m.g[2 * a + b] = times(g_p, on_q.value[b]);
      m.k[2 * a + b] = times(k_p, on_q.slope[b]);
    }
  }
  return m;
}

Moments air_moments(const Scaled& p, const Scaled& q) {
  const double gap = relative_gap(p, q);
  if (gap > far_gap) {
    const Vec3 way = minus(p.at(0.5), q.at(0.5));
    const double r = std::sqrt(dot(way, way));
    const Complex g = free_space(r);
    return lumped(p, q, way, r, g, g);
  }
  if (gap < near_gap) return near_moments(p, q);
  if (gap < middle_gap) return far_moments(p, q, gauss3);
  return far_moments(p, q, gauss2);
}

Scaled mirrored(const Scaled& q) {
  Scaled image = q;
  image.from[2] = -q.from[2];
  image.along[2] = -q.along[2];
  return image;
}

struct GroundPair {
  const Scaled& p;
  const Scaled& q;
  const SommerfeldTable& table;
  Shape on_p, on_q;
  double horizontal, vertical;  ///< products of the directions' parts
  GroundPair(const Scaled& p_in, const Scaled& q_in, const SommerfeldTable& t)
      : p(p_in),
        q(q_in),
        table(t),
        on_p(p_in.length),
        on_q(q_in.length),
        horizontal(p_in.along[0] * q_in.along[0] + p_in.along[1] * q_in.along[1]),
        vertical(p_in.along[2] * q_in.along[2]) {}

  struct Potentials {
    Complex g, k;
  };
  [[nodiscard]] Potentials between(const Vec3& at_p, const Vec3& at_q) const {
    const double dx = at_p[0] - at_q[0];
    const double dy = at_p[1] - at_q[1];
    const double x = std::sqrt(dx * dx + dy * dy);
    const Reflected f = table.at(x, at_p[2] + at_q[2]);
    // Vertical field of horizontal currents, and the other way round: along the line from source to observer.
    const double inverse = x > 1e-12 ? 1 / x : 0.0;
    const double cross = inverse * (p.along[2] * (q.along[0] * dx + q.along[1] * dy) -
                                    q.along[2] * (p.along[0] * dx + p.along[1] * dy));
    return {f.horizontal * horizontal + f.vertical * vertical + f.coupling * cross, f.charge};
  }
  void add(Inner& inner, double b, double weight, const Vec3& at_p) const {
    const Potentials f = between(at_p, q.at(b));
    inner.add(on_q, b, weight, f.g, f.k);
  }
};

Moments far_off(const GroundPair& pair) {
  const Scaled image = mirrored(pair.q);
  const Vec3 at_p = pair.p.at(0.5);
  const Vec3 way = minus(at_p, image.at(0.5));
  const auto f = pair.between(at_p, pair.q.at(0.5));
  return lumped(pair.p, image, way, std::sqrt(dot(way, way)), f.g, f.k);
}

template <std::size_t N>
Moments far_ground(const GroundPair& pair, const Rule<N>& rule) {
  Moments m;
  for (std::size_t i = 0; i < N; ++i) {
    const Vec3 at_p = pair.p.at(rule.at[i]);
    Inner inner;
    for (std::size_t j = 0; j < N; ++j) pair.add(inner, rule.at[j], rule.weight[j], at_p);
    m.add(pair.on_p, rule.at[i], rule.weight[i], inner);
  }
  return m;
}

/// The image comes close when wires are low: inner points by the sinh substitution, which evens out 1/R.
/// Source: Johnston and Elliott, "A sinh transformation for evaluating nearly singular boundary element
/// integrals", Int. J. Numer. Meth. Engng 62, 2005.
Moments near_ground(const GroundPair& pair) {
  Moments m;
  const Scaled& q = pair.q;
  for (std::size_t i = 0; i < outer6.at.size(); ++i) {
    const double a = outer6.at[i];
    const Vec3 at_p = pair.p.at(a);
    const Vec3 mirrored{at_p[0], at_p[1], -at_p[2]};
    const Vec3 from_q = minus(mirrored, q.from);
    const double foot = dot(from_q, q.along);
    const double across = std::sqrt(std::max(dot(from_q, from_q) - foot * foot, 0.0));
    const double beyond = std::max({0.0, -foot, foot - q.length});
    // Beyond the end the scale is the distance to the end.
    const double scale = std::max(std::max(across, 0.5 * beyond), 1e-6);
    Inner inner;
    const double v0 = std::asinh(-foot / scale);
    const double v1 = std::asinh((q.length - foot) / scale);
    for (std::size_t j = 0; j < gauss8.at.size(); ++j) {
      const double v = v0 + (v1 - v0) * gauss8.at[j];
      const double e = std::exp(v);
      const double b = std::clamp((foot + 0.5 * scale * (e - 1 / e)) / q.length, 0.0, 1.0);  // sinh
      const double weight = gauss8.weight[j] * (v1 - v0) * scale * 0.5 * (e + 1 / e) / q.length;
      pair.add(inner, b, weight, at_p);
    }
    m.add(pair.on_p, a, outer6.weight[i], inner);
  }
  return m;
}

}  // namespace

Block direct_block(const Scaled& p, const Scaled& q) {
  return air_moments(p, q).block(p.length * q.length * dot(p.along, q.along), 1);
}

Block image_block(const Scaled& p, const Scaled& q) {
  // The image of a current along (x, y, z) is along (-x, -y, z), that of a charge is its opposite.
  const double together = p.along[2] * q.along[2] - p.along[0] * q.along[0] - p.along[1] * q.along[1];
  return air_moments(p, mirrored(q)).block(p.length * q.length * together, -1);
}

Block ground_block(const Scaled& p, const Scaled& q, const SommerfeldTable& table) {
  const GroundPair pair(p, q, table);
  const double gap = relative_gap(p, mirrored(q));
  const double area = p.length * q.length;
  if (gap > far_gap) return far_off(pair).block(area, 1);
  if (gap < touching_gap) return near_ground(pair).block(area, 1);
  if (gap < near_gap) return far_ground(pair, gauss4).block(area, 1);
  if (gap < middle_gap) return far_ground(pair, gauss3).block(area, 1);
  return far_ground(pair, gauss2).block(area, 1);
}

}  // namespace skerry::antenna::mom
