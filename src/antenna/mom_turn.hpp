// exp(j angle), which the solver needs by the million.
// Layer: antenna, internal to the solver. Sees nothing.
#pragma once

#include <cmath>
#include <complex>

namespace skerry::antenna::mom {

/// cos and sin of an angle in radians.
///   angle     -1e5..1e5
///   accuracy  4e-16 (Measured: against the C library, solver_far_test.cpp)
///   source    Taylor's series on a quarter turn about zero, Abramowitz and Stegun 4.3.65 and 4.3.66; quarter
///             turns are taken off in three parts of pi/2 (Cody and Waite, "Software Manual for the
///             Elementary Functions", ch. 8; the parts from memory, their sum by test)
/// Why not the C library's: it saves, sets and restores the processor's rounding mode each time, which takes
/// as long as the functions themselves (Measured: 14 % of a whole answer was spent there, then 5 %).
[[nodiscard]] inline std::complex<double> turn(double angle) {
  // Adding and taking off 1.5 * 2^52 rounds to the nearest integer.
  constexpr double rounder = 6755399441055744.0;
  const double quarters = angle * 0.63661977236758134 + rounder - rounder;
  const double r = angle - quarters * 1.57079625129699707031 - quarters * 7.54978941586159635335e-8 -
                   quarters * 5.39030285815811905290e-15;
  const double x = r * r;
  const double s =
      r * (1 + x * (-1.0 / 6 +
                    x * (1.0 / 120 +
                         x * (-1.0 / 5040 + x * (1.0 / 362880 +
                                                 x * (-1.0 / 39916800 + x * (1.0 / 6227020800 -
                                                                             x * (1.0 / 1307674368000))))))));
  const double c =
      1 + x * (-0.5 +
               x * (1.0 / 24 +
                    x * (-1.0 / 720 +
                         x * (1.0 / 40320 + x * (-1.0 / 3628800 + x * (1.0 / 479001600 +
                                                                       x * (-1.0 / 87178291200 +
                                                                            x * (1.0 / 20922789888000))))))));
  const int quarter = static_cast<int>(quarters);
  const bool odd = (quarter & 1) != 0;
  const double cosine = odd ? s : c;
  const double sine = odd ? c : s;
  return {((quarter + 1) & 2) != 0 ? -cosine : cosine, (quarter & 2) != 0 ? -sine : sine};
}

}  // namespace skerry::antenna::mom
