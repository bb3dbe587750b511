// Wires cut into segments, segments joined into basis currents.
// Layer: antenna, internal to the solver. Sees core.
#pragma once

#include <array>
#include <string>
#include <vector>

#include "skerry/antenna/solver.hpp"

namespace skerry::antenna::mom {

/// A straight segment; metres.
struct Segment {
  Vec3 from{}, along{};  ///< start; unit vector
  double length = 0, radius = 0;
  int wire = 0;   ///< counts from 0
  int piece = 0;  ///< segments of one piece follow each other, equal and in line
};

/// A current of 1 A that flows into a node through one segment end and out through another, falling to zero
/// at the far ends of both; on perfect ground only one half stands above the ground.
struct Share {
  int basis = 0;
  double sign = 1;  ///< current along the segment's own direction at this end, per unit of the basis current
};

/// Where a source or a lump sits: between this segment end and the rest of its node.
struct Port {
  int segment = 0;
  int end = 0;
};

struct Mesh {
  std::vector<Segment> segments;
  std::vector<std::array<std::vector<Share>, 2>> shares;  ///< [segment][end]
  int unknowns = 0;
  std::vector<Port> feeds;  ///< in the order asked
  std::vector<Port> loads;
  std::vector<Note> notes;
};

/// Checks the geometry and cuts it. `feeds` are extra to antenna.feed, which is ignored.
[[nodiscard]] Result<Mesh> make_mesh(const WireAntenna& antenna, const std::vector<Feed>& feeds,
                                     const Ground& ground, double mhz, const SolveOptions& options);

}  // namespace skerry::antenna::mom
