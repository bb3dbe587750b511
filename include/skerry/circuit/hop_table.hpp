// Take-off angle against the length of a hop, for a mirror at one height: the geometry that a class draws.
// Layer: circuit. Sees everything above it.
#pragma once

#include <optional>
#include <vector>

namespace skerry::circuit {

/// A mirror at one height over a spherical Earth (core's mean radius), straight rays.
struct HopMirror {
  double height_km = 0;
  double longest_km = 0;  ///< ground length of the hop that leaves along the horizon
};
struct HopRow {
  double distance_km = 0;
  std::optional<double> e_deg, f2_deg;  ///< take-off angle of one hop, 0..90; none: under the horizon
};
struct HopTable {
  HopMirror e, f2;
  std::vector<HopRow> rows;  ///< shortest first; the longest hop of either layer among them, at 0 degrees
};

/// Of the E layer at 110 km (P.533 section 3.2) and an F2 layer at one height. Judgement: rows that tell most
/// where the angle changes most.
///   f2_height_km  200..500 (asserted)
///   accuracy      0.01 degrees against the closed form (tests/circuit/hop_table_test.cpp)
///   source        law of sines in the triangle Earth's centre, station, mirror point; as in ITU-R P.533
///                 section 5.1 and any handbook
inline constexpr double lesson_f2_km = 300;  ///< Judgement: a usual mirror height, between 250 and 400 km
[[nodiscard]] HopTable hop_table(double f2_height_km = lesson_f2_km);

/// Take-off angle of a path in equal hops off a mirror, degrees; none: the Earth is in the way.
///   distance_km > 0, hops >= 1, height_km > 0
[[nodiscard]] std::optional<double> hop_angle_deg(double distance_km, int hops, double height_km);

}  // namespace skerry::circuit
