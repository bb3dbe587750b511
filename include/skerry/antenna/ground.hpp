// Earth, rock and sea as electrical media, and what they reflect.
// Layer: antenna. Sees core.
#pragma once

#include <complex>
#include <string>
#include <string_view>
#include <vector>

#include "skerry/core/result.hpp"

namespace skerry::antenna {

enum class GroundKind { free_space, perfect, real };

struct Ground {
  GroundKind kind = GroundKind::real;
  double eps_r = 13;             ///< relative permittivity, 1..100
  double sigma_s_per_m = 0.005;  ///< conductivity, 0..10
  std::string name = "average";
};

/// A preset by name or by one of its other names ("rocky", "lava", "salt"); letter case ignored: sea,
/// fresh-water, wet, good, average, medium-dry, poor (rocky, mountainous), sand, rock (bare rock, lava,
/// summit), very-dry, ice, perfect, free.
///   source   data/ground/ground.toml (ITU-R P.527-3 classes and handbook values)
///   limits   constants do not vary with frequency: right to about 30 MHz (P.527-3)
///   errors   an unknown word, with all names and the nearest one
[[nodiscard]] Result<Ground> find_ground(std::string_view name, const Where& where);
/// The presets sea and average, for what lies along a way.
[[nodiscard]] const Ground& sea();
[[nodiscard]] const Ground& average_land();

/// eps_r - j sigma/(2 pi f eps0), time factor exp(+j w t). For a real ground; mhz > 0.
///   source   ITU-R P.527
[[nodiscard]] std::complex<double> complex_permittivity(const Ground& ground, double mhz);

/// Fresnel coefficients at elevation (grazing) angle: vertical (TM, of the magnetic field) and horizontal
/// (TE, of the electric field) polarisation. perfect: +1, -1; free: 0, 0.
///   elevation_deg  0 to 90; at 0 both are -1 over a real ground
///   source         plane-wave reflection at a half space: Jordan and Balmain, Electromagnetic Waves and
///                  Radiating Systems, 2nd ed., ch. 16 (from memory)
///   accuracy       rounding only
struct Fresnel {
  std::complex<double> vertical, horizontal;
};
[[nodiscard]] Fresnel fresnel(const Ground& ground, double elevation_deg, double mhz);

/// Loss of one ground reflection of a wave of mixed polarisation, -10 log((|Rv|^2+|Rh|^2)/2), dB >= 0; 300 in
/// free space, where nothing comes back.
///   source   mean power of the two polarisations (a wave down from the ionosphere carries both)
[[nodiscard]] double reflection_loss_db(const Ground& ground, double elevation_deg, double mhz);

}  // namespace skerry::antenna
