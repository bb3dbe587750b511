#include "mom_bessel.hpp"

#include <array>
#include <cmath>
#include <numbers>
#include <utility>

#include "mom_turn.hpp"
#include "skerry/core/nth.hpp"

namespace skerry::antenna::mom {

namespace {

constexpr int hankel_terms = 20;
constexpr double switch_at = 14.0;

/// a_k(nu) = prod_{j=1..k} (4 nu^2 - (2j-1)^2) / (8 j), so that the k-th term of Hankel's expansion is
/// a_k/z^k.
constexpr std::array<double, hankel_terms> hankel_coefficients(double nu) {
  std::array<double, hankel_terms> a{};
  a[0] = 1;
  for (int k = 1; k < hankel_terms; ++k) {
    const double odd = 2.0 * k - 1.0;
    nth(a, k) = nth(a, k - 1) * (4 * nu * nu - odd * odd) / (8.0 * k);
  }
  return a;
}
constexpr auto a0 = hankel_coefficients(0);
constexpr auto a1 = hankel_coefficients(1);

double product(double a, double b) {
  return a * b;
}
Complex product(Complex a, Complex b) {
  return times(a, b);
}
double inverse(double a) {
  return 1 / a;
}
Complex inverse(Complex a) {
  return std::conj(a) / std::norm(a);
}

double magnitude(double a) {
  return std::abs(a);
}
double magnitude(Complex a) {
  return std::sqrt(std::norm(a));
}

/// cos and sin.
std::pair<double, double> cos_sin(double a) {
  const Complex e = turn(a);
  return {e.real(), e.imag()};
}
std::pair<Complex, Complex> cos_sin(Complex a) {
  const Complex up = turn(a.real()) * std::exp(-a.imag());  // exp(ja)
  const Complex down = inverse(up);
  const Complex difference = up - down;
  return {0.5 * (up + down), Complex(0.5 * difference.imag(), -0.5 * difference.real())};
}

template <class T>
BesselPair<T> series(T z) {
  const T q = product(z, z) * -0.25;
  const double size = magnitude(q);
  T term = 1;
  T j0 = 1;
  T j1 = 1;
  double bound = 1;
  for (int k = 1; k < 60; ++k) {
    const double inverse_k = 1.0 / k;
    term = product(term, q) * (inverse_k * inverse_k);
    bound *= size * inverse_k * inverse_k;
    j0 += term;
    j1 += term * (1.0 / (k + 1));
    if (bound < 1e-16) break;
  }
  return {j0, product(z, j1) * 0.5};
}

template <class T>
BesselPair<T> hankel(T z) {
  const T w = inverse(z);
  const T w2 = product(w, w) * -1.0;
  T p0 = 0;
  T q0 = 0;
  T p1 = 0;
  T q1 = 0;
  // Terms fall until k is about 2|z| >= 28, so all twenty are used.
  for (int k = hankel_terms - 2; k >= 0; k -= 2) {
    const auto i = static_cast<std::size_t>(k);
    p0 = product(p0, w2) + a0[i];
    q0 = product(q0, w2) + a0[i + 1];
    p1 = product(p1, w2) + a1[i];
    q1 = product(q1, w2) + a1[i + 1];
  }
  q0 = product(q0, w);
  q1 = product(q1, w);
  const T chi = z - std::numbers::pi / 4;
  const auto [c, s] = cos_sin(chi);
  const T scale = std::sqrt(w * (2 / std::numbers::pi));
  // chi for order 1 lies a quarter turn back: cos -> sin, sin -> -cos.
  return {product(scale, product(p0, c) - product(q0, s)), product(scale, product(p1, s) + product(q1, c))};
}

}  // namespace

BesselPair<double> bessel_j01(double z) {
  return z < switch_at ? series(z) : hankel(z);
}
BesselPair<Complex> bessel_j01(Complex z) {
  return std::norm(z) < switch_at * switch_at ? series(z) : hankel(z);
}

}  // namespace skerry::antenna::mom
