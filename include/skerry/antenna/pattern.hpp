// What leaves an antenna at each angle, after everything that is lost on the way.
// Layer: antenna. Sees core. This is the seam: however the current is found, the rooms below see only this.
#pragma once

#include <complex>
#include <string>
#include <vector>

#include "skerry/antenna/wire.hpp"

namespace skerry::antenna {

/// One loss between the rig's terminals and the sky, positive dB. Antenna losses ("ground", "wire", "coil")
/// share the antenna's total in proportion to their watts, so that all losses add up to the system
/// efficiency.
struct Loss {
  std::string name;  ///< "ground", "wire", "coil", "transformer", "cable", "tuner", "mismatch"
  double db = 0;
};

/// Power gain in dBi, all listed losses included, polarisation-total, on a regular grid.
/// Elevations 0 (computed at 0.1), step, ..., 90; azimuths 0, step, ..., 360-step (clockwise from north,
/// antenna as laid out).
struct Pattern {
  double mhz = 0;
  double elevation_step_deg = 1;  ///< 1
  double azimuth_step_deg = 10;   ///< 10
  std::vector<float> gain_dbi;    ///< [elevation][azimuth], 91 x 36
  std::complex<double> feed_ohm;  ///< at the antenna terminals
  double radiation_efficiency_db =
      0;  ///< upper hemisphere (free space: all round) over power into the terminals
  double system_efficiency_db = 0;  ///< the same over power available at the rig
  double swr = 1;                   ///< at the rig; 1 behind a tuner that can match it
  std::vector<Loss> losses;
  std::vector<std::string> notes;  ///< approximations in force

  /// Bilinear in dB; elevation 0..90, any azimuth.
  [[nodiscard]] double at_dbi(double elevation_deg, double azimuth_deg) const;
  /// Largest gain at that azimuth for elevations 0..8 (P.533 section 5.3.1, long paths).
  [[nodiscard]] double low_angle_dbi(double azimuth_deg) const;
  /// Over azimuth: the best, where it is, and the mean of linear gain.
  [[nodiscard]] double best_dbi(double elevation_deg, double* azimuth_deg = nullptr) const;
  [[nodiscard]] double mean_dbi(double elevation_deg) const;
};

/// A pattern of one gain at all angles, for reference antennas.
[[nodiscard]] Pattern isotropic(double gain_dbi, double mhz);

/// How the power gets to the feed point.
struct FeedLine {
  std::string cable;  ///< id in data/lines/cables.toml, empty: none
  double length_m = 0;
  bool tuner = false;
  double tuner_loss_db = -1;  ///< negative: default by impedance (data/lines/tuners.toml)
};

struct Chain {
  double transformer_ratio = 1;
  double transformer_loss_db =
      0;                ///< at this frequency; 0 with ratio > 1: the default of data/lines/transformers.toml
  double coil_q = 200;  ///< of loads that say none themselves; 0: no loss
  double ground_loss_ohm =
      0;  ///< at the feed, beside what the fields lose in the ground; negative counts as 0
  FeedLine line;
};

/// The current along the wires, the far field over flat ground with Fresnel reflection at each elevation, the
/// power the ground takes (propagating and near field), then the chain of losses.
///   antenna   wires of non-zero length and radius at z >= 0, feed and loads on existing wires: checked where
///   it was read mhz       1.5..60 returns   gain over the power available at the rig; without a tuner a
///   mismatch costs -10 log(1 - rho^2) accuracy  gain of resonant antennas 0.5 dB above 0.1 wavelengths, 1 to
///   2 dB for wires and radials lower than that, where
///             the true current differs from the assumed one (Judgement); power sums converged to 1 %
///             (Measured: radiation_test); feed resistance 10 % at current maxima, a factor of 2 at wire
///             ends; reactance approximate
///   limits    flat, uniform ground; a wire that ends in a real ground has no near-field loss but the stated
///   resistance source    see src/antenna/assumed_current.hpp and radiation.hpp
[[nodiscard]] Pattern compute_pattern(const WireAntenna& antenna, const Ground& ground, double mhz,
                                      const Chain& chain);

}  // namespace skerry::antenna
