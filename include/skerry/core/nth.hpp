// An element by the index that a result carries.
// Layer: core. Sees nothing.
#pragma once

#include <cassert>
#include <cstddef>

namespace skerry {

/// list[index]; the index, a number or an enum, must be one of the list's (asserted).
template <class List, class Index>
[[nodiscard]] constexpr auto& nth(List& list, Index index) {
  const auto i = static_cast<std::size_t>(index);
  assert(i < list.size());
  return list[i];
}

}  // namespace skerry
