// A way of sharing out by moving things about until nothing is over its limit.
// Room: choose, private.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "skerry/choose/share_out.hpp"

namespace skerry::choose {

/// True: `place` holds the bin of each parcel and every limit is kept. From each start the move of one parcel,
/// or the swap of two, that takes off most excess is made until none does; then some parcels are moved
/// blindly, from a fixed seed. `moves`: so many may be looked at; what is left of them on return.
/// Bins without room (negative) stand in no parcel's `may`. False says nothing.
[[nodiscard]] bool even_out(std::span<const Bin> bins, std::span<const Parcel> parcels,
                            std::span<const Quota> quotas, std::uint64_t& moves, std::vector<int>& place);

}  // namespace skerry::choose
