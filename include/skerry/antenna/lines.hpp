// What is lost between the rig and the feed point: cables, transformers, tuners.
// Layer: antenna. Sees core.
#pragma once

#include <complex>
#include <string>
#include <string_view>
#include <vector>

#include "skerry/core/result.hpp"

namespace skerry::antenna {

/// A class of coaxial cable. Source: data/lines/cables.toml.
struct Cable {
  std::string id;    ///< "rg174"
  std::string name;  ///< "RG-174 class, 2.8 mm"
  double z0_ohm = 50;
  double velocity = 0.66;  ///< of light
  double k0 = 0, k1 = 0, k2 = 0;
  double mass_g_per_m = 0;
  double outer_mm = 0;
};

/// In file order, read once.
[[nodiscard]] const std::vector<Cable>& cables();
/// By id, letter case, blanks and hyphens ignored ("RG-174"); the pointer stays valid. Errors: unknown, with
/// all ids.
[[nodiscard]] Result<const Cable*> find_cable(std::string_view id, const Where& where);
/// By an id that was checked where it was read: another is our own mistake and ends the program, as a cable
/// without loss would only look like an answer.
[[nodiscard]] const Cable& known_cable(std::string_view id);

/// Loss into a matched load: (k0 + k1 sqrt(f) + k2 f) length/100 m, dB.
///   mhz 1..60, length_m >= 0
///   accuracy  +/-10 % (thin cables +/-25 %), see data/lines/SOURCE.md
[[nodiscard]] double matched_loss_db(const Cable& cable, double mhz, double length_m);

/// |(Z - R)/(Z + R)|, in 0..1, and the standing-wave ratio that goes with it, capped at 999.
[[nodiscard]] double reflection_of(std::complex<double> load_ohm, double reference_ohm = 50);
[[nodiscard]] double swr_of(std::complex<double> load_ohm, double reference_ohm = 50);
[[nodiscard]] double swr_from_reflection(double rho);

/// The exact line: what the rig's end sees and what is lost on the way, from the telegraph equations with a
/// real z0.
///   limits    z0 taken real: its small angle at HF changes the loss by under 0.02 dB
struct LineInput {
  std::complex<double> ohm;
  double loss_db = 0;
};
[[nodiscard]] LineInput through_line(const Cable& cable, double mhz, double length_m,
                                     std::complex<double> load_ohm);

/// Loss of a feed transformer of that impedance ratio, dB. A ratio within 5 % of 1 has none.
///   at_14_mhz_db  > 0: the builder's own figure, carried to other frequencies by the shape of the table
///   source        data/lines/transformers.toml (common practice); the row nearest in ratio, linear in log f
///                 between points
[[nodiscard]] double transformer_loss_db(double ratio, double mhz, double at_14_mhz_db = 0);

/// Loss of a small tuner that makes 50 ohm of this, dB, and the largest SWR it is asked for.
///   source    data/lines/tuners.toml (common practice)
[[nodiscard]] double tuner_loss_db(std::complex<double> load_ohm);
[[nodiscard]] double tuner_largest_swr();

}  // namespace skerry::antenna
