// Places on the Earth, and the ways people write them.
// Layer: geodesy. Sees core only.
#pragma once

#include <string>
#include <string_view>

#include "skerry/core/result.hpp"

namespace skerry {

/// A checked place: latitude -90..90 (north positive), longitude in (-180, 180] (east positive), degrees,
/// WGS84.
struct GeoPoint {
  double lat_deg = 0;
  double lon_deg = 0;

  /// For literals and computed places: latitude must be finite and within +-90 (asserted), longitude is
  /// folded.
  [[nodiscard]] static GeoPoint at_deg(double lat_deg, double lon_deg);
  bool operator==(const GeoPoint&) const = default;
};

namespace geodesy {

/// Reads "lat,lon" in decimal degrees ("-19.70,63.43", north and east positive), hemisphere letters in either
/// place ("19.70S 63.43E", "19.70 S, 63.43 E"), degrees-minutes(-seconds) with letters ("19 42 S 63 25.8 E",
/// "19°42'S 63°25'48\"E"), or a locator of 4, 6, 8 or 10 characters ("MH10rh").
/// Letters may stand before or after the numbers and either half may come first when both have one; a letter
/// on only one half is refused, and so is a sign beside a letter. Latitude -90..90, longitude -180..180. No
/// exponents: E is east. Errors carry `where`, what was found and an example of each accepted form, or the
/// range that was left.
[[nodiscard]] Result<GeoPoint> parse_place(std::string_view text, const Where& where);

/// "19.700 S 63.430 E", `digits` decimals, 0..9. What rounds to nought is N and E. parse_place reads it back.
[[nodiscard]] std::string to_text(GeoPoint place, int digits = 3);

/// Centre of the square. Source: IARU locator system ("Maidenhead"), 4, 6, 8 or 10 characters; upper or lower
/// case.
[[nodiscard]] Result<GeoPoint> parse_locator(std::string_view text, const Where& where);
/// 4, 6, 8 or 10 characters (the fifth pair is letters), first pair upper, third and fifth lower. The pole
/// and 180 E fall into the last square; a place within 4 micrometres below an edge counts as on it, so 70.3
/// is where paper puts it.
[[nodiscard]] std::string to_locator(GeoPoint place, int characters = 6);

}  // namespace geodesy
}  // namespace skerry
