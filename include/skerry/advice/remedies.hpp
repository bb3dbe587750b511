// What would mend it: changes that put an antenna on bands on which it cannot be used as the trip stands.
// Layer: advice. Sees everything above it.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "skerry/advice/patterns.hpp"
#include "skerry/kit/setup.hpp"

namespace skerry::advice {

/// One change. In brackets what `number` is.
struct Remedy {
  enum class Kind : std::uint8_t {
    wire_length,     ///< the same wire cut or made longer (m)
    counterpoise,    ///< of an end-fed wire (m)
    ratio,           ///< another transformer (to 1)
    tuner,           ///< a usual one beside the rig (g)
    other_support,   ///< a thing of the inventory on which the antenna is not allowed: `support`
    longer_pole,     ///< a pole that does not conduct (m it stands up)
    other_shape,     ///< `shape`, which is not allowed, on the same support
    loading,         ///< a coil at the foot, for a vertical as long as the pole allows (m of wire)
    standoff,        ///< from the conductive mast (m)
    no_mast_beside,  ///< a pole as long that does not conduct (m it stands up)
    cable            ///< long enough to reach the feed, or to be the counterpoise (m)
  };
  Kind kind = Kind::wire_length;
  Id<kit::Antenna> antenna;
  antenna::Shape shape = antenna::Shape::inverted_v;  ///< in which it then stands
  std::optional<Id<kit::Support>> support;            ///< on which, or in whose stead; none: by itself
  double number = 0;
  double added_g = 0;      ///< Judgement, of what is not in the inventory; 0: nothing is added
  std::vector<int> bands;  ///< that are won; indices into Trip::bands
  std::vector<int> lost;   ///< that are lost by it
  /// Of the best kit within the limit: as the trip stands and with the change. None: not asked.
  struct Reach {
    double now = 0, then = 0;
  };
  std::optional<Reach> reach;
};

/// For each antenna that serves some of the bands it is meant for (the trip's own, where it names none) nowhere
/// and in no shape: what would win them. Each change is solved like the trip itself (wires, ground, match,
/// doubtful masts), at the site and on the support and in the shape in which the antenna serves most.
///   changes  Remedy::Kind: a wire within 6 % of its length, a counterpoise of 2 to 10 m, a transformer of 1:4
///            to 1:64, a usual tuner where there is none, and so on. The best of each kind, by bands won less
///            bands lost; only where more are won.
///   book     of these setups, after offer_tuners(); its solutions are used and added to
///   returns  in the order of the antennas, most bands won first; Remedy::reach is not filled in
[[nodiscard]] std::vector<Remedy> remedies_of(const kit::Trip& trip, const kit::Setups& setups,
                                              const PatternBook& book);

/// The trip with the change made: things keep their places, what is new comes last.
[[nodiscard]] kit::Trip changed(const kit::Trip& trip, const Remedy& remedy);

}  // namespace skerry::advice
