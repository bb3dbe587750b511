// What finding the ground's share by itself costs.
// Room: antenna, internal.
#pragma once

#include "skerry/antenna/solver.hpp"

namespace skerry::antenna {

/// Of ground_absorption_w(), before it is begun: fields of single pieces of wire to be summed. Grows as
/// (width/height)^2 of what lies low.
[[nodiscard]] double ground_absorption_work(const Solution& solution, const Ground& ground);

}  // namespace skerry::antenna
