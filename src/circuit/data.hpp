// What Circuits keeps for each path: the sky at its control points, and per hour all that no frequency
// changes. Layer: circuit (internal).
#pragma once

#include <array>
#include <cstdint>
#include <vector>

#include "formulas.hpp"
#include "method.hpp"
#include "skerry/circuit/circuit.hpp"
#include "skerry/ionosphere/sky.hpp"
#include "skerry/ionosphere/sporadic_e.hpp"
#include "skerry/sun/position.hpp"

namespace skerry::circuit {

/// A row of Data::sky with its use.
struct Point {
  PointRole role;
  std::int32_t row;
  std::int16_t order;  ///< for half-hop points: the number of hops they belong to; else 0
};

/// The path cut into equal hops: what the sphere makes of one of them, whatever the layer.
struct HopCut {
  double km = 0;
  double sin_half = 0, cos_half = 1;  ///< of half the angle the hop spans at the Earth's centre
};

/// E modes have one mirror height, so that their rays belong to the path and not to the hour.
struct EHop {
  double elevation_deg = 0, slant_km = 0;          ///< slant of the whole path
  double slant_db = 0;                             ///< 32.45 + 20 log10 of slant_km
  double layer_secant = 1, absorption_secant = 1;  ///< of the angle of incidence at 110 and at 100 km
  double whole = 1;  ///< what is left of the mode near the end of its reach, 0..1
};

/// One path at one hour, before any frequency is named.
struct Hour {
  int f2_order = 0;                               ///< n0; 0: no hop method
  double order_share = 0;                         ///< of n0 + 1 as the lowest order, 0..1; 1 does not occur
  std::array<double, method::f2_modes> f2_mhz{};  ///< basic MUF of n0, n0 + 1, ... hops
  std::array<double, method::e_modes> e_mhz{};    ///< basic MUF of e_order, e_order + 1, ... hops
  std::array<MirrorShape, 5> mirrors;             ///< control points of table 1c, of both orders
  std::array<double, 5> mirror_weights{};         ///< their sum is 1
  int mirror_count = 0;
  double screening_foe_mhz = 0;
  double e_index = 0, f2_index = 0;  ///< mean absorption index over the points of table 1d
  double f2_gyro_mhz = 0;            ///< mean at 100 km over the points of table 1d, F2 modes
  double auroral_db = 0;
  double basic_muf_mhz = 0, f2_muf_mhz = 0, e_muf_mhz = 0;
  double long_upper_mhz = 0, long_lower_mhz = 0;
};

/// A way by sporadic E: what of it belongs to the path.
struct EsWay {
  EsRay ray;                           ///< the deciles left to fill in
  std::array<std::int32_t, 2> rows{};  ///< of the hops' middles, in Data::es
  double slant_db = 0;                 ///< 32.45 + 20 log10 of slant_km
  double absorption_secant = 1;        ///< of the angle of incidence at 100 km
};

struct PathData {
  geodesy::Path path;
  Circuits::Horizon horizon;
  std::int32_t from_row = 0, to_row = 0, middle_row = 0;
  std::int32_t from_1000_row = -1, to_1000_row = -1;  ///< -1: none
  std::vector<Point> points;                          ///< middle first
  double middle_geomagnetic_lat_deg = 0;
  double e_gyro_mhz = 0;     ///< mean at 100 km over the points of table 1d, E modes
  double long_gyro_mhz = 0;  ///< mean at 300 km over the long-path control points
  double long_e0_db = 0, long_focus_db = 0, long_elevation_deg = 0, long_slant_km = 0;
  int long_hops = 0;
  int e_order = 0;  ///< fewest hops of E modes; 0: none
  std::array<EHop, method::e_modes> e;
  std::array<EsWay, es_rays> es;
  int es_count = 0;
  std::array<HopCut, method::most_hops + 1> cuts;  ///< by number of hops
  std::vector<float> land;                         ///< per hop count (index): how many bounces lie on land
  std::array<Hour, 24> hours;
};

struct Circuits::Data {
  ionosphere::Climate climate;
  Settings settings;
  ionosphere::Sky sky;            ///< ends, middles and 1000 km points, then half-hop points
  ionosphere::SporadicE es;       ///< at the middles of sporadic E's hops
  double equation_of_time_h = 0;  ///< to turn UTC and longitude into solar time
  std::array<double, 24> sun_x{}, sun_y{},
      sun_z{};  ///< where the Sun stands overhead at each hour, as unit vectors
  std::vector<PathData> paths;
};

/// Which of the two methods a distance asks for; in the blend both.
[[nodiscard]] inline bool by_hops(const Settings& settings, double distance_km) {
  return settings.far == FarMethod::hops || distance_km <= method::long_only_km;
}
[[nodiscard]] inline bool by_limits(const Settings& settings, double distance_km) {
  return settings.far == FarMethod::limits && distance_km > method::hops_only_km;
}

/// The F2 layer's shape at a row of the sky and an hour.
[[nodiscard]] F2Shape shape_at(const ionosphere::Sky& sky, std::int32_t row, int hour);

/// Fills PathData::cuts: the path in 1, 2, ... equal hops.
void cut_into_hops(PathData& path);

/// Fills PathData::land up to `most` hops (1..method::most_hops), unless it is there: how many bounces lie on land.
void mark_land(PathData& path, const Settings& settings, int most);

/// Section 3.5.1: the fewest hops that the middle's layer allows, 1..method::most_lowest_order, and the share of
/// one more: Hour::f2_order and order_share.
struct LowestOrder {
  int hops = 1;
  double next_share = 0;
};
[[nodiscard]] LowestOrder lowest_order(double distance_km, double m3, double dmax_km,
                                       const Settings& settings);

/// Fills all of the hop method in PathData and its hours, whose f2_order is set already.
void prepare_hop_method(PathData& path, const Circuits::Data& data);

/// Fills PathData::long_* and the fM and fL of every hour. Where by_limits().
void prepare_long_path(PathData& path, const Circuits::Data& data);

/// A ray of equal hops mirrored at a height: the elevation with its cosine, and the length of one hop's rays.
/// Source: as elevation_deg and hop_slant_km in formulas.hpp, without a second trip through the trigonometric
/// functions.
struct HopRay {
  double elevation_deg = 0, cos_elevation = 1, slant_km = 0;
};
[[nodiscard]] inline HopRay hop_ray(const HopCut& cut, double height_km) {
  const double r = earth_radius_km;
  const double h = r + height_km;
  const double up = cut.cos_half - r / h;
  HopRay out;
  out.elevation_deg = std::atan2(up, cut.sin_half) * deg_per_rad;
  out.cos_elevation = cut.sin_half / std::sqrt(up * up + cut.sin_half * cut.sin_half);
  out.slant_km = 2 * std::sqrt(r * r + h * h - 2 * r * h * cut.cos_half);
  return out;
}

/// Loss of bounces at one frequency, dB.
class BounceLoss {
 public:
  /// log10_mhz of 1.6..60 MHz
  explicit BounceLoss(double log10_mhz);
  /// Of bounces on average land and on sea together, dB; parts of bounces count; elevation 0..90.
  [[nodiscard]] double operator()(double on_land, double on_sea, double elevation_deg) const;

 private:
  const double* sea_;  ///< two rows of the table, next to each other
  const double* land_;
  double share_;  ///< of the second row
};

}  // namespace skerry::circuit
