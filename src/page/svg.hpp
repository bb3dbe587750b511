// The report's pictures as SVG, drawn from what advice has gathered. They compute nothing but positions on
// paper.
// Layer: page (internal).
#pragma once

#include <string>

#include "skerry/advice/picture.hpp"

namespace skerry::page {

/// Position on the chart: azimuthal equidistant about `centre`, x to the right (east), y downwards (south),
/// in units of half the Earth's circumference: the rim, which is the antipode, has radius 1.
///   source    J. P. Snyder, Map Projections: A Working Manual, USGS Professional Paper 1395, ch. 25 (sphere;
///             from memory)
///   accuracy  sphere for ellipsoid: distances 0.6 %
struct ChartPoint {
  double x = 0, y = 0;
};
[[nodiscard]] ChartPoint on_chart(GeoPoint centre, GeoPoint where);

/// A path of M, L, H, V and Z with numbers to a tenth, written by steps from point to point: the same points, a third shorter.
/// Anything else comes back as it is.
[[nodiscard]] std::string short_path(const std::string& path);

/// The SVG path of the night at one UTC hour on one map: everything inside the rim that is dark.
[[nodiscard]] std::string night_path(const kit::Trip& trip, const advice::Picture& picture, std::size_t map,
                                     std::size_t hour);

/// The same where the Sun is below the grey line's band.
[[nodiscard]] std::string dark_path(const kit::Trip& trip, const advice::Picture& picture, std::size_t map,
                                    std::size_t hour);
/// Points on the chart where a ray of so many equal hops is turned, as a path of dots.
[[nodiscard]] std::string bounce_path(GeoPoint from, GeoPoint to, bool long_way, int hops);

/// The chart of one map: coast, night, rings of distance, bearings, regions by number, both ways round to
/// each. Elements carry classes and data-target, so that a page can colour and change them. No fixed colours.
[[nodiscard]] std::string chart_svg(const kit::Trip& trip, const advice::Picture& picture, std::size_t map,
                                    std::size_t hour);

/// Days in ten of one way, bands by UTC hours, with clocks and Sun at both ends; hours of sessions framed.
[[nodiscard]] std::string strip_svg(const kit::Trip& trip, const advice::Picture& picture, std::size_t way);

/// Gain against elevation, with the elevations that the open cells need shaded behind it.
[[nodiscard]] std::string pattern_svg(const kit::Trip& trip, const advice::PicturePattern& pattern);

/// Reach against mass: every undominated kit up to the limit, the chosen one and everything.
[[nodiscard]] std::string frontier_svg(const advice::Advice& advice, const advice::Picture& picture);

}  // namespace skerry::page
