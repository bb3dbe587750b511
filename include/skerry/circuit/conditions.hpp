// Short-notice disturbances a user can enter: which paths they make unreliable. No decibels are invented.
// Layer: circuit. Sees everything above it.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "skerry/geodesy/path.hpp"

namespace skerry::circuit {

struct Disturbance {
  double kp = 0;         ///< planetary index, 0..9; "disturbed" without a number is 5
  bool flare = false;    ///< a strong X-ray flare is in progress: sunlit paths fade from the low bands up,
                         ///< minutes to an hour or two
  bool protons = false;  ///< a solar proton event: polar paths closed for hours to days
  [[nodiscard]] bool any() const { return kp >= 4 || flare || protons; }
};

/// Geomagnetic latitude down to which the aurora reaches at midnight for a Kp.
/// Source: US Space Weather Prediction Center's public table (from memory): 66.5 at Kp 0, about 2 degrees
/// less a step, 48.1 at 9.
[[nodiscard]] double auroral_edge_deg(double kp);

/// What the disturbance does to this path, as advice; empty when it does nothing to it. `lit` per UTC hour:
/// some of the path's D region is in sunlight.
struct Warning {
  enum class Cause : std::uint8_t { kp, protons, flare };
  Cause cause = Cause::kp;
  std::string text;
  bool at_hour[24] = {};
};
[[nodiscard]] std::vector<Warning> warnings(const geodesy::Path& path, const Disturbance& disturbance,
                                            const bool (&lit)[24]);

}  // namespace skerry::circuit
