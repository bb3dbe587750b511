// Rods and boxes beside each other in a box, in three dimensions. Plain millimetres: no bag in it.
// Room: choose. Needs nothing.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <span>
#include <vector>

namespace skerry::choose {

/// A box, turned as it likes with its sides parallel to those of the inside; or a rod that lies aslant.
struct Body {
  std::array<int, 3> mm{};  ///< sides, > 0, in any order; of a rod aslant: length, diameter, diameter
  /// Of a rod aslant: unit directions in which it goes in, components >= 0 along the sides of the inside (the
  /// mirrored ones are tried too). Empty: a box, or a rod that lies along a side.
  std::vector<std::array<double, 3>> aslant;
};
/// Where a body lies, mm from one corner of the inside.
struct Spot {
  std::array<double, 3> from{}, to{};  ///< opposite corners of a box; the ends of the axis of a rod aslant
};

/// A place for each body, none in another; nullopt when none was found, which says nothing.
///   method  rods that lie aslant first, then boxes, each where it touches most (extreme points; beside rods
///           aslant all corners of what lies there), in several fixed orders
///   limits  nothing stands on edge or aslant but rods; `most_work` pairs of bodies are compared at most
///   source  T. G. Crainic, G. Perboli, R. Tadei, "Extreme point-based heuristics for three-dimensional bin
///           packing", INFORMS Journal on Computing 20 (2008) 368-384; from memory
[[nodiscard]] std::optional<std::vector<Spot>> place(const std::array<int, 3>& inside_mm,
                                                     std::span<const Body> bodies,
                                                     std::uint64_t most_work = 4'000'000);

/// Whether two boxes, sides parallel to those of the inside, can lie in it beside each other in no way at all.
/// Exact for boxes so set, to 1e-9 of the unit.
[[nodiscard]] bool boxes_clash(const std::array<double, 3>& inside, const std::array<double, 3>& a,
                               const std::array<double, 3>& b);
/// How many balls of a diameter have room when their middles stay inside a box of these sides (>= 0): an upper
/// bound. Middles of two balls are a diameter apart, so each cell with a shorter diagonal holds one, and the
/// balls together are no larger than the box with their radius about it.
[[nodiscard]] std::int64_t most_balls(const std::array<double, 3>& middles, double diameter);

}  // namespace skerry::choose
