// An antenna of a kind and a pole, with nothing told that has a usual value.
#pragma once

#include <utility>
#include <vector>

#include "skerry/antenna/kinds.hpp"

namespace skerry::antenna {

inline Design design(Kind kind, std::vector<Shape> shapes = {}) {
  Design d;
  d.id = to_text(kind);
  d.kind = kind;
  d.shapes = std::move(shapes);
  return d;
}
inline Support pole(double usable_m) {
  Support s;
  s.usable_height_m = usable_m;
  return s;
}

}  // namespace skerry::antenna
