// When the Sun rises, sets and leaves its twilights, on the ground and at the layers.
// Layer: sun. Sees core and geodesy.
#pragma once

#include <array>
#include <chrono>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "skerry/core/time.hpp"
#include "skerry/geodesy/point.hpp"

namespace skerry::sun {

enum class DayState { day_and_night, polar_day, polar_night };

/// The events of one solar day: the noon nearest to 12:00 local mean time of `date`, the rising events before
/// it and the setting events after it (so at 180 E a sunrise may carry the previous UTC date). nullopt where
/// nature has no such event.
struct Day {
  DayState state = DayState::day_and_night;
  UtcTime noon{};
  double noon_elevation_deg = 0;  ///< geometric
  std::optional<UtcTime> rise, set;
  std::optional<UtcTime> civil_dawn, civil_dusk;
  std::optional<UtcTime> nautical_dawn, nautical_dusk;
  std::optional<UtcTime> astronomical_dawn, astronomical_dusk;
};
/// Dawn to dusk, in order: astronomical, nautical and civil dawn, rise, noon, set, and the three dusks.
[[nodiscard]] inline std::array<std::optional<UtcTime>, 9> moments(const Day& d) {
  return {d.astronomical_dawn, d.nautical_dawn, d.civil_dawn,       d.rise, d.noon, d.set,
          d.civil_dusk,        d.nautical_dusk, d.astronomical_dusk};
}

///   date      the day by local mean time at `where`; 1950-2050 for the accuracy below
///   height_m  >= 0 (asserted); lowers the horizon by 0.0347*sqrt(height) degrees for rise and set (sea
///             horizon)
///   accuracy  the Sun stands within 0.0075 deg of the level at the time given: 7 s at worst against an
///             independent library (1698 times, tests/sun/authorities) unless it grazes the level; refraction
///             is the mean 34', and weather alone moves a real sunrise by half a minute, near the poles by
///             more
///   limits    within a few degrees of a pole a passage may fall on the other side of noon; it is taken then
///   source    US Naval Observatory, "Rise, Set, and Twilight Definitions": centre 50' below the horizon; 6,
///             12, 18 deg
[[nodiscard]] Day day(GeoPoint where, skerry::Day date, double height_m = 0);

/// The last moment from noon to `sets` at which the Sun's upper edge stands above the skyline.
///   skyline_deg  its elevation by azimuth, degrees; under 0.1 it counts as the sea, which `sets` tells
///   returns      `sets` where nothing stands in the way; noon where the Sun is never seen after it
///   accuracy     as day(): 15 s in the Sun's place at 1 degree of skyline; refraction by Bennett's rule
///   source       G. G. Bennett, Journal of Navigation 35 (1982), 255: refraction by apparent elevation (from
///                memory: 34' at the horizon, 10' at 5 degrees)
[[nodiscard]] UtcTime last_seen(GeoPoint where, UtcTime noon, UtcTime sets,
                                const std::function<double(double azimuth_deg)>& skyline_deg);

}  // namespace skerry::sun
