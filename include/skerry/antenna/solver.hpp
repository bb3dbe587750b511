// The current on an antenna's wires over the ground it stands on, and where the power goes.
// Layer: antenna. Sees core.
#pragma once

#include <complex>
#include <span>
#include <string>
#include <vector>

#include "skerry/antenna/ground.hpp"
#include "skerry/antenna/note.hpp"
#include "skerry/antenna/wire.hpp"
#include "skerry/core/result.hpp"

namespace skerry::antenna {

struct SolveOptions {
  /// 10..200. Judgement: see the convergence table in solver_convergence_test.cpp.
  int segments_per_wavelength = 20;
  int min_segments_per_wire = 4;  ///< 2..200
  int max_segments = 3000;        ///< refuse beyond; memory is 16 bytes times its square
};

/// One straight piece of wire and the current along it, positive from `from_m` towards `to_m`; in between
/// (from sin k(l - s) + to sin k s)/sin k l. Amperes rms for 1 W into the antenna terminals.
struct SegmentCurrent {
  Vec3 from_m{}, to_m{};
  double radius_m = 0;
  int wire = 1;  ///< counts from 1
  std::complex<double> from_a, to_a;
};

struct Solution {
  double mhz = 0;
  std::complex<double> feed_ohm;
  std::vector<SegmentCurrent> currents;
  double wire_loss_w = 0;  ///< of 1 W at the terminals: skin effect, and the jacket's dielectric loss
  double load_loss_w = 0;  ///< of 1 W: coils, traps, resistors
  std::vector<double> each_load_loss_w;  ///< in the order of WireAntenna::loads
  /// What the tuned part was set to, and its part of load_loss_w; 0 without one, or where none of its sign
  /// tunes the antenna (a note says so).
  std::complex<double> tuned_ohm;
  double tuned_loss_w = 0;
  int unknowns = 0;
  std::vector<Note> notes;  ///< approximations in force
};

/// Solves the antenna as it is laid out.
///   antenna   1..500 straight wires, radius 0.01..500 mm, length >= 1 cm, within 2000 m of the origin,
///             30 wavelengths across. Ends within 1 mm of another wire are joined to it. Over real ground
///             every point lies at least 1 cm up; over perfect ground an end at z = 0 (within 1 mm) is
///             connected to it. feed.at = 0 or 1: the source sits between the wire's end and whatever is
///             joined there (counterpoise, perfect ground); where nothing is joined it moves one segment
///             in, and a note says so.
///             A tuned part takes the reactance of its sign that leaves none at the feed, at series
///             resonance.
///   mhz       0.1..60
///   returns   the currents for 1 W, the feed impedance, the losses in metal and parts
///   accuracy  at 20 segments per wavelength 3 % of |Z| and 0.05 dB of gain against 160 (most of it the
///             delta-gap source, at high-impedance feeds; solver_convergence_test.cpp); 0.5 % against
///             classical thin wires; the ground's potentials to 3e-4 of the direct field
///             (mom_sommerfeld.hpp). Thin wires: current on the axis, field on the surface; pieces shorter
///             than four radii are not trusted (a note says so).
///   errors    geometry that cannot be solved: not finite, zero length, crossing or coincident wires,
///             buried or touching real ground, too many pieces
///   source    mixed-potential integral equation, Galerkin: Harrington, "Field Computation by Moment
///             Methods", ch. 4; piecewise sinusoids: Richmond, IRE Trans. AP-9, 1961; junctions by
///             overlapping functions: Chao and Strait 1971; ground: Michalski and Zheng 1990
///             (formulation C); jacket: Richmond and Newman, Radio Science 11(1), 1976 (all from memory)
[[nodiscard]] Result<Solution> solve(const WireAntenna& antenna, const Ground& ground, double mhz,
                                     const SolveOptions& options = {});

/// The space that antennas take, from the feet of their supports.
struct Room {
  double width_m = 0;            ///< largest horizontal distance between two points
  double low_m = 0, high_m = 0;  ///< lowest and highest point
};
[[nodiscard]] Room room_of(const WireAntenna& antenna);

/// Computes what solve() will ask about this ground, for antennas of that size: solve() does so itself, but
/// piece by piece when a larger antenna comes. Changes no answer. Thread-safe.
void prepare_ground(const Ground& ground, double mhz, const Room& room);

/// Where the watt goes, and the gain on a regular grid over the upper half-space.
struct FarField {
  double elevation_step_deg = 1;
  double azimuth_step_deg = 10;
  /// [elevation 0..90][azimuth 0..360-step]; power gain, both polarisations; floor -99.
  std::vector<float> gain_dbi;
  double radiated_w = 0;     ///< of 1 W: into the upper half-space (free space: into both)
  double ground_loss_w = 0;  ///< 1 - radiated - wire - loads: what the ground keeps
};

/// What lies further out, where the ground under the antenna is not all there is: a shore, falling ground.
struct Foreground {
  Ground beyond;           ///< the ground beyond a straight shore line; the near ground again: none
  double from_m = 0;       ///< the shore's distance from the origin, >= 0
  double azimuth_deg = 0;  ///< toward the shore, and down the slope
  double slope_deg = 0;    ///< the ground falls (negative: rises) in that direction, -30..30, from z = 0
  bool all_round = false;  ///< the shore is a circle about the origin, not a line, and the ground a cone
};

/// Far field by Fresnel reflection at each elevation (exact for flat ground at infinite distance).
///   steps     divide 90 and 360
///   accuracy  of radiated_w 0.1 % (Gauss points in elevation, chosen by the size of the antenna)
[[nodiscard]] FarField far_field(const Solution& solution, const Ground& ground,
                                 double elevation_step_deg = 1, double azimuth_step_deg = 10);

/// The same over two grounds or a slope, by rays: each piece of current is reflected with the constants of
/// the ground its ray meets, at the angle to the slope there. The currents stay those of level near ground.
///   limits    no diffraction at the shore line (the change with angle is a step, in truth smooth over about
///             sqrt(wavelength * distance)), no second reflection, the slope goes on for ever; rising ground
///             hides what is below it (floor of the gain). Judgement: 2 dB. ground_loss_w is then a remainder
///             of an approximation. Ground kinds real or perfect.
///   source    geometrical optics over a change of ground: Balanis, "Antenna Theory", section 4.8, applied
///             piece by piece (from memory)
[[nodiscard]] FarField far_field(const Solution& solution, const Ground& ground, const Foreground& foreground,
                                 double elevation_step_deg = 1, double azimuth_step_deg = 10);

/// The far field over level ground, then that over each foreground, all from the same moments of the
/// currents.
///   accuracy  moments by great circles 1e-7 of their largest against summing each direction by itself
///             (solver_far_test.cpp); rows whose rays all meet the near ground are those of level ground
[[nodiscard]] std::vector<FarField> far_fields(const Solution& solution, const Ground& ground,
                                               std::span<const Foreground> foregrounds,
                                               double elevation_step_deg = 1, double azimuth_step_deg = 10);

/// Power that goes down through the plane z = 0, of 1 W, found from the fields of the currents and not by
/// subtraction: with radiated_w and the losses it must add up to 1 W. For --explain and tests: milliseconds
/// for wires above 0.5 m, seconds at 0.1 m (it grows as (width/height)^2 of what lies so low).
///   ground    real only; perfect and free space give 0
///   accuracy  0.1 % of 1 W (the balance over five grounds, solver_ground_test.cpp)
///   source    Parseval's theorem on the plane, plane-wave spectrum of the currents (Clemmow, "The Plane Wave
///             Spectrum Representation of Electromagnetic Fields", ch. 2; from memory)
[[nodiscard]] double ground_absorption_w(const Solution& solution, const Ground& ground);

}  // namespace skerry::antenna
