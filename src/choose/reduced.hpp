// The packing problem made small: whole numbers, merged items and cells, dominated bundles gone.
// Room: choose, internal. Sees choose.hpp.
#pragma once

#include <cstdint>
#include <vector>

#include "skerry/choose/choose.hpp"

namespace skerry::choose {

using Words = std::vector<std::uint64_t>;

/// Weights and masses as whole numbers, so that sums do not depend on their order and ties are ties.
[[nodiscard]] std::vector<std::int64_t> whole_weights(const Problem& problem);

struct Reduced {
  struct Bundle {
    std::vector<int> groups;
    std::int64_t mg = 0;
    Words cells;
  };
  std::vector<int> always;              ///< original items, sorted
  std::int64_t base_mg = 0;             ///< their mass
  std::int64_t left_mg = 0;             ///< limit less base; negative: over the limit
  std::int64_t base_value = 0;          ///< served by the always items alone
  std::int64_t total_value = 0;         ///< all weight
  std::vector<std::vector<int>> group;  ///< items that always appear together
  std::vector<std::int64_t> group_mg;
  std::vector<Bundle> bundles;  ///< by groups; cells closed under "whatever works with a subset works too"
  std::size_t words = 0;
  std::vector<std::int64_t> weight;  ///< per merged cell
};
[[nodiscard]] Reduced reduce(const Problem& problem);

}  // namespace skerry::choose
