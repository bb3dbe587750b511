// When two places are too near to each other for a path between them.
// Layer: geodesy. Sees core only.
#pragma once

#include <fmt/format.h>

#include "skerry/core/result.hpp"
#include "skerry/geodesy/path.hpp"

namespace skerry::geodesy {

/// Judgement: nearer than this nothing of the method means anything.
inline constexpr double nearest_apart_km = 1;

/// Refuses two places nearer than that, told as "a place 0.3 km from `what`".
[[nodiscard]] inline Result<double> check_apart(GeoPoint from, GeoPoint to, const Where& where,
                                                const std::string& what, std::string mend = {}) {
  const double km = distance_km(from, to);
  if (km >= nearest_apart_km) return km;
  return fail(where, fmt::format("a place {:.1f} km from {}", km, what),
              fmt::format("a place at least {:g} km away", nearest_apart_km), std::move(mend));
}

}  // namespace skerry::geodesy
