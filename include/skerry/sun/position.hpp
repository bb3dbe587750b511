// Where the Sun stands.
// Layer: sun. Sees core and geodesy.
#pragma once

#include "skerry/core/time.hpp"
#include "skerry/geodesy/point.hpp"

namespace skerry::sun {

struct Position {
  double declination_deg = 0;
  double equation_of_time_min = 0;  ///< apparent minus mean solar time
  GeoPoint subsolar;                ///< where the Sun is overhead
};

/// The Sun as seen from the Earth's centre, apparent place of date.
///   when       1950-2050 for the accuracy below (fades slowly outside)
///   accuracy   0.005 deg in any direction, 0.002 in declination, 0.02 min in the equation of time (measured
///              against IAU 2006 models at 3000 random moments; tests/sun/authorities holds 300 of an
///              independent library)
///   cost       about 0.2 us (tests/bench/sun_bench.cpp)
///   source     Meeus, Astronomical Algorithms, 2nd ed., ch. 25, low-accuracy method, with the five largest
///              perturbations of his earlier book and the equation of the equinoxes
[[nodiscard]] Position position(UtcTime when);

/// Geometric zenith angle of the Sun's centre, no refraction, no parallax (at most 0.0024 deg): from 0
/// overhead to 180 underfoot, 90 the true horizon. Never NaN for a checked place; at a pole the longitude has
/// no effect.
[[nodiscard]] double zenith_deg(GeoPoint where, UtcTime when);
/// The same from a position computed once (grids).
[[nodiscard]] double zenith_deg(GeoPoint where, const Position& sun);
[[nodiscard]] double elevation_deg(GeoPoint where, UtcTime when);
/// Clockwise from north, 0 <= azimuth < 360. At a pole "north" is the meridian of the place's longitude; with
/// the Sun exactly overhead any value may come back.
[[nodiscard]] double azimuth_deg(GeoPoint where, UtcTime when);

/// Mean-sun-free local hour: local apparent solar time in hours, 0..24, 12 when the Sun crosses the meridian.
[[nodiscard]] double solar_hour(GeoPoint where, UtcTime when);

}  // namespace skerry::sun
