// Where the wires go: straight wires for each way of hanging them.
// Layer: antenna, inside. Sees core and the antenna headers.
#pragma once

#include <variant>
#include <vector>

#include "skerry/antenna/kinds.hpp"

namespace skerry::antenna {

/// A wire to hang: its length and how it is fed. Radius, jacket and counterpoise are added by the caller.
struct Hang {
  double length_m = 0;
  bool end_fed = true;
  /// Of the length, what trimming added: may hang over at a vertical's top beside the usual.
  double added_m = 0;
  double low_m = 1;  ///< height of the low end, which is where an end-fed wire is fed
};

/// The polyline of one way, in order; feed: index of the corner at which it is fed, or -1 for the middle of
/// its length.
struct Path {
  std::vector<Vec3> corners;
  int feed = 0;
  std::vector<Note> notes;
};
using PathOrReason = std::variant<Path, Note>;

[[nodiscard]] PathOrReason hang_vertical(const Hang& hang, const Support& support);
[[nodiscard]] PathOrReason hang_inverted_v(const Hang& hang, const Support& support);
[[nodiscard]] PathOrReason hang_sloper(const Hang& hang, const Support& support);
[[nodiscard]] PathOrReason hang_inverted_l(const Hang& hang, const Support& support);
[[nodiscard]] PathOrReason hang_horizontal(const Hang& hang, const Support& support);

}  // namespace skerry::antenna
