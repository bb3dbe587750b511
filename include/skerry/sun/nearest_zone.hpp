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

/// The zones whose principal places are nearest, nearest first, at most `most`.
///   source   zone.tab of the tz database (data/zones)
///   limits   borders are not known: at a border the nearest place may lie on the other side
[[nodiscard]] std::vector<NearZone> nearest_zones(GeoPoint at, std::size_t most = 3);

/// The legal zone by the nearest principal place within zone_reach_km; "" where none is so near.
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

}  // namespace skerry::sun
