// The elements of the matrix against brute force.
#include "check.hpp"
#include "mom_geometry.hpp"
#include "mom_kernel.hpp"
#include "mom_numbers.hpp"
#include "solver_support.hpp"

using namespace solver_test;
using namespace skerry::antenna::mom;

namespace {

/// Points that crowd geometrically toward `focus` (0..1) and the ends, Gauss in each panel.
std::vector<std::pair<double, double>> graded(double focus) {
  std::vector<double> edges{0, 1};
  for (const double f : {0.0, std::clamp(focus, 0.0, 1.0), 1.0}) {
    edges.push_back(f);
    for (double d = 0.3; d > 1e-6; d *= 0.6) {
      if (f + d < 1) edges.push_back(f + d);
      if (f - d > 0) edges.push_back(f - d);
    }
  }
  std::sort(edges.begin(), edges.end());
  std::vector<std::pair<double, double>> points;
  for (std::size_t e = 0; e + 1 < edges.size(); ++e) {
    const double width = edges[e + 1] - edges[e];
    for (std::size_t i = 0; i < 4 && width > 0; ++i)
      points.emplace_back(edges[e] + width * gauss4.at[i], width * gauss4.weight[i]);
  }
  return points;
}

/// kernel(a, b): t.G.t and K at those places of p and q.
template <class Kernel>
Block brute(const Scaled& p, const Scaled& q, Kernel kernel, bool mirror) {
  const mom::Shape on_p(p.length);
  const mom::Shape on_q(q.length);
  Block out{};
  for (const auto& [a, wa] : graded(0.5)) {
    Vec3 at = p.at(a);
    if (mirror) at[2] = -at[2];
    const double focus = dot(minus(at, q.from), q.along) / q.length;
    for (const auto& [b, wb] : graded(focus)) {
      const auto [g, k] = kernel(a, b);
      const double na[2] = {on_p.value(1 - a), on_p.value(a)};
      const double nb[2] = {on_q.value(1 - b), on_q.value(b)};
      const double sa[2] = {-on_p.slope(1 - a), on_p.slope(a)};
      const double sb[2] = {-on_q.slope(1 - b), on_q.slope(b)};
      for (std::size_t i = 0; i < 4; ++i) {
        out[i] += wa * wb * (g * (na[i / 2] * nb[i % 2] * p.length * q.length) - k * (sa[i / 2] * sb[i % 2]));
      }
    }
  }
  return out;
}

Complex wave(double r) {
  return Complex(std::cos(r), -std::sin(r)) / r;
}

double difference(const Block& a, const Block& b) {
  double d = 0;
  for (std::size_t i = 0; i < 4; ++i) d = std::max(d, std::abs(a[i] - b[i]));
  return d;
}

Scaled segment(Vec3 from, Vec3 along, double length, double radius) {
  const double n = std::sqrt(dot(along, along));
  return {from, scaled(along, 1 / n), length, radius};
}

}  // namespace

TEST_CASE("Segments through the air: closed forms and few points agree with brute force",
          "[antenna][solver][known]") {
  // Source: the double integral itself on geometrically crowded panels, about 10^5 points. 2e-4 of the self
  // term.
  const double l = 0.3;
  for (const double radius : {0.0001, 0.003, 0.02}) {
    const Scaled p = segment({0, 0, 0}, {1, 0, 0}, l, radius);
    const std::vector<Scaled> others{
        p,
        segment({l, 0, 0}, {1, 0, 0}, l, radius),
        segment({l, 0, 0}, {1, 0, 0}, 0.4 * l, radius),
        segment({l, 0, 0}, {0, 1, 0.2}, l, radius),
        segment({l, 0, 0}, {-1, 1, 0}, l, radius),
        segment({l, 0, 0}, {-1, 0.2, 0}, l, radius),
        segment({0, 0.03, 0}, {1, 0, 0}, l, radius),
        segment({2 * l, 0, 0}, {1, 0, 0}, l, radius),
        segment({3.2 * l, 0.1, 0}, {1, 1, 0}, l, radius),
        segment({6 * l, 0, 0}, {1, 0, 1}, l, radius),
        segment({11.1 * l, 0, 0}, {1, 0, 0}, l, radius),
        segment({11.1 * l, 0, 0}, {0, 1, 1}, l, radius),
        segment({9 * l, 9 * l, 0}, {1, 1, 0}, 0.7 * l, radius),
        segment({0, 40 * l, 0}, {1, 1, 0}, l, radius),
    };
    const double self = std::abs(direct_block(p, p)[0]);
    for (const Scaled& q : others) {
      const Block got = direct_block(p, q);
      const double a2 = radius * radius;
      const Block expected = brute(
          p, q,
          [&](double a, double b) {
            const Vec3 d = minus(p.at(a), q.at(b));
            const Complex g = wave(std::sqrt(dot(d, d) + a2));
            return std::pair{g * dot(p.along, q.along), g};
          },
          false);
      CAPTURE(radius, q.from[0], q.from[1], q.along[0], q.along[1], q.length,
              difference(got, expected) / self);
      CHECK(difference(got, expected) < 3e-4 * self);
    }
  }
}

