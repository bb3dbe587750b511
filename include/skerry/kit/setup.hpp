// Every way to be on the air that the inventory allows, and why the others are impossible.
// Layer: kit. Sees everything above it.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "skerry/antenna/pattern.hpp"
#include "skerry/kit/trip.hpp"

namespace skerry::kit {

/// antenna x support x rig x cable x tuner at one site, with the bands on which it works. Indices into the
/// Trip; -1: none.
struct Setup {
  int site = 0, rig = 0, antenna = 0, support = -1, cable = -1, tuner = -1;
  int far_support = -1;  ///< a second support, for a horizontal wire or the far end of an inverted L
  /// A tuner is in use: the rig's own when tuner is -1. Such a setup lists only the bands that do not work
  /// without.
  bool tuned = false;
  antenna::Shape shape = antenna::Shape::inverted_v;
  std::vector<int> bands;  ///< indices into Trip::bands
  std::vector<std::string>
      needs;  ///< ids of all items it takes, sorted, no duplicates; batteries are chosen apart, by energy
  std::string label;  ///< "end-fed wire as inverted V on the 6 m pole with the 10 W rig"
  std::vector<std::string> notes;
};

struct Impossible {
  std::string setup;  ///< in words
  std::string why;
};

struct Setups {
  std::vector<Setup> possible;
  std::vector<Impossible> impossible;
};

/// All of them, deterministic, in the order of the file: site, rig, antenna, support, shape, cable.
///   left out   what could never be better: a cable where the rig can stand at the feed point, an external
///   tuner with a
///              rig that has one, a tuner on a band where the antenna is resonant
///   impossible one line for each antenna and support (or rig, cable, tuner, when that is the cause) that
///   gives nothing
[[nodiscard]] Setups derive_setups(const Trip& trip);

/// What the antenna room needs to put a setup up at one frequency. `derive_setups` uses these; so should all
/// who ask for the pattern, or they would compute another antenna.
[[nodiscard]] antenna::Support support_for(const Trip& trip, const Setup& setup);
/// With needs_tuner set when the setup is tuned.
[[nodiscard]] antenna::Design design_for(const Trip& trip, const Setup& setup);
[[nodiscard]] antenna::FeedLine line_for(const Trip& trip, const Setup& setup);
/// The wires of the setup's shape at a frequency; nullopt when it does not stand there.
[[nodiscard]] std::optional<antenna::Raised> raise_for(const Trip& trip, const Setup& setup, double mhz);

}  // namespace skerry::kit
