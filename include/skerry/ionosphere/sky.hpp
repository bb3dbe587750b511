// What the layers are like over a set of places, every hour of a day.
// Layer: ionosphere. Sees core, geodesy and sun.
#pragma once

#include <Eigen/Core>
#include <span>
#include <vector>

#include "skerry/geodesy/point.hpp"
#include "skerry/ionosphere/climate.hpp"
#include "skerry/ionosphere/layers.hpp"

namespace skerry::ionosphere {

/// n places x 24 whole UTC hours (column h is h:00 UT). Row-major, so that one place's day is contiguous.
using HourTable = Eigen::Array<double, Eigen::Dynamic, 24, Eigen::RowMajor>;

struct Sky {
  std::vector<GeoPoint> places;
  HourTable fof2_mhz;    ///< >= 0.5, a floor the maps hardly ever touch
  HourTable m3000f2;     ///< 1.5..4.5
  HourTable foe_mhz;     ///< >= 0.37 (the formula's own floor)
  HourTable zenith_deg;  ///< of the Sun, geometric
  // Per place, not per hour:
  Eigen::ArrayXd modip_deg;    ///< at 300 km
  Eigen::ArrayXd dip100_deg;   ///< magnetic dip at 100 km
  Eigen::ArrayXd gyro100_mhz;  ///< electron gyrofrequency at 100 km (absorption)
  Eigen::ArrayXd gyro300_mhz;  ///< at 300 km (MUF)
  [[nodiscard]] Eigen::Index size() const { return modip_deg.size(); }
};

/// One matrix product for both maps, all places and hours; all cores on large sets. MUF(3000)F2 without the
/// gyrofrequency term is foF2 * M(3000)F2.
///   places    any number, none included; a place's result does not depend on its neighbours (but for
///             rounding, 1e-9)
///   accuracy  of the sums: 1e-5 MHz. Against a reference ionosphere on the same maps, 98 496 cases: foF2
///             rms 0.02, worst 0.17 MHz, M(3000)F2 rms 0.002, worst 0.013, both from latitude taken as
///             geocentric; foE rms 0.007 MHz with the Sun above 15 deg, 0.12 below, 0.23 at night, where the
///             formulas differ. The maps scatter about measured medians by some 10-15 % in foF2 (from
///             memory), a single day about its median by as much again
///   limits    medians of quiet months; no sporadic E, no storms; months do not blend into each other (a
///             step on the 1st). Oceans and polar latitudes rest on few stations.
///   cost      one place 0.05 ms, 16 200 places 26 ms, 160 000 about 0.25 s on two busy cores
///             (tests/bench/ionosphere_bench.cpp)
///   source    ITU-R P.1239 sections 2-4 (maps, foE), P.371 (solar flux); IGRF for the field
[[nodiscard]] Sky sky(std::span<const GeoPoint> places, const Climate& climate);

}  // namespace skerry::ionosphere
