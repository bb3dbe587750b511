// Branch and bound over the reduced packing problem.
// Room: choose, internal. Sees choose.hpp.
#pragma once

#include "ready.hpp"

namespace skerry::choose {

/// A kit by groups beyond those of the question.
struct Found {
  std::vector<int> groups;  ///< sorted
  std::int64_t mg = 0;
  std::int64_t value = 0;
};

/// What searches of one question tell the next.
struct Known {
  bool keep = false;        ///< whether kits are collected
  std::vector<Found> kits;  ///< no lighter one is worth as much
  /// Kits asked of Problem::feasible: the largest that are possible, the smallest that are not.
  std::vector<std::vector<int>> possible, impossible;
};

struct SearchResult {
  Found best;
  std::int64_t bound = 0;
  bool proved = false;
  std::uint64_t nodes = 0;
};

/// left_mg: what may still be added, >= 0.
[[nodiscard]] SearchResult search(const Ready& ready, const Question& question, std::int64_t left_mg,
                                  const Stop& stop, Known& known);

}  // namespace skerry::choose
