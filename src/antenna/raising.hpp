// What raising has in common for all kinds: cut lengths, drawn wires, radials, masts.
// Layer: antenna, inside. Sees core and the antenna headers.
#pragma once

#include <variant>

#include "shapes.hpp"

namespace skerry::antenna {

using Answer = std::variant<Raised, Note>;

// Judgement: this share of a half wave off a whole number still works without a tuner; on high harmonics 3 %
// of the frequency, which is the same thing on the second.
inline constexpr double resonance_slack = 0.06;
// Judgement: a whip at least this thick is a rod and carries itself.
inline constexpr double rod_radius_mm = 1.5;

[[nodiscard]] double wavelength_m(double mhz);
/// So many half waves as practice cuts them for this wire.
[[nodiscard]] double cut_m(const Design& design, double mhz, double half_waves);
[[nodiscard]] double lowest_band_mhz(const Design& design, double mhz);
[[nodiscard]] Wire wire_of(const Design& design, const Vec3& from, const Vec3& to);
/// The path's wires and the feed.
[[nodiscard]] Raised draw(const Design& design, Shape shape, Path path);
[[nodiscard]] PathOrReason hang(Shape shape, const Hang& wire, const Support& support);
/// This kind of antenna does not hang so; lacks a length or its radials.
[[nodiscard]] Note wrong_shape(const Design& design, Shape shape);
[[nodiscard]] Note lacking(NoteKind what, const Design& design);
/// Height at which radials begin.
[[nodiscard]] double radial_height(const Design& design);
/// Evenly round from the east, from (foot_x_m, 0, base) of that length, to `end_m` up.
void add_radials(const Design& design, double length_m, double end_m, Raised& out, double foot_x_m = 0);

/// The conductive support as a wire among the antenna's.
void add_mast(const Design& design, const Support& support, Raised& out);

[[nodiscard]] Answer raise_quarter(const Design& design, Shape shape, const Support& support, double mhz);
[[nodiscard]] Answer raise_loaded(const Design& design, Shape shape, const Support& support, double mhz);
[[nodiscard]] Answer raise_whip(const Design& design, Shape shape, double mhz);
[[nodiscard]] Answer raise_dipole(const Design& design, Shape shape, const Support& support, double mhz);
[[nodiscard]] Answer raise_end_fed(const Design& design, Shape shape, const Support& support, double mhz);
[[nodiscard]] Answer raise_beam(const Design& design, Shape shape, const Support& support, double mhz);
[[nodiscard]] Answer raise_loop(const Design& design, Shape shape, const Support& support, double mhz);

}  // namespace skerry::antenna
