// Which one of a list, with the kind of the list in its type.
// Layer: core. Sees nothing.
#pragma once

#include <compare>
#include <concepts>
#include <cstddef>
#include <type_traits>
#include <vector>

#include "skerry/core/nth.hpp"

namespace skerry {

/// The place of an `Of` in the one list of them, 0 or more; without a number the first. It turns into no number
/// by itself and into no Id of another kind, so a rig cannot be looked up among the antennas. "None" is an empty
/// std::optional; it sorts before all others.
template <class Of>
class Id {
 public:
  constexpr Id() = default;
  constexpr explicit Id(std::integral auto value) : value_(static_cast<int>(value)) { assert(value_ >= 0); }
  [[nodiscard]] constexpr int value() const { return value_; }
  friend constexpr auto operator<=>(const Id&, const Id&) = default;

 private:
  int value_ = 0;
};

/// The element of its own kind; the list must be long enough (asserted).
template <class List, class Of>
requires std::same_as<typename std::remove_const_t<List>::value_type, Of>
[[nodiscard]] constexpr auto& nth(List& list, Id<Of> id) {
  return nth(list, id.value());
}

/// Of all elements, in order.
template <class Of>
[[nodiscard]] std::vector<Id<Of>> ids_of(const std::vector<Of>& list) {
  std::vector<Id<Of>> out;
  out.reserve(list.size());
  for (std::size_t i = 0; i < list.size(); ++i) out.emplace_back(i);
  return out;
}

}  // namespace skerry
