// The current along the wires of an antenna when nobody has solved for it: standing waves on lossy lines.
// Layer: antenna, inside. Sees core and the antenna headers. This one function is what a solver replaces.
#pragma once

#include <complex>
#include <string>
#include <vector>

#include "radiation.hpp"
#include "skerry/antenna/ground.hpp"
#include "skerry/antenna/wire.hpp"

namespace skerry::antenna {

/// What the line picture assumes.
struct LineAssumptions {
  /// A wire's open end acts as if it were longer by this share of the last quarter wave (or of the whole arm,
  /// if shorter). 0.0515 puts resonance of a half wave at 0.951 of lambda/2, that is 142.6/f metres (common
  /// practice).
  double end_effect = 0.0515;
  /// Coils without a Q of their own.
  double coil_q = 200;
  /// In series with the feed, or between a grounded wire and the ground.
  double ground_loss_ohm = 0;
};

/// Currents for 1 V at the feed, with the powers they cost.
struct AntennaCurrents {
  std::vector<CurrentPiece> pieces;
  std::complex<double> feed_ohm;
  RadiatedPower power;
  double wire_w = 0, load_w = 0, ground_resistance_w = 0;
  bool grounded = false;  ///< some wire ends in the ground: near-field loss is then not computed
  std::vector<std::string> notes;
};

/// Every wire is a transmission line of average characteristic impedance 60 (ln(2 l/a) - 1), joined at its
/// ends to the others, with the radiated and absorbed power spread along all wires as series resistance until
/// the two agree.
///   source    Siegel and Labus (1933) as told in Jordan and Balmain, Electromagnetic Waves and Radiating
///   Systems, 2nd ed.,
///             ch. 11, and Schelkunoff's average impedance (both from memory)
///   accuracy  resistance of a half wave in its middle within 2 % of the induced-EMF value; at a wire's end
///   within a
///             factor of 2; reactance is that of the line picture: zero where practice says resonance is,
///             slope within 30 % or so
///   limits    no coupling between wires but through their common radiation; a grounded end must be within 1
///   mm of z = 0
[[nodiscard]] AntennaCurrents assumed_currents(const WireAntenna& antenna, const Ground& ground, double mhz,
                                               const LineAssumptions& assume);

/// Feed impedance only, with a nominal radiation resistance (73 ohm per half wave): for finding a coil's
/// value.
[[nodiscard]] std::complex<double> nominal_feed_ohm(const WireAntenna& antenna, double mhz,
                                                    const LineAssumptions& assume = {});

}  // namespace skerry::antenna
