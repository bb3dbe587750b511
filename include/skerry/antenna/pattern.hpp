// What leaves an antenna at each angle, after everything that is lost on the way.
// Layer: antenna. Sees core. This is the seam: however the current is found, the rooms below see only this.
#pragma once

#include <complex>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "skerry/antenna/solver.hpp"
#include "skerry/antenna/wire.hpp"

namespace skerry::antenna {

/// One loss between the rig's terminals and the sky, positive dB. Antenna losses (ground, wire, coil)
/// share the antenna's total in proportion to their watts, so that all losses add up to the system
/// efficiency.
struct Loss {
  enum class In : std::uint8_t {
    ground,
    wire,
    coil,  ///< coils, capacitors, resistors
    transformer,
    cable,
    tuner,
    mismatch
  } in = In::ground;
  double db = 0;
};

/// One step of the feed chain, from the antenna towards the rig.
struct ChainStep {
  enum class At : std::uint8_t { terminals, own_match, transformer, cable, tuner, rig } at = At::terminals;
  double number = 0;         ///< transformer: impedance ratio; cable: metres
  std::string cable;         ///< id in data/lines/cables.toml
  std::complex<double> ohm;  ///< seen there, looking towards the antenna
  double loss_db = 0;        ///< of this step
};

/// What a rig says to the antenna.
enum class Match {
  direct,      ///< SWR up to largest_untuned_swr(): works as it is
  with_tuner,  ///< worse than that, within the range of the tuner there is (or, without one, of a usual one)
  impossible,  ///< beyond the tuner
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
  /// Upper hemisphere (free space: all round) over power into the terminals.
  double radiation_efficiency_db = 0;
  double system_efficiency_db = 0;  ///< the same over power available at the rig
  double swr = 1;                   ///< at the rig; 1 behind a tuner that can match it
  double line_swr = 1;              ///< at the rig's end of the line, before a tuner
  Match match = Match::direct;
  std::optional<Note> match_why;  ///< none when direct (or tuned); also among the notes
  std::vector<Loss> losses;
  std::vector<ChainStep> steps;  ///< from the antenna's terminals to the rig
  std::vector<Note> notes;       ///< approximations in force

  /// Elevations up to here are the low angles, degrees. Source: P.533 section 5.3.1, long paths.
  static constexpr int low_angle_deg = 8;

