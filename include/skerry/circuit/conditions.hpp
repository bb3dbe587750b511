// Short-notice disturbances a user can enter: which paths they make unreliable. No decibels are invented.
// Layer: circuit. Sees everything above it.
#pragma once

#include <cstdint>
#include <vector>

#include "skerry/geodesy/path.hpp"

namespace skerry::circuit {

struct Disturbance {
  double kp = 0;         ///< planetary index, 0..9; "disturbed" without a number is 5
  bool flare = false;    ///< a strong X-ray flare is in progress: sunlit paths fade from the low bands up,
                         ///< minutes to an hour or two
  bool protons = false;  ///< a solar proton event: polar paths closed for hours to days
};

/// Largest geomagnetic latitude, of either sign, at steps + 1 places along the path.
[[nodiscard]] double highest_geomagnetic_lat_deg(const geodesy::Path& path, int steps);

/// Geomagnetic latitude down to which the aurora reaches at midnight for a Kp.
/// Source: US Space Weather Prediction Center's public table (from memory): about 2 degrees less a step.
[[nodiscard]] double auroral_edge_deg(double kp);

/// What the disturbance does to this path; empty when it does nothing to it. `lit` per UTC hour: some of the
/// path's D region is in sunlight.
struct Warning {
  enum class Cause : std::uint8_t {
    aurora,   ///< from Kp 4: the path crosses the auroral zone
    low_muf,  ///< from Kp 6: it does not, but MUFs at middle latitudes may fall by a fifth or more
    protons,  ///< the path crosses the polar cap
    flare
  };
  Cause cause = Cause::aurora;
  double kp = 0;
  double highest_deg = 0;  ///< geomagnetic latitude that the path reaches
  double edge_deg = 0;     ///< and down to which the aurora reaches
  bool at_hour[24] = {};
};
[[nodiscard]] std::vector<Warning> warnings(const geodesy::Path& path, const Disturbance& disturbance,
                                            const bool (&lit)[24]);

/// Nearer than this the ground wave is told first, km: the sky-wave method begins here (P.533 scope, from
/// memory).
inline constexpr double sky_wave_from_km = 100;
/// Nearer to the antipode than this, bearings are unstable.
inline constexpr double antipode_limit_km = 600;

/// Where the method is outside its range, or a path at risk on some days.
struct Caution {
  enum class Kind : std::uint8_t {
    near,           ///< the ends are `value` km apart, less than sky_wave_from_km
    antipode,       ///< the far end lies `value` km from the antipode
    low_frequency,  ///< under the method's 2 MHz
    high_latitude   ///< the path reaches `value` degrees of geomagnetic latitude
  };
  Kind kind = Kind::near;
  double value = 0;  ///< whole: cautions that are told alike are equal
  [[nodiscard]] bool operator==(const Caution&) const = default;
};
/// By a path's length, its latitude and the lowest frequency asked about.
[[nodiscard]] std::vector<Caution> method_cautions(const geodesy::Path& path, double lowest_mhz);

}  // namespace skerry::circuit
