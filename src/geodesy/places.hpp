// The towns of the world that regions are measured by.
// Layer: geodesy. Sees core only.
#pragma once

#include <span>
#include <string_view>

#include "vec.hpp"

namespace skerry::geodesy {

struct Place {
  GeoPoint where;
  Vec vec{};
  double people = 0;      ///< its own
  double gathered = 0;    ///< its own and those of the smaller places round it
  std::string_view name;  ///< UTF-8, into the embedded file
};

/// By falling population. Read once, thread-safe. Source: data/places/SOURCE.md.
[[nodiscard]] std::span<const Place> places();

}  // namespace skerry::geodesy
