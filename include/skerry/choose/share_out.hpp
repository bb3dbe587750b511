// Things into bags under several limits at once: the bare problem, no radio and no aeroplane in it.
// Room: choose. Needs nothing.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

namespace skerry::choose {

struct Bin {
  std::int64_t mg = 0, mm3 = 0;  ///< room; negative: nothing goes in
};
struct Parcel {
  std::int64_t mg = 0, mm3 = 0;  ///< >= 0
  std::uint64_t may = 0;         ///< set of bins it may go into, bit b is bin b
};
/// A limit over several bins together: an allowance of liquids, a number of batteries, things of which only
/// so many lie beside each other.
struct Quota {
  std::uint64_t bins = 0;             ///< set of bins, as Parcel::may
  std::int64_t most = 0;              ///< of what is in them together
  std::vector<std::int64_t> amounts;  ///< of each parcel, >= 0
};

enum class Shared { yes, no, given_up };

/// The bin of each parcel in `out`; whether there is a way at all. At most 64 bins. Exact unless given up:
///   first    sums: of the parcels bound to each set of bins (all sets, for at most 8 bins), of each quota, and
///            of the masses that the parcels can make up in each bin at all (subset sums, where the masses have
///            a common measure)
///   then     the straight way down, the most bound and the largest first; then moving and swapping parcels as
///            long as that takes off the excess, from fixed starts; then branch and bound
/// Deterministic; each node, and each 32 moves looked at, counts one towards most_nodes.
/// given_up: no way was found, and none was ruled out.
[[nodiscard]] Shared share_out(std::span<const Bin> bins, std::span<const Parcel> parcels,
                               std::span<const Quota> quotas, std::uint64_t most_nodes, std::vector<int>& out,
                               std::uint64_t* nodes = nullptr);

}  // namespace skerry::choose
