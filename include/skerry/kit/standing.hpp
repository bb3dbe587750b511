// How an antenna stands on a support: each shape with its bands.
// Layer: kit. Sees everything above it.
#pragma once

#include <vector>

#include "skerry/kit/setup.hpp"

namespace skerry::kit {

/// Judgement: up to here a rig on a lap or a stone can be at the feed point itself, and a wire needs no
/// support.
inline constexpr double hand_height_m = 2.0;

[[nodiscard]] double largest_height_m(const antenna::WireAntenna& wires);
/// Needs nothing to hold it up.
[[nodiscard]] bool stands_alone(const Antenna& antenna);
/// An antenna given point by point.
[[nodiscard]] antenna::Raised drawn(const Antenna& antenna);

/// One shape of an antenna on a support (and a second one), over the trip's bands.
struct Standing {
  Id<Antenna> antenna;
  std::optional<Id<Support>> support, far_support;
  antenna::Shape shape = antenna::Shape::inverted_v;
  std::vector<int> plain, tuned;  ///< bands, indices into Trip::bands: without, and only with a tuner
  double feed_height_m = 0;       ///< the greatest of them
  bool wants_cable = false;
  double shield_m = 0;  ///< so much of the cable is the counterpoise
  Stance stance;
};

struct Standings {
  std::vector<Standing> ways;
  std::vector<Impossible> impossible;  ///< antenna and support by which nothing stands
};

/// Every antenna on every support the owner allows, at whatever site; in the order of the file.
[[nodiscard]] Standings find_standings(const Trip& trip);

}  // namespace skerry::kit
