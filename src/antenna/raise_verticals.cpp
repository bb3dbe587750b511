// Antennas that stand upright on radials: quarter waves, loaded ones, whips on a tripod.
#include <algorithm>
#include <cmath>

#include "raising.hpp"

namespace skerry::antenna {

namespace {

double radial_end(const Design& design, double otherwise_m) {
  return design.radial_end_height_m.value_or(otherwise_m);
}

/// Counterpoise wires of a short vertical: as long as said, else a quarter wave.
double return_length_m(const Design& design, double mhz) {
  if (design.counterpoise_m > 0) return design.counterpoise_m;
  return design.radial_m > 0 ? design.radial_m : cut_m(design, mhz, 0.5);
}

/// A coil where the upright is short of a quarter wave.
void add_coil(const Design& design, double at, Raised& out) {
  TunedPart coil;
  // The upright is drawn first; a bent top is its second wire.
  coil.wire = 1;
  coil.at = at;
  coil.q = design.coil_q;
  out.antenna.tuned = coil;
}

}  // namespace

Answer raise_quarter(const Design& design, Shape shape, const Support& support, double mhz) {
  if (shape != Shape::vertical && shape != Shape::inverted_l) {
    return wrong_shape(design, shape);
  }
  if (design.radials < 1) return lacking(NoteKind::no_radial, design);
  const double length = design.wire_m > 0 ? design.wire_m : cut_m(design, mhz, 0.5);
  const double added = design.wire_m > 0 ? 0 : std::max(0.0, length * (1 - 1 / design.trim));
  const double quarters = length / cut_m(design, mhz, 0.5);
  const bool resonant = std::abs(quarters - 1.0) <= resonance_slack;
  if (!resonant && !design.needs_tuner) {
    return Note{NoteKind::not_a_quarter_wave, length, mhz, quarters};
  }
  const PathOrReason path = hang(shape, {length, true, added, radial_height(design)}, support);
  if (const auto* why = std::get_if<Note>(&path)) return *why;
  Raised out = draw(design, shape, std::get<Path>(path));
  out.needs_tuner = !resonant;
  add_radials(design, design.radial_m > 0 ? design.radial_m : cut_m(design, mhz, 0.5),
              radial_end(design, radial_height(design)), out);
  return out;
}

Answer raise_loaded(const Design& design, Shape shape, const Support& support, double mhz) {
  if (shape != Shape::vertical) return wrong_shape(design, shape);
  if (design.wire_m <= 0) return lacking(NoteKind::no_length, design);
  if (design.radials < 1) return lacking(NoteKind::no_radial, design);
  const double base = radial_height(design);
  if (design.wire_m > cut_m(design, mhz, 0.5))
    return Note{NoteKind::whip_too_long, design.wire_m, mhz, design.wire_m / wavelength_m(mhz)};
  Path path;
  if (design.wire_radius_mm >= rod_radius_mm) {
    path.corners = {{0, 0, base}, {0, 0, base + design.wire_m}};
  } else {
    PathOrReason found = hang_vertical({design.wire_m, true, 0, base}, support);
    if (const auto* why = std::get_if<Note>(&found)) return *why;
    path = std::get<Path>(std::move(found));
  }
  Raised out = draw(design, shape, std::move(path));
  if (design.hat_m > 0) {
    const Vec3 top = out.antenna.wires.front().to_m;
    for (const double side : {-1.0, 1.0}) {
      out.antenna.wires.push_back(wire_of(design, top, {0, side * design.hat_m, top[2]}));
    }
    out.notes.push_back({NoteKind::hat, design.hat_m});
  }
  add_radials(design, return_length_m(design, mhz), radial_end(design, base), out);
  add_coil(design, std::clamp(design.coil_at, 0.0, 0.95), out);
  return out;
}

Answer raise_whip(const Design& design, Shape shape, double mhz) {
  if (shape != Shape::vertical) return wrong_shape(design, shape);
  if (design.wire_m <= 0) return lacking(NoteKind::no_length, design);
  if (design.radials < 1) return lacking(NoteKind::no_radial, design);
  Design rod = design;
  rod.insulated = false;
  const double quarter = cut_m(rod, mhz, 0.5);
  const double length = std::min(design.wire_m, quarter);
  const double base = radial_height(design);
  Path path;
  path.corners = {{0, 0, base}, {0, 0, base + length}};
  Raised out = draw(rod, shape, std::move(path));
  Design wires = design;
  wires.wire_radius_mm = std::min(design.wire_radius_mm, 0.5);  // its radials are wire
  add_radials(wires, return_length_m(design, mhz), radial_end(design, 0), out);
  if (length < (1.0 - resonance_slack) * quarter) {
    add_coil(design, 0, out);
  } else {
    out.notes.push_back({NoteKind::drawn_out, length});
  }
  return out;
}

}  // namespace skerry::antenna
