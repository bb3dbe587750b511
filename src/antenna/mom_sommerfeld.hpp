// What the ground adds to the field of a current above it: the reflected half-space potentials, tabulated.
// Layer: antenna, internal to the solver. Sees core.
//
// Everything here is in units of 1/k0 (k0 = 2 pi/wavelength): x is the horizontal separation, y the sum of
// both heights, R = sqrt(x^2 + y^2), so that a table depends on the complex permittivity alone. exp(+j w t).
//
// Potentials of formulation C of Michalski and Zheng, "Electromagnetic scattering and radiation by surfaces
// of arbitrary shape in layered media", IEEE Trans. Antennas Propagat. 38(3), 1990, written out for one
// interface (derived anew from Sommerfeld's potentials: the difference of the two charge potentials, D, is
// moved into G). With u = sqrt(s^2 - 1), v = sqrt(s^2 - eps) and
//   D = 2 (u - v)/(eps u + v), Rh = (u - v)/(u + v), Rv = (eps u - v)/(eps u + v)
// each reflected potential is the integral over s = 0..infinity of
//   horizontal  G_xx    Rh             (s/u) exp(-u y) J0(s x)
//   vertical    G_zz    (Rv + u^2 D)   (s/u) exp(-u y) J0(s x)
//   charge      K_phi   (D - Rv)       (s/u) exp(-u y) J0(s x)
//   coupling    dP/dx   -s^2 D               exp(-u y) J1(s x)
// and G_zx = dP/dx, G_xz = -dP/dx, x counted from source to observer.
#pragma once

#include <Eigen/Core>
#include <algorithm>
#include <array>
#include <cmath>
#include <complex>
#include <memory>
#include <span>
#include <vector>

#include "mom_bessel.hpp"

namespace skerry::antenna::mom {

struct Reflected {
  Complex horizontal, vertical, charge, coupling;
};

/// The integrals themselves, no table.
///   eps       relative permittivity of the ground, real part >= 1, imaginary part <= 0
///   xs, ys    x 0..200, y >= 1e-4, rising
///   accuracy  1e-6 of 1/R (Measured: against mpmath, tests/antenna/authorities/sommerfeld.txt)
///   source    path of integration and averaging of the tail: Michalski and Mosig, "Efficient computation of
///             Sommerfeld integral tails", J. Electromagn. Waves Appl. 30(3), 2016 (from memory)
class SpectralPath {
 public:
  /// For x up to x_max and y from y_least on.
  SpectralPath(Complex eps, double x_max, double y_least);
  /// All xs and ys at once, as a matrix product; out is [x][y].
  void integrate(std::span<const double> xs, std::span<const double> ys, std::span<Reflected> out) const;
  /// The same less the quasi-static images, 2c exp(-jR)/R in the vertical potential and -c in the charge's,
  /// c = (eps-1)/(eps+1).
  void without_images(std::span<const double> xs, std::span<const double> ys, std::span<Reflected> out) const;

 private:
  static constexpr Eigen::Index parts = 8;  ///< re and im of four functions
  struct Spectrum {
    Complex horizontal, vertical, charge, coupling;
    [[nodiscard]] Spectrum times_weight(Complex w) const {
      return {times(horizontal, w), times(vertical, w), times(charge, w), times(coupling, w)};
    }
    [[nodiscard]] std::array<Complex, 4> times_bessel(const BesselPair<Complex>& j) const {
      return {times(horizontal, j.j0), times(vertical, j.j0), times(charge, j.j0), times(coupling, j.j1)};
    }
    /// The eight parts, `stride` apart.
    void write(const BesselPair<double>& j, double* to, Eigen::Index stride) const {
      const Complex values[] = {horizontal * j.j0, vertical * j.j0, charge * j.j0, coupling * j.j1};
      for (const Complex& v : values) {
        to[0] = v.real();
        to[stride] = v.imag();
        to += 2 * stride;
      }
    }
  };
  [[nodiscard]] Spectrum spectrum(Complex s, Complex u) const;
  [[nodiscard]] std::size_t panels_for(double x) const;
  void add_oscillating(double x, std::span<const double> ys, Eigen::Ref<Eigen::MatrixXd> sums) const;

  Complex eps_, image_;
  std::vector<Complex> node_, u_;  ///< of the lifted part
  std::vector<Spectrum> weighted_;
  std::vector<double> edges_;  ///< of the growing panels on the real axis
  std::vector<double> far_node_, far_u_;
  std::vector<Spectrum> far_weighted_;
};

/// The same by cubic interpolation.
///   accuracy  3e-4 of exp(-jR)/R, typically 2e-5 (Measured: solver_sommerfeld_test.cpp)
class SommerfeldTable {
 public:
  struct Extent {
    double x = 0;  ///< largest
    double y_low = 0, y_high = 0;
  };
  /// Domain: 0 <= x <= extent.x, extent.y_low <= y <= extent.y_high.
  ///   fine  lowest y that any table of this ground may hold: where its nodes begin
  ///   part  a smaller table of the same eps and fine, which is taken over
  SommerfeldTable(Complex eps, double fine, const Extent& extent, const SommerfeldTable* part = nullptr);

  [[nodiscard]] bool holds(const Extent& extent) const;

  [[nodiscard]] std::size_t size() const { return cells_.size(); }

  /// Reflected potentials, whole (image and remainder). Outside the domain the nearest edge's remainder is
  /// used.
  [[nodiscard]] Reflected at(double x, double y) const;

 private:
  /// Nodes begin..end-1.
  struct Range {
    int begin = 0, end = 0;
    [[nodiscard]] int size() const { return end - begin; }
  };
  /// One grid direction: even steps of log(1 + t/fine) + t (coarse + beats/(1 + t fading)) + 2 log((1 +
  /// t/near)/(1 + t/far)), t = distance from the start; the last term makes the steps shorter between near
  /// and far (equal: not at all).
  struct Axis {
    double start = 0, fine = 1, coarse = 1, near = 1, far = 1, beats = 0, fading = 0;
    [[nodiscard]] double step_of(double t) const;
    [[nodiscard]] std::vector<double> nodes(int begin, int end) const;
    /// The nodes that an interpolation at t or above (below) may ask for, in fours, so that what asks for a
    /// little more finds it there.
    [[nodiscard]] int first_for(double t) const {
      return std::max(0, static_cast<int>(step_of(std::max(t - start, 0.0))) - 1) / 4 * 4;
    }
    [[nodiscard]] int last_for(double t) const {
      return (static_cast<int>(std::ceil(step_of(std::max(t - start, 0.0)))) + 3 + 3) / 4 * 4;
    }
  };
  /// Remainder R exp(jR) (potential) minus image: horizontal, vertical, charge, coupling; re and im of each.
  /// Single precision: a table is good to 3e-4, and the images, which are not small, are kept in full.
  using Cell = Eigen::Array<float, 8, 1>;

  void fill(Complex eps, Range x, Range y);
  [[nodiscard]] Cell remainder(double x, double y, const Reflected& less_images) const;

  Complex image_;
  Axis x_, y_;
  Range x_range_, y_range_;
  std::vector<Cell> cells_;  ///< [x][y]
};

/// A table for that ground at least so large, shared by all who ask for the like; built when missing.
/// Thread-safe.
///   width_m        of the antenna, the largest horizontal separation
///   low_m, high_m  lowest and highest point, low_m >= 0.01 (lower: as there)
[[nodiscard]] std::shared_ptr<const SommerfeldTable> ground_table(Complex eps, double k0, double width_m,
                                                                  double low_m, double high_m);

}  // namespace skerry::antenna::mom
