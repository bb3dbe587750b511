// Where a ray goes: traced through the layers over a great circle, hop by hop; the fan of all rays; those that arrive.
// Layer: rays. Sees core, geodesy and ionosphere.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "skerry/rays/slice.hpp"

namespace skerry::rays {

enum class Ending : std::uint8_t {
  landed,   ///< on the ground again
  escaped,  ///< through all layers
  far       ///< further than was asked, or caught between the layers
};

/// A ray and where it has come to. At the start: on the ground at 0 km.
struct Ray {
  double elevation_deg = 0;  ///< as it left, 0..90
  Ending ending = Ending::landed;
  int hops = 0;            ///< hops begun
  double ground_km = 0;    ///< where it came down last, along the ground
  double arrival_deg = 0;  ///< elevation at which it comes down; the way back leaves at it
  double group_km = 0;     ///< length by the time that a signal takes
  double apex_km = 0;      ///< highest so far
  double first_apex_km = 0, first_apex_at_km = 0;  ///< of the first hop
  int e_hops = 0;                                  ///< hops turned by the E layer
  /// Tops; more than hops where it is bent up again without having touched the ground.
  int turns = 0;
};

/// A place of a ray, for drawing.
struct RayPoint {
  double at_km = 0, up_km = 0;
};

/// One hop more, from where the ray came down, reflected as by a mirror. Allocates nothing unless `drawn`.
///   ray       fresh with its elevation, or landed (asserted)
///   mhz       > 0
///   far_km    rays that come so far along the ground are given up
///   drawn     its places are put at the end, if wanted
///   source    J. Haselgrove, "Ray theory and a new method for ray tracing", Physics of the Ionosphere (1955): the equations
///             without field or collisions, in polar coordinates (from memory); Runge-Kutta of fourth order
///   accuracy  ground distance against the closed form of a quasi-parabolic layer: 0.1 km; n r cos(elevation), which such a
///             layer keeps, to 1e-6 of it (tests/rays)
///   cost      30 us a hop
void hop(const Slice& slice, double mhz, double far_km, Ray& ray, std::vector<RayPoint>* drawn = nullptr);
/// The whole ray: `hops` hops, or as many as it takes until it does not land. elevation_deg 0..90, hops >= 1.
[[nodiscard]] Ray trace(const Slice& slice, double mhz, double elevation_deg, int hops, double far_km,
                        std::vector<RayPoint>* drawn = nullptr);

/// Elevations of a fan, degrees, rising: 0.1 and 0.5, half degrees to 20, whole to 40, two to 80, then to 89.5.
[[nodiscard]] const std::vector<double>& fan_elevations();

/// Nearest place where a ray of one hop comes down: inside it is the skip zone.
struct Skip {
  double km = 0, elevation_deg = 0;
};
/// One hop of every elevation.
struct Fan {
  std::vector<Ray> rays;
  std::optional<Skip> skip;  ///< none: nothing comes down, or the steepest ray does
};
[[nodiscard]] Fan fan(const Slice& slice, double mhz, double far_km);

/// A ray that comes down at a distance.
struct Arrival {
  Ray ray;
  bool high = false;  ///< the ray that passes near the layer's peak (Pedersen's); weaker
};
/// All rays of 1 to `hops` hops that come down at `km` (to 0.5 km), by hops and elevation. km > 0, hops >= 1.
///   limits    two rays nearer together than the fan's elevations may both be missed, except at the skip distance
///   cost      a hundred rays of `hops` hops
[[nodiscard]] std::vector<Arrival> arrivals(const Slice& slice, double mhz, double km, int hops);

/// Highest frequency at which a ray of one hop comes down at `km`, MHz; the layers' own, without the field.
[[nodiscard]] double muf_mhz(const Slice& slice, double km);

}  // namespace skerry::rays
