// Numbers the solver's parts share: constants of the vacuum and Gauss's points.
// Layer: antenna, internal to the solver. Sees core.
#pragma once

#include <array>
#include <cstddef>
#include <numbers>

#include "skerry/core/units.hpp"

namespace skerry::antenna::mom {

inline constexpr double pi = std::numbers::pi;

/// Source: CODATA 2018, impedance of free space.
inline constexpr double eta0_ohm = 376.730313668;

/// Judgement: a gain below this is nothing; keeps logarithms finite where the field vanishes. And a ratio
/// below it.
inline constexpr double least_gain_dbi = -99.0;
inline constexpr double least_gain = 1e-10;

/// 2 pi/wavelength, 1/m.
[[nodiscard]] inline double wave_number(double mhz) {
  return 2 * std::numbers::pi * mhz * 1e6 / (light_km_per_s * 1e3);
}

/// Gauss-Legendre on 0..1. Source: Abramowitz and Stegun, table 25.4, mapped from -1..1.
template <std::size_t N>
struct Rule {
  std::array<double, N> at, weight;
};
inline constexpr Rule<2> gauss2{{0.211324865405187, 0.788675134594813}, {0.5, 0.5}};
inline constexpr Rule<3> gauss3{{0.112701665379258, 0.5, 0.887298334620742},
                                {0.277777777777778, 0.444444444444444, 0.277777777777778}};
inline constexpr Rule<4> gauss4{{0.069431844202974, 0.330009478207572, 0.669990521792428, 0.930568155797026},
                                {0.173927422568727, 0.326072577431273, 0.326072577431273, 0.173927422568727}};
inline constexpr Rule<6> gauss6{{0.033765242898424, 0.169395306766868, 0.380690406958402, 0.619309593041598,
                                 0.830604693233132, 0.966234757101576},
                                {0.085662246189585, 0.180380786524069, 0.233956967286346, 0.233956967286346,
                                 0.180380786524069, 0.085662246189585}};
inline constexpr Rule<8> gauss8{{0.019855071751232, 0.101666761293187, 0.237233795041836, 0.408282678752175,
                                 0.591717321247825, 0.762766204958164, 0.898333238706813, 0.980144928248768},
                                {0.050614268145188, 0.111190517226687, 0.156853322938944, 0.181341891689181,
                                 0.181341891689181, 0.156853322938944, 0.111190517226687, 0.050614268145188}};

}  // namespace skerry::antenna::mom
