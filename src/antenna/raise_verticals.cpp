// Antennas that stand upright on radials: quarter waves, loaded ones, whips on a tripod.
#include <algorithm>
#include <cmath>

#include "raising.hpp"
#include "skerry/core/units.hpp"

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

// Judgement: nearer to upright than this nobody sees that it leans; flatter it is no vertical any more.
constexpr double steepest_lean_deg = 80, flattest_lean_deg = 25;

/// Aslant from the foot, out towards the east, up to the support: for what is longer than the support is high.
PathOrReason lean(double length_m, double base_m, const Support& support) {
  const double room = support.usable_height_m - base_m;
  if (room < length_m * sin_deg(flattest_lean_deg))
    return Note{NoteKind::sloper_too_flat, support.usable_height_m, base_m};
  const double rise = std::min(room, length_m * sin_deg(steepest_lean_deg));
  Path path;
  path.corners = {{std::sqrt(length_m * length_m - rise * rise), 0, base_m}, {0, 0, base_m + rise}};
  return path;
}

}  // namespace

Answer raise_quarter(const Design& design, Shape shape, const Support& support, double mhz) {
  if (shape != Shape::vertical && shape != Shape::inverted_l && shape != Shape::sloper) {
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
  const double base = radial_height(design);
  const PathOrReason path = shape == Shape::sloper ? lean(length, base, support)
                                                   : hang(shape, {length, true, added, base}, support);
  if (const auto* why = std::get_if<Note>(&path)) return *why;
  const double foot_x_m = std::get<Path>(path).corners.front()[0];
  Raised out = draw(design, shape, std::get<Path>(path));
  out.needs_tuner = !resonant;
  add_radials(design, design.radial_m > 0 ? design.radial_m : cut_m(design, mhz, 0.5),
              radial_end(design, base), out, foot_x_m);
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
