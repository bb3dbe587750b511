// What crawls along the ground: the signal within the skip distance and over sea.
// Layer: circuit (internal).
#pragma once

#include <complex>
#include <span>

#include "skerry/antenna/ground.hpp"
#include "skerry/geodesy/path.hpp"

namespace skerry::circuit {

/// One stretch of uniform surface along the way.
struct Stretch {
  double length_km = 0;
  antenna::Ground ground;
};

/// Attenuation factor W of the ground wave between two vertical antennas on a smooth spherical Earth,
/// relative to perfect flat ground (W = 1 at distance 0; |W| < 1.2). Norton's flat-earth function with its
/// curvature terms near, the residue series beyond.
///   ground   kind real;  mhz 1.6..30;  distance_km 0.1..1000
///   accuracy within 0.5 dB of each other where the two forms overlap (tests/circuit/ground_wave_test.cpp);
///            the exponential atmosphere of ITU-R P.368 is replaced by an Earth of 4/3 radius, 1 to 2 dB at
///            300 km
///   source   Norton 1941, Proc. IRE 29; van der Pol and Bremmer 1937; Hill and Wait 1980, Radio Sci. 15
///            (from memory)
[[nodiscard]] std::complex<double> ground_wave_factor(const antenna::Ground& ground, double mhz,
                                                      double distance_km);

/// Vertical field in dB(1 uV/m) of a short lossless vertical radiating 1 kW over stretches of land and sea,
/// joined by Millington's method (ITU-R P.368, Annex 2). At 1 km over perfect ground: 109.5 (300 mV/m).
[[nodiscard]] double ground_wave_field_dbuv(std::span<const Stretch> stretches, double mhz);

/// Loss between two short lossless vertical antennas on the ground, dB: received over sent power.
[[nodiscard]] double ground_wave_loss_db(std::span<const Stretch> stretches, double mhz);

/// Stretches of sea and average land along a path of at most 1000 km, from the coastline, in steps of 2 km.
[[nodiscard]] std::vector<Stretch> surface_along(const geodesy::Path& path);

/// Faddeeva function w(z) = exp(-z^2) erfc(-j z) for Im z >= 0. Source: Weideman 1994, SIAM J. Numer. Anal.
/// 31(5), N = 40; error below 1e-12.
[[nodiscard]] std::complex<double> faddeeva(std::complex<double> z);

}  // namespace skerry::circuit
