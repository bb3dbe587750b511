// Choices within the circuit method that published editions or practice leave open.
// Layer: circuit. Sees everything above it.
#pragma once

namespace skerry::circuit {

/// Form of the D-region absorption index.
enum class Absorption {
  lucas_haydon,  ///< (1 + 0.0037 R12) cos(0.881 chi)^1.3 by day, the foE index beyond chi 85 when larger
                 ///< (default)
  foe_index,     ///< -0.04 + exp(-2.937 + 0.8445 foE) at all hours (CCIR Report 252-2)
};

/// Loss of each bounce off the ground between hops.
enum class GroundLoss {
  by_surface,  ///< Fresnel reflection, sea or average land at each bounce (default)
  fixed_2_db,  ///< 2 dB a bounce, as in the Recommendation
};

/// Method beyond 7000 km.
enum class FarMethod {
  hops,    ///< the same modes as nearer by, with the MUF of every hop's middle (default)
  limits,  ///< P.533 section 5.3: an upper and a lower limit frequency; a blend with the modes up to 9000 km
};

/// Angles at which the antennas' gains are taken. Not a setting of Circuits: those who ask for a contact choose.
enum class TakeOff {
  mirror,  ///< those of the mirror, the same at both ends (default)
  traced,  ///< those of rays traced through the layers (circuit/traced.hpp)
};

struct Settings {
  Absorption absorption = Absorption::lucas_haydon;
  GroundLoss ground_loss = GroundLoss::by_surface;
  FarMethod far = FarMethod::hops;
  bool sporadic_e = true;  ///< ways by sporadic E count
  /// Longest single F2 hop. Source: from memory of practice with ITU-R P.533 (section 3.5.1), weak.
  double hop_limit_km = 4000;
  /// Lowest elevation used to choose the lowest-order F2 mode. From memory of practice, weak.
  double min_elevation_deg = 3;
};

}  // namespace skerry::circuit
