// Which legal time zone is likely at a place, and whether a zone that was given can be right there.
// Layer: sun. Sees core and geodesy.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "skerry/geodesy/point.hpp"
#include "skerry/sun/localtime.hpp"

namespace skerry::sun {

/// A zone of the tz database and how far its principal place is.
struct NearZone {
  std::string name;
  double distance_km = 0;
};

/// Judgement: an island this near the principal place of a zone mostly keeps its clock; farther away a
/// border or another country is as likely between.
inline constexpr double zone_reach_km = 300;
/// Judgement: territorial waters end after 22 km; islands that neither the map of land nor the list of names
/// holds lie within this of one that it does.
inline constexpr double sea_reach_km = 100;

/// The zones whose principal places are nearest, nearest first, at most `most`.
///   source   zone.tab of the tz database (data/zones)
///   limits   borders are not known: at a border the nearest place may lie on the other side
[[nodiscard]] std::vector<NearZone> nearest_zones(GeoPoint at, std::size_t most = 3);

/// The clock that people go by at a place: that of the nearest named place (geodesy::nearest_named), and the
/// nautical zone where there is none within zone_reach_km, or, out at sea, within sea_reach_km. Also where the
/// system has no tz database. Thread-safe; a few us, each zone is read once.
///   limits   borders are not known: within some 10 km of one the nearest place may lie on the other side
[[nodiscard]] Zone legal_zone(GeoPoint at);

/// The name of legal_zone; "" where that is the nautical one.
[[nodiscard]] std::string likely_zone(GeoPoint at);

/// Why a zone may be wrong at a place.
struct ZoneDoubt {
  enum class Why {
    strays,         ///< far from the Sun's time: latitude and longitude are swapped, or a sign is wrong
    only_an_offset  ///< a guess from longitude, which the legal clock near there does not confirm
  };
  Why why = Why::strays;
  double stray_h = 0;          ///< hours between its clock and the mean Sun, -12..12
  NearZone nearest;            ///< of only_an_offset
  std::optional<int> legal_s;  ///< offset of the nearest then, where it is within zone_reach_km
};
/// Whether a zone may be wrong at a place between two moments.
///   a bare offset    doubted unless the nearest zone within zone_reach_km has that offset all the time
///   any zone         doubted where its clock is more than 3.5 h from the Sun's (whole days apart do not
///                    count)
[[nodiscard]] std::optional<ZoneDoubt> zone_doubt(const Zone& zone, GeoPoint at, UtcTime from, UtcTime to);

/// A zone that cannot be that of a place, and what may have been meant.
struct Misplaced {
  std::string lies;  ///< "in Egypt", "at sea"
  std::optional<GeoPoint>
      meant;  ///< where that zone holds: the sign of the longitude or latitude and longitude changed
  bool only_longitude = false;  ///< it differs by the sign of its longitude alone
};
/// Whether a clock is more than 3.5 h from the Sun's (ZoneDoubt::Why::strays) or 2.5 h from the legal one there, or
/// an hour and more from it while a place that differs by signs or order alone has that very zone. Never so of UTC,
/// by which some keep their log anywhere, and above 80 degrees of latitude, where clocks follow ships and stations.
[[nodiscard]] std::optional<Misplaced> misplaced(const Zone& zone, GeoPoint at, UtcTime when);

}  // namespace skerry::sun
