// Things into bags under several limits at once: the bare problem, no radio and no aeroplane in it.
// Room: choose, internal. Needs nothing.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <vector>

namespace skerry::choose {

struct Bin {
  std::int64_t mg = 0, mm3 = 0;  ///< room; negative: nothing goes in
  bool liquid_counts = false;    ///< what goes in shares the allowance of liquids
};
struct Parcel {
  std::int64_t mg = 0, mm3 = 0, liquid_ul = 0;  ///< >= 0
  std::uint64_t may = 0;                        ///< set of bins it may go into, bit b is bin b
};

enum class Shared { yes, no, given_up };

/// The bin of each parcel in `out`; whether there is a way at all. At most 64 bins. Exact unless given up:
/// branch and bound over parcels, the most bound and the largest first, cut where the parcels that are left
/// to a set of bins exceed the room in them (all sets, for at most 8 bins).
/// Deterministic; each node counts one towards most_nodes.
[[nodiscard]] Shared share_out(std::span<const Bin> bins, std::span<const Parcel> parcels,
                               std::int64_t liquid_ul, std::uint64_t most_nodes, std::vector<int>& out,
                               std::uint64_t* nodes = nullptr);

}  // namespace skerry::choose
