// What stands around a place: skyline, the slope underfoot, where the sea begins.
// Layer: terrain. Sees geodesy.
#pragma once

#include <optional>
#include <vector>

#include "skerry/geodesy/surroundings.hpp"
#include "skerry/terrain/terrain.hpp"

namespace skerry::terrain {

/// The air bends waves down by a quarter of the Earth's own bend: geometry on a sphere this much larger is straight.
/// Source: Rec. ITU-R P.310 (effective radius factor) and P.834: k = 4/3 of a standard atmosphere (from memory).
inline constexpr double effective_earth = 4.0 / 3;

/// From where one looks, and how far.
struct View {
  /// Above the ground. Judgement: the middle of what a light mast carries.
  double eye_m = 5;
  /// Judgement: beyond, a summit of 2000 m stands 2 degrees high at most.
  double reach_km = 50;
  int azimuths = 360;  ///< evenly from north on, 4..3600
};

/// Where the sea begins in one direction.
struct Shore {
  double from_m = 0;   ///< > 0
  double open_km = 0;  ///< and goes on for, as far as was looked
};
// The first Fresnel zone of a 20 m wave that leaves at 5 degrees from an antenna 10 m up ends 3 km out; a lagoon or an
// inlet that is shorter makes no sea. Source: reflection from flat ground, far end of the zone where the reflected ray
// is half a wavelength longer (from memory). Judgement: that wave and angle.
inline constexpr double open_sea_km = 3;
/// As far as a trip may say it (sea_from_m).
inline constexpr double furthest_shore_km = 20;

/// Azimuth by azimuth, View::azimuths of each.
struct Around {
  double ground_m = 0;                    ///< above the sea, of the files
  bool known = false;                     ///< the files have that place
  std::vector<geodesy::Skyline> skyline;  ///< from 100 m outwards; degrees -5..85, of the sea's horizon too
  std::vector<double> fall_deg;  ///< of the ground nearer than that, -30..30, negative where it rises
  std::vector<std::optional<Shore>> shore;
  /// Of the i-th of each.
  [[nodiscard]] double azimuth_deg(std::size_t i) const;
  [[nodiscard]] geodesy::Horizon horizon() const;
};

/// Along each azimuth as WGS84 has it, the sphere under it effective_earth times larger.
///   accuracy  of the skyline 0.02 degrees against a search of every other metre (measured, `test_terrain "[exhaustive]"`);
///             of the ground in the files, whatever they promise
///   time      Measured: bench_terrain; all cores, or one
[[nodiscard]] Around around(const Terrain& terrain, GeoPoint at, const View& view = {});

/// The same in the few numbers that a trip is told, rounded as they are written: `horizon` holds within
/// `within_deg`, and distances within a factor of two; falls stand in steps of 4 degrees (6, 8 or 12 where there would
/// be too many), the sea's distance in steps of 1, 2, 5, 10 m and so on, from 10 m. Ground does not rise more steeply than
/// the skyline behind it stands: a slope is taken to go on for ever.
[[nodiscard]] geodesy::Surroundings in_few_numbers(const Around& around, double within_deg = 0.3);

}  // namespace skerry::terrain
