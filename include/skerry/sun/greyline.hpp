// When an end, or both ends, of a path stand in the twilight band, and how the terminator lies.
// Layer: sun. Sees core and geodesy.
#pragma once

#include <vector>

#include "skerry/core/time.hpp"
#include "skerry/geodesy/path.hpp"

namespace skerry::sun {

/// The twilight band: Sun between these elevations. Judgement: D region gone or not yet formed, F region
/// still lit.
inline constexpr double twilight_low_deg = -9.0;
inline constexpr double twilight_high_deg = 1.0;

struct TwilightWindow {
  UtcTime start, end;
  /// First crossing of the band's middle (-4 deg) is upward; without any: the trend at start.
  bool rising = false;
};
/// Windows of one place overlapping [from, to], clipped to it, to the second; near the poles one may last the
/// whole span, and in a light summer night one window holds sunset and sunrise (rising is false then).
[[nodiscard]] std::vector<TwilightWindow> twilight_windows(GeoPoint where, UtcTime from, UtcTime to);

enum class GreyKind { single_end, double_end, along };
struct GreyWindow {
  UtcTime start, end;
  /// single_end: one end in the band and the other darker; double_end: both in the band; along: both, and all
  /// of the path, sampled each 500 km, within -12..+3 deg. With one end in the band and the other in full day
  /// there is no window.
  GreyKind kind = GreyKind::single_end;
  /// The Sun climbs there at the middle of the window (ends in the band only).
  bool rising_from = false, rising_to = false;
  bool from_in_band = false, to_in_band = false;
  /// 0 along .. 90 across, at the middle of the window, mean over the ends in the band.
  double path_to_terminator_deg = 0;
};
/// Windows of a path in [from, to], in order of time, to the second where sun crossings bound them and to 1
/// min for `along`; a change of kind ends one window and starts the next. For information: the gain of a grey
/// line comes out of absorption and critical frequencies at the time, and is never added. Definition:
/// Judgement (trade usage, put into numbers).
[[nodiscard]] std::vector<GreyWindow> grey_windows(const geodesy::Path& path, UtcTime from, UtcTime to);

/// `count` points (>= 0) of the circle on which the Sun stands at elevation -depression_deg (0: the true
/// terminator; -90..90), turning clockwise round the subsolar point from its north. Exact on the sphere, to
/// rounding.
[[nodiscard]] std::vector<GeoPoint> terminator(UtcTime when, double depression_deg, int count);

}  // namespace skerry::sun