TEST_CASE("Far segments see each other between their middles", "[antenna][solver][known]") {
  // Source: the double integral itself on 40 x 40 points. 1e-4 of the largest element is the documents' 4e-5
  // with room for the nearest pairs.
  const double l = 0.3;
  const Scaled p = segment({0, 0, 0}, {1, 0, 0}, l, 0.001);
  for (const double away : {2.0, 6.0, 12.0}) {
    for (const Vec3& to : {Vec3{1, 0, 0}, Vec3{0, 1, 0}, Vec3{0.7, 0.7, 0.1}}) {
      for (const Vec3& along : {Vec3{1, 0, 0}, Vec3{0, 1, 0}, Vec3{1, 1, 0}, Vec3{0, 0, 1}}) {
        const Scaled q = segment(scaled(to, away), along, l, 0.001);
        const Block got = direct_block(p, q);
        const Block expected = brute(
            p, q,
            [&](double a, double b) {
              const Vec3 d = minus(p.at(a), q.at(b));
              const Complex g = wave(std::sqrt(dot(d, d)));
              return std::pair{g * dot(p.along, q.along), g};
            },
            false);
        double largest = 0;
        for (const Complex& v : expected) largest = std::max(largest, std::abs(v));
        CAPTURE(away, to[0], to[1], along[0], along[1], along[2], difference(got, expected) / largest);
        CHECK(difference(got, expected) < 1e-4 * largest);
      }
    }
  }
}

TEST_CASE("Segments by way of the ground agree with brute force, down to a centimetre",
          "[antenna][solver][known]") {
  // Source: as above, the ground's potentials from the same table (its own accuracy is tested elsewhere).
  // 3e-4 of the self term through the air.
  const double k0 = 2 * skerry::antenna::mom::pi / wavelength_m(7.1);
  for (const Ground& ground : {salt_water, average, rock}) {
    const SommerfeldTable table(complex_permittivity(ground, 7.1), 0.0199 * k0, {10, 0.0199 * k0, 10});
    for (const double height : {0.01, 0.05, 0.5, 3.0}) {
      const double h = height * k0;
      const double l = 0.3;
      const Scaled p = segment({0, 0, h}, {1, 0, 0}, l, 0.0005 * k0);
      const std::vector<Scaled> others{
          p,
          segment({l, 0, h}, {1, 0, 0}, l, 0.0005 * k0),
          segment({l, 0, h}, {1, 0, 1}, l, 0.0005 * k0),
          segment({0, 0, h}, {0, 0, 1}, l, 0.0005 * k0),
          segment({2.5 * l, 0.1, h}, {1, 2, 1}, l, 0.0005 * k0),
          segment({7 * l, 0.1, h}, {1, 2, 1}, l, 0.0005 * k0),
          segment({8.1 * l, 0, h}, {1, 0, 0}, l, 0.0005 * k0),
          segment({8 * l, 0, h + 2 * l}, {1, 0, -1}, l, 0.0005 * k0),
          segment({0, 0, h + 12 * l}, {0, 0, 1}, l, 0.0005 * k0),
          segment({24 * l, 3 * l, h}, {1, 2, 1}, l, 0.0005 * k0),
      };
      const double self = std::abs(direct_block(p, p)[0]);
      for (const Scaled& first : {p, others[3], others[2]}) {
        for (const Scaled& q : others) {
          const Block expected = brute(
              first, q,
              [&](double a, double b) {
                const Vec3 at_p = first.at(a);
                const Vec3 at_q = q.at(b);
                const double dx = at_p[0] - at_q[0];
                const double dy = at_p[1] - at_q[1];
                const double x = std::hypot(dx, dy);
                const Reflected f = table.at(x, at_p[2] + at_q[2]);
                const Vec3& t = first.along;
                const Vec3& s = q.along;
                // G_zx = dP/dx, G_xz = -dP/dx, along observer minus source.
                Complex g = f.horizontal * (t[0] * s[0] + t[1] * s[1]) + f.vertical * (t[2] * s[2]);
                if (x > 0)
                  g += f.coupling / x * (t[2] * (s[0] * dx + s[1] * dy) - s[2] * (t[0] * dx + t[1] * dy));
                return std::pair{g, f.charge};
              },
              true);
          const Block got = ground_block(first, q, table);
          CAPTURE(ground.name, height, first.along[2], q.from[0], q.along[2],
                  difference(got, expected) / self);
          CHECK(difference(got, expected) < 3e-4 * self);
        }
      }
    }
  }
}
