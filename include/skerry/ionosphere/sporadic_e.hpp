// How strong sporadic E is over a set of places, every hour of a day: not a value but the deciles of a month's days.
// Layer: ionosphere. Sees core, geodesy and sun.
#pragma once

#include <span>

#include "skerry/geodesy/point.hpp"
#include "skerry/ionosphere/climate.hpp"
#include "skerry/ionosphere/sky.hpp"

namespace skerry::ionosphere {

/// foEs that nine days in ten, every second day, and one day in ten reach or exceed, MHz.
struct Foes {
  double lower_mhz = 0, median_mhz = 0, upper_mhz = 0;
};

struct SporadicE {
  HourTable lower_mhz, median_mhz, upper_mhz;  ///< 0.5 <= lower <= median <= upper
  [[nodiscard]] Foes at(Eigen::Index place, int utc_hour) const {
    return {lower_mhz(place, utc_hour), median_mhz(place, utc_hour), upper_mhz(place, utc_hour)};
  }
};

/// Deciles of foEs (ordinary wave) of the month at n places x 24 whole UTC hours, by one matrix product.
///   places    any number, none included; a place's result does not depend on its neighbours (but for
///             rounding)
///   climate   of it the month, R12 (0 to 180, held above) and the year of the magnetic field
///   accuracy  of the sums: 0.01 MHz against the maps' own package, modified dip given (measured, 1 200
///             places). Of the maps: drawn from ionosonde stations of 1954-1964, few over the oceans and in the
///             south (from memory)
///   limits    by day the maps contain the ordinary E layer, as an ionosonde cannot tell them apart: of the two
///             take the better, never the sum. Near the magnetic equator the daytime values are those of a
///             scattering layer that oblique rays make little of. The three maps were fitted one by one:
///             where the deciles cross (1 to 4 % of places and hours) they are moved to the median
///   cost      about 1.3 us a place and day of 24 hours on one core (tests/bench/ionosphere_bench.cpp)
///   source    Leftin, Ostrow and Preston 1968; Bradley 2003 (data/foes/SOURCE.md)
[[nodiscard]] SporadicE sporadic_e(std::span<const GeoPoint> places, const Climate& climate);

}  // namespace skerry::ionosphere
