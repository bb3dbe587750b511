// The Sun over a span of time, prepared once so that root finding asks cheap questions.
// Layer: sun, private. Sees core and geodesy.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "skerry/core/time.hpp"
#include "skerry/core/units.hpp"
#include "skerry/geodesy/point.hpp"

namespace skerry::sun {

/// A unit vector of the Earth-fixed frame: x to (0,0), y to (0,90E), z to the north pole.
using Vector = std::array<double, 3>;
[[nodiscard]] Vector unit_vector(double lat_deg, double lon_deg);

/// Declination and subsolar longitude at hourly knots, linear between them. Error of the linear rule: (1
/// h)^2/8 times the second derivative, at most 0.008 deg/day^2 for the declination: 2e-6 deg, 0.5 ms of time.
class Track {
 public:
  /// Covers [from, to]; times below are seconds after `from`, and may lie outside the span by less than an
  /// hour.
  Track(UtcTime from, UtcTime to);

  [[nodiscard]] UtcTime from() const { return from_; }
  [[nodiscard]] double length_s() const { return length_s_; }
  [[nodiscard]] Vector direction(double s) const;
  /// Elevation in degrees at a place given as its unit vector.
  [[nodiscard]] double elevation_deg(const Vector& place, double s) const {
    const Vector sun = direction(s);
    return asin_deg(place[0] * sun[0] + place[1] * sun[1] + place[2] * sun[2]);
  }

 private:
  struct Knot {
    double declination_deg;
    double lag_deg;  // subsolar longitude plus 15 deg for each hour since `from`, without jumps
  };
  UtcTime from_;
  double length_s_;
  std::vector<Knot> knots_;
};

/// A passage through a level, in seconds after the track's start, to about a millisecond.
struct Root {
  double s;
  bool rising;
};
/// All passages of the elevation through level_deg in (0, length], in order. The track is sampled each 10
/// minutes; a peak or a hollow between samples that reaches across the level is found too, so short polar
/// days are not lost.
[[nodiscard]] std::vector<Root> roots(const Track& track, const Vector& place, double level_deg);

/// Elevations at the same samples that roots() uses; several levels of one place then share one sampling.
[[nodiscard]] std::vector<double> sample_elevations(const Track& track, const Vector& place);
[[nodiscard]] std::vector<Root> roots(const Track& track, const Vector& place, double level_deg,
                                      const std::vector<double>& samples);

/// First whole second at or after the passage; at least one after the track's start, which itself is not part
/// of the span.
[[nodiscard]] inline UtcTime to_second(const Track& track, double s) {
  return track.from() + std::chrono::seconds(static_cast<long>(std::max(1.0, std::ceil(s))));
}

}  // namespace skerry::sun
