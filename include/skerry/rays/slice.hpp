// The layers over one great circle as a ray meets them: how dense at each height and distance, and how that changes.
// Layer: rays. Sees core, geodesy and ionosphere.
#pragma once

#include <vector>

#include "skerry/geodesy/path.hpp"
#include "skerry/ionosphere/sky.hpp"

namespace skerry::rays {

/// E layer: peak and half thickness, km. Source: Bradley and Dudeney, J. Atmos. Terr. Phys. 35 (1973) (from memory).
inline constexpr double e_peak_km = 110, e_half_km = 20;
/// Nothing bends a ray below this height, km.
inline constexpr double base_km = e_peak_km - e_half_km;

/// Density over one place, as squares of plasma frequencies: an E layer, a straight rise from its peak to where the F2
/// layer has 1.7 foE, an F2 layer; both layers quasi-parabolic, the upper side of F2 like its lower side.
struct Layers {
  double e_mhz2 = 0;      ///< foE squared
  double f2_mhz2 = 0;     ///< foF2 squared, > 0
  double peak_km = 300;   ///< hmF2
  double half_km = 85;    ///< ymF2
  double joint_km = 200;  ///< where the rise meets the F2 layer, e_peak_km < joint_km < peak_km
};

/// hmF2 of the maps' M(3000)F2, km.
///   fof2_mhz, foe_mhz  > 0; m3 1.5..4.5; r12 any
///   returns   at least 150
///   accuracy  over a layer that is alike everywhere, the MUF(3000) traced is foF2 M(3000)F2 within 5 % where foF2 is 2.5 foE
///             or more (tests/rays); the other published form, Dudeney 1983, within 25 km
///   source    Bradley and Dudeney 1973, with the sunspot term of ITU-R P.533 section 5.1.2 (both from memory)
[[nodiscard]] double f2_peak_km(double fof2_mhz, double foe_mhz, double m3, double r12);

/// The layers over one place; fof2_mhz, foe_mhz > 0.
[[nodiscard]] Layers layers(double fof2_mhz, double foe_mhz, double m3, double r12);
/// The same from an F2 layer's own measures, km; e_mhz2 >= 0, peak_km over 130, half_km < peak_km - 20.
[[nodiscard]] Layers joined(double e_mhz2, double f2_mhz2, double peak_km, double half_km);

/// Layers at even distances along a way, linear between; beyond either end as at that end.
class Slice {
 public:
  /// One place's layers everywhere.
  explicit Slice(const Layers& everywhere) : at_{everywhere} {}
  /// at: one or more; step_km > 0
  Slice(std::vector<Layers> at, double step_km);

  /// As seen from the point at `km`, looking back.
  [[nodiscard]] Slice reversed(double km) const;

  /// Where a ray may be: below all, in one of the parts of the profile, over all.
  enum class Part { below, e, rise, f2, above };
  /// Height at which a part begins at a distance, km; 0 for `below`.
  [[nodiscard]] double floor_km(Part part, double at_km) const;
  /// Square of the plasma frequency, MHz^2, with its change per km upwards and along the ground. A part's law is
  /// carried on beyond its borders, so that a step across one stays smooth.
  struct Density {
    double mhz2 = 0, per_km_up = 0, per_km_along = 0;
  };
  [[nodiscard]] Density density(Part part, double radius_km, double at_km) const;
  [[nodiscard]] Layers at(double at_km) const;

 private:
  struct Between;
  [[nodiscard]] Between between(double at_km) const;
  [[nodiscard]] static Layers mixed(const Between& b);
  std::vector<Layers> at_, change_;  ///< change_: from one to the next, per km; empty for one place
  double step_km_ = 0, start_km_ = 0;
};

/// The sky of a day over a way and beyond its far end, computed once.
struct Along {
  ionosphere::Sky sky;
  double step_km = 100, r12 = 0;
};
/// beyond_km: how much further than path.to, >= 0.
[[nodiscard]] Along along(const geodesy::Path& path, const ionosphere::Climate& climate, double beyond_km);
/// Its layers at an hour 0..23 UTC.
[[nodiscard]] Slice slice(const Along& along, int hour);

}  // namespace skerry::rays
