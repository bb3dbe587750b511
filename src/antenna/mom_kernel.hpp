// What one segment's current does to another: the elements of the impedance matrix.
// Layer: antenna, internal to the solver. Sees core.
#pragma once

#include <array>
#include <memory>

#include "mom_mesh.hpp"
#include "mom_sommerfeld.hpp"

namespace skerry::antenna::mom {

/// For the currents N_a (1 at end a, 0 at the other) on segment p and N_b on segment q, in units of 1/k0:
///   value[2 a + b] = integral of N_a N_b (t_p . G . t_q)  -  integral of N_a' N_b' K.
/// Times j eta0/(4 pi) it is an impedance.
using Block = std::array<Complex, 4>;

/// The shape of a current on one segment: N(b) = sin(kb)/sin(k) to the third power of the length k, b = 0..1
/// from the end where it is zero. Source: the piecewise sinusoids of Richmond, "A reaction theorem and its
/// application to antenna impedance calculations", IRE Trans. AP-9, 1961; ten segments on a half wave then do
/// what forty straight lines do.
struct Shape {
  double cubic = 0, scale = 1;
  explicit Shape(double length) : cubic(length * length / 6), scale(1 / (1 - cubic)) {}
  [[nodiscard]] double value(double b) const { return b * (1 - cubic * b * b) * scale; }
  /// Per unit of b.
  [[nodiscard]] double slope(double b) const { return (1 - 3 * cubic * b * b) * scale; }
  /// Integral of N over 0..1, the place of its centre counted from the middle, and that of N'.
  [[nodiscard]] double mean() const { return scale * (0.5 - 0.25 * cubic); }
  [[nodiscard]] double lean() const { return scale * (1.0 / 12 - 0.075 * cubic) / mean(); }
  [[nodiscard]] double slope_lean() const { return -0.25 * cubic * scale; }
  /// Integrals over 0..1 of N^2, of N(b) N(1 - b) and of (N')^2, N'(b) N'(1 - b).
  [[nodiscard]] double same() const {
    return scale * scale * (1.0 / 3 - cubic * 2.0 / 5 + cubic * cubic / 7);
  }
  [[nodiscard]] double other() const { return scale * scale * (1.0 / 6 - cubic / 10 + cubic * cubic / 140); }
  [[nodiscard]] double slope_same() const {
    return scale * scale * (1 - 2 * cubic + cubic * cubic * 9.0 / 5);
  }
  [[nodiscard]] double slope_other() const {
    return scale * scale * (1 - 2 * cubic + cubic * cubic * 9.0 / 30);
  }
};

/// A segment in units of 1/k0.
struct Scaled {
  Vec3 from{}, along{};
  double length = 0, radius = 0;
  [[nodiscard]] Vec3 at(double fraction) const {
    const double s = fraction * length;
    return {from[0] + s * along[0], from[1] + s * along[1], from[2] + s * along[2]};
  }
};

/// The field through the air. Accuracy of all three: 3e-4 of the self term (Measured:
/// solver_kernel_test.cpp).
[[nodiscard]] Block direct_block(const Scaled& p, const Scaled& q);
/// The field by way of perfect ground.
[[nodiscard]] Block image_block(const Scaled& p, const Scaled& q);
/// The field by way of real ground.
[[nodiscard]] Block ground_block(const Scaled& p, const Scaled& q, const SommerfeldTable& table);

}  // namespace skerry::antenna::mom
