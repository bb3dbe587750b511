// The Earth's magnetic field.
// Layer: ionosphere. Sees core and geodesy.
#pragma once

#include "skerry/geodesy/point.hpp"

namespace skerry::ionosphere {

struct Field {
  double north_nt = 0, east_nt = 0, down_nt = 0;
  [[nodiscard]] double total_nt() const;
  [[nodiscard]] double dip_deg() const;  ///< -90..90, positive where the field points down (north)
  /// fH = e B / (2 pi m) = 2.799249e-5 MHz per nT.
  [[nodiscard]] double gyro_mhz() const;
};

/// IGRF-14 to degree 13 on the geocentric sphere of radius 6371.2 + height_km, geographic latitude taken as
/// geocentric (up to 0.2 deg of position).
///   height_km  above -1000 (asserted); meant for 0..1000
///   epoch      years, 1900..2030 (asserted), linear between the 5-year sets; 2030 is a forecast
///   accuracy   of the sum: 0.001 nT, against two libraries; of latitude taken as geocentric: under 0.25 deg
///              in dip and 0.75 % in strength (measured); of the model some 100 nT (crustal field; from
///              memory)
///   limits     at a pole "north" is the meridian of the place's longitude
///   cost       0.4 us (tests/bench/ionosphere_bench.cpp); thread-safe, coefficients kept per thread and
///              epoch
[[nodiscard]] Field field(GeoPoint where, double height_km, double epoch);

/// Modified dip atan(dip / sqrt(cos lat)) with dip in radians at 300 km (Rawer), degrees; +-90 at the poles.
/// epoch as in field().
[[nodiscard]] double modip_deg(GeoPoint where, double epoch);

/// Centred-dipole latitude for the auroral table of P.533 (pole 78.5 N 68.2 W, the table's own), -90..90.
[[nodiscard]] double geomagnetic_lat_deg(GeoPoint where);

}  // namespace skerry::ionosphere
