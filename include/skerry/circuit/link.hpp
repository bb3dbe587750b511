// From losses to an answer: how strong, above what noise, and on how many days in ten.
// Layer: circuit. Sees everything above it.
#pragma once

#include "skerry/antenna/pattern.hpp"
#include "skerry/circuit/circuit.hpp"
#include "skerry/noise/bands.hpp"
#include "skerry/noise/noise.hpp"

namespace skerry::circuit {

/// One station as the link sees it, at one band.
struct Station {
  double power_w = 10;                        ///< at the rig's output, key down (PEP for voice)
  const antenna::Pattern* pattern = nullptr;  ///< gain with all losses; null: isotropic with gain_dbi
  double gain_dbi = 0;                        ///< used when pattern is null
  double layout_azimuth_deg = 0;              ///< the pattern is turned clockwise by this much
  double efficiency_db = 0;                   ///< <= 0; losses that weaken outside noise as well as signals
  double receiver_noise_figure_db = 15;       ///< Judgement: small HF sets without preamplifier
  noise::Environment environment = noise::Environment::residential;
  bool near_land = true;
};

struct Strength {
  bool open = false;        ///< any mode carries the path
  double received_dbw = 0;  ///< monthly median at the receiver's terminals; meaningless unless open
  int best_mode = -1;       ///< index into Cell::modes, or -1 for the long-path method
  double best_elevation_deg = 0;
};

/// Median received power from `sender` to `receiver`. `forward` true: the sender stands at path.from.
[[nodiscard]] Strength strength(const Cell& cell, const geodesy::Path& path, const Station& sender,
                                const Station& receiver, bool forward);

/// Noise power at the receiver's terminals in 1 Hz, dBW, with its deciles, from outside and from the receiver
/// itself.
struct Noise {
  noise::Sources sources;
  double dbw_per_hz = -204;
  double upper_db = 0, lower_db = 0;
};
[[nodiscard]] Noise noise_at(const Circuits::EndSky& sky, GeoPoint where, unsigned month,
                             const Station& receiver, double mhz);

/// The answer for one direction.
struct Link {
  bool open = false;
  double snr_db = 0;                          ///< median, in the mode's reference bandwidth
  double margin_db = 0;                       ///< snr - required
  double snr_upper_db = 0, snr_lower_db = 0;  ///< decile distances of the signal-to-noise ratio
  double days_in_ten = 0;                     ///< basic circuit reliability / 10 (P.533 section 10, P.842)
};
[[nodiscard]] Link link(const Cell& cell, const Strength& strength, const Noise& noise,
                        const noise::Mode& mode);

/// The answer for a ground wave, whose strength does not change from day to day: only the noise does.
[[nodiscard]] Link steady_link(double received_dbw, const Noise& noise, const noise::Mode& mode);

/// Basic circuit reliability, 0..1, of a margin (dB) with the ratio's upper and lower decile distances.
[[nodiscard]] double reliability(double margin_db, double upper_db, double lower_db);

/// Works both ways on as many days as the worse direction: the same ionosphere carries both, so the days
/// coincide (fully correlated; independent days would give the product). Judgement.
[[nodiscard]] inline double both_ways(double there_days, double back_days) {
  return there_days < back_days ? there_days : back_days;
}

}  // namespace skerry::circuit
