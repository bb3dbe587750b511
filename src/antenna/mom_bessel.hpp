// Bessel functions J0 and J1 of a real or complex argument near the real axis.
// Layer: antenna, internal to the solver. Sees nothing.
#pragma once

#include <complex>

namespace skerry::antenna::mom {

using Complex = std::complex<double>;

/// a*b without the special handling of infinities that std::complex asks for (three times faster).
[[nodiscard]] inline Complex times(Complex a, Complex b) {
  return {a.real() * b.real() - a.imag() * b.imag(), a.real() * b.imag() + a.imag() * b.real()};
}

template <class T>
struct BesselPair {
  T j0, j1;
};

/// J0 and J1.
///   z         real part 0..1e5, imaginary part -3..3
///   accuracy  2e-9 of the larger of 1 and the amplitude sqrt(2/(pi |z|)) (worst near |z| = 14; measured by
///             the test "Bessel functions agree with mpmath")
///   source    Abramowitz and Stegun 9.1.10 (series, |z| < 14) and 9.2.5-9.2.10 (Hankel's expansion)
[[nodiscard]] BesselPair<double> bessel_j01(double z);
[[nodiscard]] BesselPair<Complex> bessel_j01(Complex z);

}  // namespace skerry::antenna::mom
