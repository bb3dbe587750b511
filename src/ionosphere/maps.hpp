// The numerical maps: functions of place, functions of time, and the coefficients between them.
// Layer: ionosphere, internal.
#pragma once

#include <Eigen/Core>

#include "skerry/geodesy/point.hpp"
#include "skerry/ionosphere/sky.hpp"

namespace skerry::ionosphere::detail {

// Source: ITU-R P.1239 section 2: numbers of functions of place and of time coefficients.
inline constexpr int fof2_functions = 76;
inline constexpr int fof2_times = 13;
inline constexpr int m3000_functions = 49;
inline constexpr int m3000_times = 9;
inline constexpr int hours = 24;

/// What the maps are for one month and activity, per function of place: foF2 at the 24 hours, then M(3000)F2
/// at the 24 hours. The 49 functions of M(3000)F2 are all among the 76 of foF2, so that one product serves
/// both; the rows of the functions M(3000)F2 does not use are zero in its half.
using HourCoefficients = Eigen::Matrix<double, fof2_functions, 2 * hours, Eigen::RowMajor>;

/// month 1..12; the index of each map, limited to 160 inside; under 0 the straight line goes on.
[[nodiscard]] HourCoefficients hour_coefficients(unsigned month, double fof2_index, double m3000_index,
                                                 MapSet maps);

/// The 76 functions G_k of a place, in the order of P.1239 section 2 (constant in longitude first; then for
/// each harmonic of longitude and each power of sin(modip) the cosine and the sine). Arguments in sines and
/// cosines: of the modified dip, of latitude (cosine only) and of longitude.
void place_functions(double sin_modip, double cos_lat, double cos_lon, double sin_lon, double* functions);

// Source: data/foes/SOURCE.md: functions of place of the median; those of the deciles are among them.
inline constexpr int foes_functions = 61;

/// The same for foEs: lower decile, median and upper decile at the 24 hours.
using FoesCoefficients = Eigen::Matrix<double, foes_functions, 3 * hours, Eigen::RowMajor>;

/// month 1..12; r12 >= 0, limited to 180 inside.
[[nodiscard]] FoesCoefficients foes_coefficients(unsigned month, double r12);

/// Its 61 functions of a place, ordered as those of foF2, with other highest powers.
void foes_place_functions(double sin_modip, double cos_lat, double cos_lon, double sin_lon,
                          double* functions);

}  // namespace skerry::ionosphere::detail
