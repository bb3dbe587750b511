// Every antenna of the inventory as it would stand at the site, on every band it can use.
// Layer: advice. Sees everything above it.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "skerry/antenna/pattern.hpp"
#include "skerry/kit/setup.hpp"

namespace skerry::advice {

/// One antenna, support, shape, feed and band over one ground; shared by all rigs.
struct Radiator {
  antenna::Pattern pattern;  ///< over the site's own ground, all losses from the rig on included
  /// Towards the sea, where the site has it in sight: below `sea_elevation_deg` the ground reflection is that
  /// of sea water.
  bool has_sea = false;
  antenna::Pattern towards_sea;
  double sea_elevation_deg = 0;
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
  int mode = 0;  ///< index into Trip::modes: of those the rig has, the one that needs least signal
};

/// Patterns of all setups, computed once (both cores); setups that differ by the rig alone share them.
///   sea        two grounds side by side, approximately: the pattern computed over sea water, shifted so that
///   as much of
///              the rig's power leaves as over the site's ground, is used for azimuths between the site's sea
///              bearings and for elevations whose ground reflection lies beyond the shore: tan(el) < height
///              above the sea / distance. The shift is careful: earth losses far out, which the sea does not
///              have, stay counted (1 to 3 dB for a vertical).
///   bands      a setup's band on which the antenna does not stand after all, or no wanted mode is allowed,
///   is left out
struct PatternBook {
  std::vector<Radiator> radiators;
  std::vector<std::vector<SetupBand>> setups;  ///< in the order of the setups given
};
[[nodiscard]] PatternBook pattern_book(const kit::Trip& trip, std::span<const kit::Setup> setups);

/// True when this mode may be used on that band: voice is not on 30 m (10.1 MHz is 50 kHz wide; IARU band
/// plans of all three Regions leave telephony out, emergencies apart; from memory).
[[nodiscard]] bool mode_on_band(const noise::Mode& mode, const noise::Band& band);

/// The rig works this band / this mode (empty list: all).
[[nodiscard]] bool rig_has_band(const kit::Rig& rig, const noise::Band& band);
[[nodiscard]] bool rig_has_mode(const kit::Rig& rig, const noise::Mode& mode);

}  // namespace skerry::advice
