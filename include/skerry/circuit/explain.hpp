// Why a band works or does not, as causes with their sizes, and what changes when one thing changes.
// Layer: circuit. Sees everything above it. Numbers only: report finds the words.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "skerry/circuit/circuit.hpp"
#include "skerry/circuit/contact.hpp"
#include "skerry/circuit/path_answer.hpp"
#include "skerry/geodesy/towns.hpp"

namespace skerry::circuit {

/// One band asked about, and the two stations on it.
struct ExplainBand {
  std::string band;  ///< "40m", or empty outside the amateur bands
  double mhz = 0;    ///< 1.6..30
  noise::Mode mode;
  Station own, partner;         ///< patterns must outlive the question
  std::string antenna;          ///< own antenna in words; empty: a reference of one gain at all angles
  bool in_kit = true;           ///< false: nothing packed works this band; own is not looked at
  std::optional<int> utc_hour;  ///< 0..23; none: the hour with the most days
};

/// Nearer places are explained, and told in the openings of a trip, by the short way alone. Judgement: it is
/// then four times the short way and more.
inline constexpr double long_way_from_km = 7000;

/// Whether an answer may be named that goes the long way round: the places lie so far apart by the short way,
/// and it works on half a day in ten or more.
[[nodiscard]] constexpr bool long_way_counts(double short_km, double days_in_ten) {
  return short_km >= long_way_from_km && days_in_ten >= 0.5;
}

struct ExplainQuestion {
  GeoPoint from, to;
  ionosphere::Climate climate;
  Settings settings;
  /// The better of them is explained; the long way only from long_way_from_km on and where it makes half a
  /// day.
  std::vector<geodesy::Way> ways{geodesy::Way::short_way};
  std::vector<Circuits::Horizon> horizons;  ///< one for each way, or none at all
  double want_days_in_ten = 5;
  std::vector<ExplainBand> bands;
  /// Hours in which somebody is on the air: the best of these is explained where no hour is given.
  std::array<bool, 24> hours{true, true, true, true, true, true, true, true, true, true, true, true,
                             true, true, true, true, true, true, true, true, true, true, true, true};
};

/// Judgement: from farther off a town tells nobody where a point is.
inline constexpr double near_town_km = 1500;

/// Of the points that the method looks at, the one whose layer carries least on this hop.
struct WeakPoint {
  GeoPoint where;
  bool land = false;
  double along_km = 0;  ///< from `from`
  double solar_hour = 0, sun_up_deg = 0;
  double fof2_mhz = 0, foe_mhz = 0;
  double carries_mhz = 0;             ///< basic MUF there for a hop of this length, of the mode's layer
  std::optional<geodesy::Town> near;  ///< within near_town_km
};

enum class Verdict : std::uint8_t {
  works,       ///< both ways on the wanted days
  sometimes,   ///< at least one day in ten
  too_weak,    ///< carried, but hardly ever heard
  layer_thin,  ///< so far above what the layer bends that what is left is too weak
  no_antenna   ///< nothing packed works the band
};

enum class Factor : std::uint8_t { layer, d_layer, antenna, skyline, noise, distance, e_layer };

/// One cause and its weight. A band that works: how much worse it is at its worst hour of the day (layer,
/// d_layer), or how much is to spare (antenna). One that does not: what is lost against the day's best hour
/// (layer, d_layer), the antenna's best angle, a quiet place (noise), a path without bounces (distance), an E
/// layer that lets the ray to the F2 layer pass (e_layer).
struct Cause {
  Factor factor = Factor::layer;
  double db = 0;            ///< >= 0; 99 where it closes the band altogether
  double days_without = 0;  ///< in ten, if this cause alone were gone (works: if it were at its worst)
};
inline constexpr double closing_db = 99;

struct BandExplanation {
  std::string band, antenna;
  double mhz = 0;
  noise::Mode wanted_mode;
  Verdict verdict = Verdict::layer_thin;
  int utc_hour = 0;
  geodesy::Path path;
  double days = 0, days_there = 0, days_back = 0;  ///< in ten
  double days_as_assumed = 0;                      ///< for a partner just as stated
  double spread_db = 0;                            ///< of what is not known of partner and method
  double es_days = 0;                              ///< by sporadic E alone, both ways
  bool by_es = false;                              ///< sporadic E carries most of the days
  std::optional<Mode> es_mode;                     ///< its better way, where it has one
  bool there_is_worse = true;                      ///< the direction told in terms, noise and margin
  HourMuf muf;
  Circuits::Horizon horizon;  ///< what stands in front of either end
  bool long_method = false;   ///< of limit frequencies: no single modes; `mode` is nominal
  Mode mode;                  ///< strongest, when open
  /// Along the ground, up to ground_wave_limit_km and between stations without a pattern: days in ten at this
  /// hour, and whether that is more than the sky's. The verdict, `days` and the causes are the sky's.
  double ground_days = 0;
  bool by_ground = false;
  std::optional<WeakPoint> weakest;
  int points = 0;  ///< how many the method looked at
  // The antenna towards the path:
  double angle_deg = 0, gain_dbi = 0;  ///< at the mode's elevation (long_method: best of 0 to 8 degrees)
  double least_angle_deg = 0, most_angle_deg = 0;  ///< over the modes within 1 dB of the strongest
  double best_angle_deg = 0, best_gain_dbi = 0;    ///< at that bearing, over all elevations
  // The D layer over the day, strongest mode of each open hour:
  double d_layer_db = 0, least_d_layer_db = 0, most_d_layer_db = 0;
  int least_hour = 0, most_hour = 0;
  Noise noise;  ///< where the worse direction is received
  noise::Environment environment = noise::Environment::quiet;
  double quiet_gain_db = 0;  ///< by how much a quiet place would lower it
  Ledger terms;              ///< of the worse direction
  double margin_db = 0, snr_upper_db = 0, snr_lower_db = 0;
  std::array<double, 24> days_by_hour{};  ///< by sky or along the ground, whichever is better
  std::array<bool, 24> open_by_hour{};
  std::vector<Cause> causes;  ///< the heaviest first; at least one
};

/// Each band's answer with its causes.
///   approximations  where several modes arrive, the terms are the strongest one's and `together_db` the rest
///                   (0 to 3 dB mostly); FarMethod::limits gives one loss for both its limits, which is
///                   split in the proportion of its own two terms
///   source          the ledger of  (ITU-R P.533, P.372); causes by difference of its terms
[[nodiscard]] std::vector<BandExplanation> explain(const ExplainQuestion& question);

/// One answer against another that differs in one thing: the term of the margin that moved most.
struct Shift {
  enum class Term : std::uint8_t {
    none,
    opens,
    closes,  ///< too far above what the layer bends
    d_layer,
    above_muf,
    noise,
    own_gain,
    bounces,
    skyline,  ///< where most of the difference is its, even of one that opens or closes the band
    distance,
    together,
    screening,  ///< by the E layer, of a ray to the F2 layer
    auroral,
    angle  ///< the antenna's gain, because the wave leaves at another angle
  };
  Term term = Term::none;
  double db = 0;         ///< signed: positive helps; 0 of `opens` and `closes`
  bool crossed = false;  ///< the term opens the band, or closes it
  double whole_db = 0;
  double from_angle_deg = 0, to_angle_deg = 0;  ///< of the two strongest waves
};
[[nodiscard]] Shift shift_between(const BandExplanation& before, const BandExplanation& after);

/// A horizontal half-wave dipole broadside to the path over average ground, for lessons.
///   height_m  1..30, mhz 1.6..30
[[nodiscard]] antenna::Pattern lesson_dipole(double height_m, double mhz);

}  // namespace skerry::circuit
