// The ground that stands around a place, above the level. Layer: geodesy. Sees everything above it.
#pragma once

#include <vector>

namespace skerry::geodesy {

// Judgement: how far away a skyline stands of which only the angle is told: a valley's or a crater's other side.
inline constexpr double usual_skyline_km = 1;
// Judgement: nearer ground does not stand before an antenna, it lies under its first reflections: a slope.
inline constexpr double nearest_skyline_km = 0.1;

/// In one direction.
struct Skyline {
  double deg = 0;                ///< elevation of its edge, -5..85; 0 and less: none
  double km = usual_skyline_km;  ///< to the edge, > 0
};

/// All round.
struct Horizon {
  struct Point {
    double azimuth_deg = 0;  ///< 0 to below 360
    Skyline skyline;
  };
  std::vector<Point> points;  ///< sorted by azimuth
  /// Linear between the points, closed round the circle; none when empty.
  [[nodiscard]] Skyline towards(double azimuth_deg) const;
};

/// How the ground lies up to there.
struct Foreground {
  struct Point {
    double azimuth_deg = 0;  ///< 0 to below 360
    double fall_deg = 0;     ///< away from the antenna, negative where it rises, -30..30
  };
  std::vector<Point> points;  ///< sorted by azimuth
  /// Linear between the points, closed round the circle; 0, level, when empty.
  [[nodiscard]] double fall_deg(double azimuth_deg) const;
};

}  // namespace skerry::geodesy
