// A fan of rays in words, and what stands on its picture. Computes nothing; same input, same bytes.
// Layer: words. Sees everything above it.
#pragma once

#include <string>

#include "skerry/circuit/traced.hpp"

namespace skerry::words {

/// Every ray of the fan, the skip zone, what arrives with the angles of both ends.
[[nodiscard]] std::string fan_text(const circuit::FanAnswer& answer);

/// "20m at 18 UTC, 2027-02-15": band, hour, day.
[[nodiscard]] std::string fan_moment(const circuit::FanAnswer& answer);
/// A place as its name, or its position.
[[nodiscard]] std::string end_name(GeoPoint where, const std::string& name);
/// One sentence each: where nothing comes down; what arrives and at which angles.
[[nodiscard]] std::string skip_text(const circuit::FanAnswer& answer);
[[nodiscard]] std::string arrival_text(const circuit::FanAnswer& answer);
/// What the picture leaves out.
[[nodiscard]] std::string fan_limits();

namespace caption {
inline constexpr auto fan_title = "Rays from {} to {}";
inline constexpr auto fan_label = "Fan of rays on {}: {}";
inline constexpr auto fan_key =
    "Full lines: rays that come down, as strong as the antenna sends at their angle. Dashed: through the layers and away. Heavy: "
    "what arrives. Dotted bar on the ground: skip zone. Dashed black: where the F2 layer is densest.";
inline constexpr auto fan_peak = "F2 peak";
}  // namespace caption

}  // namespace skerry::words
