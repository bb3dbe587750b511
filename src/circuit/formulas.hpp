// The circuit method's formulas, one by one, as they stand in the Recommendation.
// Layer: circuit (internal).
// Method: ITU-R P.533-14 (08/2019) and P.1240. The body of the Recommendation was not at hand: formulas are
// from memory, checked numerically for end values and continuity (tests/circuit). Section numbers are those
// of its table of contents.
#pragma once

#include <algorithm>
#include <cmath>

#include "method.hpp"
#include "skerry/core/units.hpp"

namespace skerry::circuit {

/// Mirror height of the E layer, km. Source: P.533 section 3.2.
inline constexpr double e_height_km = 110;

/// Elevation of a hop of ground length `hop_km` mirrored at `height_km`, degrees; negative when the Earth is
/// in the way. Source: P.533 section 5.1 (plane geometry of a spherical Earth, exact). hop 0 gives 90.
[[nodiscard]] inline double elevation_deg(double hop_km, double height_km) {
  const double t = hop_km / (2 * earth_radius_km);
  return std::atan2(std::cos(t) - earth_radius_km / (earth_radius_km + height_km), std::sin(t)) * deg_per_rad;
}

/// Secant of the angle of incidence at a height for a ray leaving at an elevation. Source: geometry, exact.
[[nodiscard]] inline double incidence_secant(double cos_elevation, double height_km) {
  const double s = earth_radius_km * cos_elevation / (earth_radius_km + height_km);
  return 1.0 / std::sqrt(std::max(1e-12, 1.0 - s * s));
}

/// Length of the straight mirror rays of one hop, km. Source: P.533 section 5.2.2. At hop 0: twice the
/// height.
[[nodiscard]] inline double hop_slant_km(double hop_km, double height_km) {
  const double t = hop_km / (2 * earth_radius_km);
  const double r = earth_radius_km;
  const double h = r + height_km;
  // Law of cosines in the triangle centre - end - mirror point: equal to 2 R0 sin t / cos(elevation + t),
  // without its 0/0 overhead.
  return 2 * std::sqrt(r * r + h * h - 2 * r * h * std::cos(t));
}

/// The F2 layer at a place and hour, as its MUF depends on hop length. Source: P.533 section 3.5.1.1.
struct F2Shape {
  double fof2_mhz = 0, gyro_mhz = 0;
  double b = 1;           ///< MUF(3000) over foF2, without the gyrofrequency term
  double dmax_km = 4000;  ///< longest single hop; not capped here
  double inverse_c3000 = 1;
};

/// Cd of section 3.5.1.1: 0 at hop 0, 1 at hop dmax.
[[nodiscard]] inline double hop_factor(double hop_km, double dmax_km) {
  const double z = 1 - 2 * std::min(hop_km, dmax_km) / dmax_km;
  return 0.74 + z * (-0.591 + z * (-0.424 + z * (-0.090 + z * (0.088 + z * (0.181 + z * 0.096)))));
}

/// fof2, foe > 0 MHz; m3 = M(3000)F2, 1.5..5; gyrofrequency at 300 km.
[[nodiscard]] F2Shape f2_shape(double fof2_mhz, double foe_mhz, double m3, double gyro_mhz);

/// Basic MUF of one F2 hop, MHz. hop 0: foF2 + fH/2. Beyond dmax: the value at dmax.
[[nodiscard]] inline double f2_muf(const F2Shape& f2, double hop_km) {
  const double d = std::min(hop_km, f2.dmax_km);
  return (1 + hop_factor(d, f2.dmax_km) * f2.inverse_c3000 * (f2.b - 1)) * f2.fof2_mhz +
         f2.gyro_mhz / 2 * (1 - d / f2.dmax_km);
}

/// F2 mirror height for any frequency and hop at a place and hour. Source: P.533 section 5.1.2 (three cases).
struct MirrorShape {
  double fof2_mhz = 0, x = 0, h_km = 0;  ///< x = foF2/foE, h = H
  double low_share = 0;                  ///< 0..1 of the case x <= 3.33: base + slope * hop
  double base_km = 0, slope = 0;
};
[[nodiscard]] MirrorShape mirror_shape(double fof2_mhz, double foe_mhz, double m3, double r12);
[[nodiscard]] double mirror_height_km(const MirrorShape& shape, double mhz, double hop_km);

/// The same in two steps: what the frequency makes of the layer, then the height for any hop.
struct MirrorAt {
  double low_share = 0, low_base_km = 0, low_slope = 0;  ///< as in MirrorShape
  enum class Case { above_critical, below_critical } which = Case::above_critical;
  double base_km = 0;    ///< A
  double change_km = 0;  ///< B
  double start_km = 0;   ///< above_critical: ds
  double per_km = 0;     ///< above_critical: decay per km; below_critical: df per km of hop
};
[[nodiscard]] MirrorAt mirror_at(const MirrorShape& shape, double mhz);
[[nodiscard]] double mirror_height_km(const MirrorAt& at, double hop_km);

/// Share of days on which a layer carries a frequency, 0..1. Source: P.533 section 3.6: 0.9 at lower*fb, 0.5
/// at fb, 0.1 at upper*fb.
[[nodiscard]] inline double support_probability(double mhz, double basic_muf_mhz, double lower_factor,
                                                double upper_factor) {
  using namespace method;
  if (mhz < basic_muf_mhz) {
    const double below = (basic_muf_mhz - mhz) / (basic_muf_mhz * (1 - lower_factor));
    return std::min(1.0, share_most - share_slope / (1 + below));
  }
  const double above = (mhz - basic_muf_mhz) / (basic_muf_mhz * (upper_factor - 1));
  return std::max(0.0, share_slope / (1 + above) - share_least);
}

/// Absorption indices of the D region, dimensionless. Sources: Lucas and Haydon 1966; CCIR Report 252-2.
[[nodiscard]] inline double absorption_index_sun(double r12, double zenith_deg) {
  using namespace method;
  if (zenith_deg >= index_last_zenith_deg) return 0;
  return (1 + index_per_sunspot * r12) *
         std::pow(std::max(0.0, cos_deg(index_zenith_share * zenith_deg)), index_power);
}
[[nodiscard]] inline double absorption_index_foe(double foe_mhz) {
  using namespace method;
  return std::max(0.0, index_foe_least + std::exp(index_foe_offset + index_foe_per_mhz * foe_mhz));
}

}  // namespace skerry::circuit
