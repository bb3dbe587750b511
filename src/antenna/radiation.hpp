// From known currents to the power that leaves, and the power the ground takes.
// Layer: antenna, inside. Sees core and the antenna headers. Whoever found the currents can hand them in.
#pragma once

#include <complex>
#include <vector>

#include "skerry/antenna/ground.hpp"
#include "skerry/antenna/wire.hpp"

namespace skerry::antenna {

/// A straight piece of wire with its current, linear between evenly spaced nodes: amps[0] at from_m,
/// amps.back() at to_m. Peak amperes, positive from -> to. At least two nodes.
struct CurrentPiece {
  Vec3 from_m{}, to_m{};
  std::vector<std::complex<double>> amps;
};

/// Watts for the currents as given. In free space `down_w` leaves too; over ground it is 0.
struct RadiatedPower {
  double up_w = 0;         ///< into the upper hemisphere, to infinity
  double down_w = 0;       ///< into the lower hemisphere (free space only)
  double refracted_w = 0;  ///< plane waves that enter the ground: 1 - |R|^2 of what is sent down
  double near_w =
      0;  ///< taken from the near field: waves bound to the wire's neighbourhood, kx^2 + ky^2 > k^2
  [[nodiscard]] double leaving_w() const { return up_w + down_w; }
  [[nodiscard]] double ground_w() const { return refracted_w + near_w; }
};

/// How finely the angles are summed; 1 is the default, 2 doubles every count (for convergence checks).
/// Power by expanding the field in plane waves over the flat ground: every component down is reflected with
/// its own Fresnel coefficient, the real angles and the evanescent ones. Exact for the given currents, ground
/// touching wires apart.
///   source    plane-wave (angular spectrum) expansion of a current over a half space: Felsen and Marcuvitz,
///   Radiation
///             and Scattering of Waves, ch. 5 (from memory); the flux through z = 0 component by component
///   limits    wires below 0.02 m count as 0.02 m in near_w; with skip_near no near_w is computed (grounded
///   wires)
[[nodiscard]] RadiatedPower radiated_power(const std::vector<CurrentPiece>& pieces, const Ground& ground,
                                           double mhz, bool skip_near = false, int fineness = 1);

/// Watts per steradian, both polarisations, at elevations 0..90 step 1 and azimuths 0..350 step 10,
/// [elevation][azimuth]. The row of 0 deg is computed at 0.1: over a real ground nothing is left at 0 (space
/// wave only).
[[nodiscard]] std::vector<double> radiation_intensity(const std::vector<CurrentPiece>& pieces,
                                                      const Ground& ground, double mhz);

}  // namespace skerry::antenna
