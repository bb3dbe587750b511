// Every way to be on the air that the inventory allows, and why the others are impossible.
// Layer: kit. Sees everything above it.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "skerry/antenna/pattern.hpp"
#include "skerry/kit/trip.hpp"

namespace skerry::kit {

/// What there is to say of an antenna on one band.
struct BandNote {
  int band = 0;  ///< index into Trip::bands
  antenna::Note note;
};
/// How an antenna stands in one shape.
struct Stance {
  int bands = 0;                  ///< on how many of the trip's bands
  std::vector<BandNote> hanging;  ///< how it hangs there
  std::vector<BandNote> refused;  ///< why not on others
};

/// antenna x support x rig x cable x tuner at one site, with the bands on which it works.
struct Setup {
  Id<Site> site;
  Id<Rig> rig;
  Id<Antenna> antenna;
  std::optional<Id<Support>> support;
  std::optional<Id<Support>> far_support;  ///< for a horizontal wire or the far end of an inverted L
  std::optional<Id<Cable>> cable;
  std::optional<Id<Tuner>> tuner;
  /// A tuner is in use: the rig's own when `tuner` is none. Such a setup lists only the bands that do not work
  /// without.
  bool tuned = false;
  antenna::Shape shape = antenna::Shape::inverted_v;
  std::vector<int> bands;  ///< indices into Trip::bands
  std::vector<std::string>
      needs;  ///< ids of all items it takes, sorted, no duplicates; batteries are chosen apart, by energy
  Stance stance;
  std::vector<int> wants_tuner;  ///< bands on which it would work with a tuner, where there is none
  /// Bands on which the solver found that it matches with the tuner it has or may be given, and not without;
  /// advise() fills it in.
  std::vector<int> matches_tuned;
  /// What the rig sends on the packs with which this is worked, W; none: not told apart, all that feed it.
  /// advise() fills it in, and has such a setup once for each output.
  std::optional<double> power_w{};
};

/// A thing, or things together, that give no setup.
struct Impossible {
  enum class Why : std::uint8_t {
    no_licensed_band,    ///< the rig has none
    no_wanted_mode,      ///< the rig has none
    no_support,          ///< there is none to hang the antenna on
    made_for_no_band,    ///< of the licensed ones
    does_not_stand,      ///< `reasons`, one for each band and shape
    wires_too_high,      ///< drawn wires (m they reach, m the support is usable)
    no_common_band,      ///< antenna and rig
    no_cable,            ///< to the feed point, which needs one
    short_counterpoise,  ///< no cable is as long as its shield is to be the counterpoise (m)
    short_cable,         ///< no cable reaches the feed point (m it is up, m of cable)
    no_tuner             ///< not resonant on any band
  };
  Why why = Why::no_support;
  std::optional<Id<Antenna>> antenna;  ///< none: not meant; so all four
  std::optional<Id<Support>> support, far_support;
  std::optional<Id<Rig>> rig;
  double a = 0, b = 0;  ///< what Why has in brackets
  std::vector<antenna::Note> reasons{};

  friend bool operator==(const Impossible&, const Impossible&) = default;
};

struct Setups {
  std::vector<Setup> possible;
  std::vector<Impossible> impossible;
};

/// All of them, deterministic, in the order of the file: site, rig, antenna, support, shape, cable.
///   left out   what could never be better: a cable where the rig can stand at the feed point, an external
///              tuner with a rig that has one, a tuner on a band where the antenna is resonant
///   impossible one line for each antenna and support (or rig, cable, tuner, when that is the cause) that
///              gives nothing
[[nodiscard]] Setups derive_setups(const Trip& trip);
/// What a setup with the rig may have as its tuner when tuned: one "none" where the rig has its own.
[[nodiscard]] std::vector<std::optional<Id<Tuner>>> tuners_for(const Trip& trip, const Rig& rig);

/// What the antenna room needs to put a setup up at one frequency. `derive_setups` uses these; so should all
/// who ask for the pattern, or they would compute another antenna.
[[nodiscard]] antenna::Support support_for(const Trip& trip, const Setup& setup);
/// With needs_tuner set when the setup is tuned.
[[nodiscard]] antenna::Design design_for(const Trip& trip, const Setup& setup);
[[nodiscard]] antenna::FeedLine line_for(const Trip& trip, const Setup& setup);
/// The wires of the setup's shape at a frequency; nullopt when it does not stand there.
[[nodiscard]] std::optional<antenna::Raised> raise_for(const Trip& trip, const Setup& setup, double mhz);

}  // namespace skerry::kit
