// An antenna as metal: straight wires in space, a feed point and lumped parts.
// Layer: antenna. Sees core.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "skerry/antenna/ground.hpp"

namespace skerry::antenna {

/// Metres. x east, y north, z up from the ground under the antenna. A wire along x has its broadside north
/// and south (azimuths 0 and 180 of its pattern); to turn the antenna clockwise by A, read the pattern at
/// azimuth - A.
using Vec3 = std::array<double, 3>;

struct Wire {
  Vec3 from_m{}, to_m{};
  double radius_mm = 0.5;
  double conductivity_s_per_m = 5.8e7;  ///< copper (annealed, IACS: 5.80e7)
  bool insulated = false;               ///< a PVC jacket: velocity factor about 0.97, see geometry notes
};

/// A lumped part in series with a wire at a fraction of its length.
struct Load {
  int wire = 1;   ///< counts from 1, as in files
  double at = 0;  ///< 0..1 along the wire
  double resistance_ohm = 0;
  double inductance_uh = 0;
  double capacitance_pf = 0;  ///< 0: none. With `parallel`, L and C in parallel (a trap), else in series
  double coil_q = 0;          ///< > 0: adds X_L/Q in series with the inductance
  bool parallel = false;
};

struct Feed {
  int wire = 1;     ///< counts from 1
  double at = 0.5;  ///< 0..1 along the wire
};

/// A coil or capacitor that its owner adjusts until the feed shows no reactance.
struct TunedPart {
  int wire = 1;  ///< counts from 1
  double at = 0;
  bool capacitor = false;  ///< else a coil
  double q = 200;          ///< reactance over loss resistance; 0: no loss
};

/// Geometry complete: what is solved.
struct WireAntenna {
  std::string id;
  std::vector<Wire> wires;
  Feed feed;
  std::vector<Load> loads;
  std::optional<TunedPart> tuned;  ///< beside the loads
};

}  // namespace skerry::antenna
