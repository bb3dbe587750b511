// The packing problem made small: whole numbers, merged items and cells, dominated setups gone.
// Layer: advice, internal. Sees choose.hpp.
#pragma once

#include <cstdint>
#include <vector>

#include "skerry/advice/choose.hpp"

namespace skerry::advice {

using Words = std::vector<std::uint64_t>;

/// Calls what(cell) for each bit of words in turn while it returns true.
template <class What>
bool each_cell(const std::uint64_t* words, std::size_t count, What&& what) {
  for (std::size_t i = 0; i < count; ++i) {
    for (std::uint64_t rest = words[i]; rest != 0; rest &= rest - 1) {
      if (!what(i * 64 + static_cast<std::size_t>(__builtin_ctzll(rest)))) return false;
    }
  }
  return true;
}

/// Weights and masses as whole numbers, so that sums do not depend on their order and ties are ties.
[[nodiscard]] std::vector<std::int64_t> whole_weights(const Problem& problem);
[[nodiscard]] std::int64_t whole_mg(double grams);

struct Reduced {
  struct Setup {
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
  std::vector<Setup> setups;  ///< by groups; cells closed under "whatever works with a subset works too"
  std::size_t words = 0;
  std::vector<std::int64_t> weight;  ///< per merged cell
};
[[nodiscard]] Reduced reduce(const Problem& problem);

}  // namespace skerry::advice
