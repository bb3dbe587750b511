// Which points of a line are enough of it. Layer: core. Sees nothing.
#pragma once

#include <cstddef>
#include <vector>

namespace skerry {

/// Adds, in their order, those places between `first` and `last` that are needed for all others to lie near enough to
/// straight lines between those kept (both ends are).
///   misses  misses(a, b, i): by how many times what is allowed the place i misses the line from a to b
///   source  Ramer, Computer Graphics and Image Processing 1, 1972; Douglas and Peucker, Cartographica 10, 1973 (from
///           memory)
template <class Misses>
void add_needed(std::vector<std::size_t>& kept, std::size_t first, std::size_t last, const Misses& misses) {
  double most = 1;
  std::size_t worst = first;
  for (std::size_t i = first + 1; i < last; ++i) {
    const double miss = misses(first, last, i);
    if (miss > most) {
      most = miss;
      worst = i;
    }
  }
  if (worst == first) return;
  add_needed(kept, first, worst, misses);
  kept.push_back(worst);
  add_needed(kept, worst, last, misses);
}

}  // namespace skerry