  /// All elevations at one azimuth, for asking many.
  struct Cut {
    const float* left = nullptr;  ///< of elevation 0; the rows of both columns are 36 apart
    const float* right = nullptr;
    double share = 0;  ///< of the right one
    [[nodiscard]] double at_dbi(double elevation_deg) const;
    [[nodiscard]] double low_angle_dbi() const;
  };
  [[nodiscard]] Cut cut(double azimuth_deg) const;
  /// Bilinear in dB; elevation 0..90, any azimuth.
  [[nodiscard]] double at_dbi(double elevation_deg, double azimuth_deg) const;
  /// Largest gain at that azimuth for elevations 0..low_angle_deg.
  [[nodiscard]] double low_angle_dbi(double azimuth_deg) const;
  /// Over azimuth: the best, where it is, and the mean of linear gain.
  [[nodiscard]] double best_dbi(double elevation_deg, double* azimuth_deg = nullptr) const;
  [[nodiscard]] double mean_dbi(double elevation_deg) const;
};

/// How the power gets to the feed point.
struct FeedLine {
  std::string cable;  ///< id in data/lines/cables.toml, empty: none
  double length_m = 0;
  bool tuner = false;
  std::optional<double> tuner_loss_db;  ///< none: by impedance (data/lines/tuners.toml)
  std::optional<double> tuner_max_swr;  ///< none: the usual one (data/lines/tuners.toml)
};

struct Chain {
  double transformer_ratio = 1;
  /// At this frequency; 0 with ratio > 1: the default of data/lines/transformers.toml.
  double transformer_loss_db = 0;
  double coil_q = 200;  ///< of coils among the loads that say none themselves; 0: no loss
  /// At the feed, beside what the fields lose in the ground; negative counts as 0.
  double ground_loss_ohm = 0;
  /// With its tuned part in use the antenna brings an adjustable match (coupling loop, tap on the base coil):
  /// 50 ohm whatever its resistance.
  bool own_match = false;
  FeedLine line;
};

/// 4. Judgement: rigs without a tuner reduce power from about 2 and shut down or hurt themselves somewhere
/// between 3 and 5; the power a rig holds back by itself is not counted.
[[nodiscard]] double largest_untuned_swr();

/// An antenna solved over its ground: everything that does not depend on how the power gets to it. One of
/// these serves all cables, transformers and tuners.
struct Radiated {
  Ground ground;
  Solution solution;
  FarField field;                ///< over level ground
  std::vector<FarField> beyond;  ///< over each foreground asked for; powers stay those of the near ground
  double radiated_w = 0, ground_w = 0;  ///< of 1 W at the terminals, over the near ground alone
};

/// Solves the antenna and its far fields.
///   coil_q  of coils among the loads that say none themselves
///   errors  those of solve()
[[nodiscard]] Result<Radiated> radiate(const WireAntenna& antenna, const Ground& ground, double mhz,
                                       double coil_q = 200, std::span<const Foreground> foregrounds = {});

/// The same of a solution already there.
///   solution  of this ground
[[nodiscard]] Radiated radiate(Solution solution, const Ground& ground,
                               std::span<const Foreground> foregrounds = {});

/// The antenna with a Q for those of its coils that say none themselves.
[[nodiscard]] WireAntenna with_coil_q(WireAntenna antenna, double coil_q);

/// Whether and how the rig can drive it, without asking where the power goes: match and match_why as
/// pattern_of() has them.
struct Matching {
  Match match = Match::direct;
  std::optional<Note> why;
  double line_swr = 1;  ///< at the rig's end of the line, before a tuner
  double lost_db = 0;   ///< from the rig to the terminals
};
[[nodiscard]] Matching matching_of(const Solution& solution, const Chain& chain);

/// What leaves after the chain of losses.
///   field     of the same antenna: radiated.field or one of radiated.beyond
///   returns   gain over the power available at the rig; without a tuner a mismatch costs -10 log(1 - rho^2)
///   limits    a stated ground_loss_ohm is in series with the feed, counted as ground
[[nodiscard]] Pattern pattern_of(const Radiated& radiated, const Chain& chain, const FarField& field);
[[nodiscard]] Pattern pattern_of(const Radiated& radiated, const Chain& chain);

/// Both in one: the current along the wires by the method of moments over the real ground, the far field over
/// it, the chain of losses.
///   antenna   as solve() wants it
///   mhz       1.5..60
///   accuracy  of gain and impedance: solver.hpp; of the chain: lines.hpp
///   errors    those of solve()
[[nodiscard]] Result<Pattern> compute_pattern(const WireAntenna& antenna, const Ground& ground, double mhz,
                                              const Chain& chain);

/// The power balance of 1 W at the terminals, the ground's share found by itself from the fields below.
struct EnergyBalance {
  double radiated_w = 0, wire_w = 0, parts_w = 0, ground_w = 0;
  double defect_w = 0;  ///< missing of 1 W: the error of the whole; NaN: not known, ground_w is what is left
};
/// Seconds at most: of wires so low and wide that the ground takes longer, its share is what is left.
[[nodiscard]] EnergyBalance energy_balance(const Radiated& radiated);

/// The current along one wire, A rms for 1 W at the terminals.
struct WireCurrent {
  int wire = 1;
  double length_m = 0;
  double from_a = 0, to_a = 0;             ///< at its ends
  double largest_a = 0, largest_at_m = 0;  ///< and where along the wire
};
[[nodiscard]] std::vector<WireCurrent> current_summary(const Solution& solution);

}  // namespace skerry::antenna
