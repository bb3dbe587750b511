// Branch and bound over the reduced packing problem.
// Room: choose, internal. Sees choose.hpp.
#pragma once

#include "reduced.hpp"

namespace skerry::choose {

/// A kit by groups, as found during a search: for starting the next one.
struct Found {
  std::vector<int> groups;
  std::int64_t mg = 0;
  std::int64_t value = 0;  ///< base value not included
};

struct SearchResult {
  Found best;
  std::int64_t bound = 0;  ///< base value not included
  bool proved = false;
  std::uint64_t nodes = 0;
};

/// left_mg: what may still be added. `pool`, when given, offers kits found before (of any mass) and collects
/// new ones.
[[nodiscard]] SearchResult search(const Reduced& problem, std::int64_t left_mg, const Problem& original,
                                  const Stop& stop, std::vector<Found>* pool = nullptr);

}  // namespace skerry::choose
