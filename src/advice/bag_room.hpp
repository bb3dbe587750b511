// What of some things goes into one bag by its shape: what cannot lie beside what, and where each lies.
// Room: advice, private.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "skerry/advice/bags.hpp"
#include "skerry/kit/trip.hpp"

namespace skerry::advice {

/// Of these things no more than `most` lie in the bag together.
struct Crowd {
  std::vector<int> things;  ///< places in the list given
  std::int64_t most = 1;
};
/// All such groups that bind, for things each of which fits alone. Sound for rods in any direction and boxes
/// set parallel to the bag's sides:
///   boxes     two that have no room side by side, in any turns
///   rods      two bodies with a plane between them have their middles half the sum of their least widths
///             apart; how far a rod's middle can be from the bag's middle is known (kit::ways_of_tube). So of
///             rods of diameter d whose middles stay within a box no more than choose::most_balls go in: six
///             that all cross the bag's middle do not
///   rod, box  the same; and a box that leaves too little along one side for the rod's length there, and beside
///             itself less than the rod's rim, leaves no room for it
///   source    the separation of convex bodies by a plane; the rest follows by adding half widths
[[nodiscard]] std::vector<Crowd> crowds(const kit::Bag& bag, std::span<const kit::Item* const> things);

/// The volume of a thing of told size itself, of another the room it takes; cm3.
[[nodiscard]] double volume_cm3(const kit::Item& item);
/// The same with the box around a tube: other things do not flow round it.
[[nodiscard]] double box_volume_cm3(const kit::Item& item);

/// Where the things of told size lie, in the order given (those without size have no place); nullopt when no
/// way was found, or when soft things would fill the bag beyond its usable share.
[[nodiscard]] std::optional<std::vector<BagLoad::Place>> place_in(const kit::Bag& bag,
                                                                  std::span<const kit::Item* const> things);

}  // namespace skerry::advice
