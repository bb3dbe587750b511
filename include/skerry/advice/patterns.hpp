// Every antenna of the inventory as it would stand at the site, on every band it can use.
// Layer: advice. Sees everything above it.
#pragma once

#include <memory>
#include <optional>
#include <span>
#include <variant>
#include <vector>

#include "skerry/antenna/pattern.hpp"
#include "skerry/core/result.hpp"
#include "skerry/kit/setup.hpp"

namespace skerry::advice {

/// One antenna, support, shape, feed and band over one ground; shared by all rigs.
struct Radiator {
  antenna::Pattern pattern;  ///< over the site's own ground, all losses from the rig on included
  /// The same antenna toward directions in which the ground further out is another, or falls.
  struct Toward {
    double sea_from_m = 0;
    int fall_deg = 0;  ///< of the ground, away from the antenna
    antenna::Pattern pattern;
  };
  std::vector<Toward> towards;
  /// What leaves at this bearing: `pattern`, or the one with the foreground that the site has there.
  [[nodiscard]] const antenna::Pattern& at_bearing(const kit::Site& site, double bearing_deg) const;
  double strongest_dbi = -99;  ///< over all directions
  double strongest_elevation_deg = 0;
  bool turns = false;     ///< more than 0.5 dB apart between azimuths: how it is laid out matters
  bool lopsided = false;  ///< more than 0.5 dB apart between front and back
};

struct SetupBand {
  int band = 0;                ///< index into Trip::bands
  int radiator = 0;            ///< index into PatternBook::radiators
  double power_w = 0;          ///< rig, licence and the band's e.i.r.p. limit, whichever is least
  bool power_limited = false;  ///< by the licence or the e.i.r.p. limit
  Id<noise::Mode> mode;        ///< of Trip::modes: of those the rig has and the band allows, what counts most
};

/// What the rig or the antenna says, or what the solver refused.
using Unfit = std::variant<antenna::Note, Error>;

/// A setup's band on which it cannot work after all.
struct RefusedBand {
  int setup = 0, band = 0;  ///< indices into the setups given and Trip::bands
  Unfit why;
};

struct SolvedWires;

/// Patterns of all setups, computed once (both cores). One solution serves all setups with the same wires
/// over the same ground, whatever their cable, tuner and rig; what is cut to a band is trimmed on that
/// ground.
///   foreground  where the site has sea in sight or a slope, each direction has its own: the antenna's
///               currents over its own ground, reflected by the far ground where each current's ray meets it
///               (antenna::Foreground, 2 dB). The sea of a site above it is taken as nearer in proportion, so
///               that rays below tan(el) = (height above the sea)/distance meet it; fall in whole degrees.
///   refused     a band on which the antenna does not stand, or whose SWR the packed tuner (or, without one,
///               the rig: antenna::largest_untuned_swr) cannot take, or whose wire runs along a conductive
///               mast of which too much is unknown (antenna/mast.hpp); no wanted mode allowed: left out
///               silently
struct PatternBook {
  std::vector<Radiator> radiators;
  std::vector<std::vector<SetupBand>> setups;  ///< in the order of the setups given
  std::vector<RefusedBand> refused;
  std::shared_ptr<SolvedWires> solved;  ///< all that was solved, by wires, ground, frequency and foreground
};
///   before  an earlier book of the same trip, whose solutions are taken where the wires are the same
[[nodiscard]] PatternBook pattern_book(const kit::Trip& trip, std::span<const kit::Setup> setups,
                                       const PatternBook* before = nullptr);

/// What the conductive mast beside this setup's wire takes on a band: the mean gain over azimuth at 20
/// degrees without it less that with it, dB (negative: it helps). None where there is no such mast, or no
/// solution.
///   book  whose solutions are taken where the wires are the same
[[nodiscard]] std::optional<double> mast_cost_db(const kit::Trip& trip, const kit::Setup& setup, int band,
                                                 const PatternBook& book);

/// True when this mode may be used on that band: voice is not on 30 m (10.1 MHz is 50 kHz wide; IARU band
/// plans of all three Regions leave telephony out, emergencies apart; from memory).
[[nodiscard]] bool mode_on_band(const noise::Mode& mode, const noise::Band& band);

[[nodiscard]] bool is_voice(const noise::Mode& mode);

/// The rig works this band / this mode (empty list: all).
[[nodiscard]] bool rig_has_band(const kit::Rig& rig, const noise::Band& band);
[[nodiscard]] bool rig_has_mode(const kit::Rig& rig, const noise::Mode& mode);

}  // namespace skerry::advice
