// Antennas of wire: dipoles with and without links, end-fed wires, the two-element beam, the small loop.
#include <algorithm>
#include <cmath>

#include "raising.hpp"
#include "skerry/core/units.hpp"

namespace skerry::antenna {

namespace {

// Source: common practice for counting a given end-fed wire, 143/f m to the half wave.
constexpr double counted_half_wave_m_mhz = 143.0;
// Source: common practice, 0.05 wavelengths of counterpoise for an end-fed half wave.
constexpr double counterpoise_waves = 0.05;
// Source: common practice, 5 m (17 ft) of counterpoise with a non-resonant wire of about 12.5 m.
constexpr double random_counterpoise_m = 5.0;
// Judgement: an open link is an insulator with two plugs beside it.
constexpr double link_gap_m = 0.1;
// Source: common practice for two-element wire beams: reflector 5 % longer, 0.15 wavelengths behind.
constexpr double reflector_longer = 1.05;
constexpr double beam_spacing_waves = 0.15;
// Source: a loop is small up to about a quarter wave of circumference (Balanis and the ARRL Antenna Book,
// from memory; a third is taken as the end of what a capacitor tunes well); below a 25th its resistance is
// lost in any conductor (Judgement).
constexpr double largest_loop_waves = 0.33;
constexpr double smallest_loop_waves = 0.04;
// Judgement: air or vacuum capacitors with their joints; a kit capacitor may be several times worse.
constexpr double capacitor_q = 1000;
constexpr int loop_sides = 8;
// Judgement: the lowest a loop's frame is stood.
constexpr double lowest_loop_m = 0.3;

// Judgement: thin cable, 2.8 mm over its jacket and 2 mm over its shield.
constexpr double shield_radius_mm = 1.0;
// Judgement: a cable lying in grass or on stones.
constexpr double lying_m = 0.05;

/// The cable's shield: straight down from the feed and then along the ground, away from the wire.
void add_shield(const Design& design, const Vec3& feed, double away, Raised& out) {
  Design cable = design;
  cable.wire_radius_mm = shield_radius_mm;
  cable.insulated = true;
  const double down = std::min(feed[2] - lying_m, design.cable_counterpoise_m);
  Vec3 foot = feed;
  if (down >= lying_m) {
    foot[2] = feed[2] - down;
    out.antenna.wires.push_back(wire_of(cable, feed, foot));
  }
  const double along = design.cable_counterpoise_m - (feed[2] - foot[2]);
  if (along >= lying_m)
    out.antenna.wires.push_back(wire_of(cable, foot, {foot[0] + away * along, 0, foot[2]}));
  out.notes.push_back({NoteKind::shield_returns, design.cable_counterpoise_m});
}

double length_of(const std::vector<Vec3>& corners) {
  double sum = 0;
  for (std::size_t i = 1; i < corners.size(); ++i) {
    sum += std::hypot(corners[i][0] - corners[i - 1][0], corners[i][1] - corners[i - 1][1],
                      corners[i][2] - corners[i - 1][2]);
  }
  return sum;
}

/// The part of a polyline between two lengths from its start.
std::vector<Vec3> part_of(const std::vector<Vec3>& corners, double from, double to) {
  std::vector<Vec3> out;
  double done = 0;
  for (std::size_t i = 1; i < corners.size(); ++i) {
    const double length = length_of({corners[i - 1], corners[i]});
    const auto at = [&](double s) {
      const double share = (s - done) / length;
      Vec3 p{};
      for (std::size_t k = 0; k < 3; ++k)
        p[k] = corners[i - 1][k] + share * (corners[i][k] - corners[i - 1][k]);
      return p;
    };
    const double first = std::max(from, done);
    const double last = std::min(to, done + length);
    if (last > first) {
      if (out.empty()) out.push_back(at(first));
      out.push_back(last == done + length ? corners[i] : at(last));
    }
    done += length;
  }
  return out;
}

Answer raise_linked(const Design& design, Shape shape, const Support& support, double mhz) {
  const double whole = cut_m(design, lowest_band_mhz(design, mhz), 1.0);
  const double inner = cut_m(design, mhz, 1.0);
  const PathOrReason found = hang(shape, {std::max(whole, inner), false, 0, support.end_height_m}, support);
  if (const auto* why = std::get_if<Note>(&found)) return *why;
  Path path = std::get<Path>(found);
  const std::vector<Vec3> all = path.corners;
  const double total = length_of(all);
  // Too little beyond the link to hang there: the wire simply ends.
  const double beyond = 0.5 * (total - inner) - link_gap_m;
  path.corners = part_of(all, 0.5 * (total - inner), 0.5 * (total + inner));
  path.feed = path.corners.size() == 3 ? 1 : -1;
  Raised out = draw(design, shape, std::move(path));
  if (beyond < link_gap_m) return out;
  for (const auto& piece : {part_of(all, 0, beyond), part_of(all, total - beyond, total)}) {
    for (std::size_t i = 1; i < piece.size(); ++i)
      out.antenna.wires.push_back(wire_of(design, piece[i - 1], piece[i]));
  }
  out.notes.push_back({NoteKind::links_open, beyond});
  return out;
}

}  // namespace

Answer raise_dipole(const Design& design, Shape shape, const Support& support, double mhz) {
  if (shape == Shape::inverted_l) return wrong_shape(design, shape);
  if (design.linked) return raise_linked(design, shape, support, mhz);
  const double half = cut_m(design, mhz, 1.0);
  const double length = design.wire_m > 0 ? design.wire_m : half;
  const double halves = length / half;
  const double nearest =
      std::max(1.0, 2.0 * std::round(0.5 * (halves - 1.0)) + 1.0);  // odd: a current maximum in the middle
  const bool resonant = std::abs(halves - nearest) <= resonance_slack;
  if (!resonant && !design.needs_tuner) {
    return Note{NoteKind::not_resonant, mhz, halves};
  }
  const PathOrReason path = hang(shape, {length, false, 0, support.end_height_m}, support);
  if (const auto* why = std::get_if<Note>(&path)) return *why;
  Raised out = draw(design, shape, std::get<Path>(path));
  out.needs_tuner = !resonant;
  return out;
}

Answer raise_end_fed(const Design& design, Shape shape, const Support& support, double mhz) {
  const double lowest = lowest_band_mhz(design, mhz);
  double length = design.wire_m;
  if (length <= 0) {
    if (design.kind == Kind::end_fed_random) return lacking(NoteKind::no_length, design);
    length = cut_m(design, lowest, 1.0);
  }
  // A wire cut here is shorter by its jacket; one bought is counted as practice does.
  const double counted =
      design.wire_m > 0 ? length * mhz / counted_half_wave_m_mhz : length / cut_m(design, mhz, 1.0);
  const double whole = std::round(counted);
  const bool near_whole =
      whole >= 1.0 && std::abs(counted - whole) <= resonance_slack * std::max(1.0, 0.5 * whole);
  const bool resonant = design.kind == Kind::end_fed_half_wave && near_whole;
  if (design.kind == Kind::end_fed_half_wave && !resonant && !design.needs_tuner) {
    return Note{NoteKind::not_resonant, mhz, counted};
  }
  if (counted < 0.2) return Note{NoteKind::wire_too_short, length, mhz, counted};
  const PathOrReason path = hang(shape, {length, true, 0, support.end_height_m}, support);
  if (const auto* why = std::get_if<Note>(&path)) return *why;
  Raised out = draw(design, shape, std::get<Path>(path));
  // The owner of a half wave of given length has trimmed it: 143/f counts its jacket in, so it is drawn bare.
  if (resonant && design.wire_m > 0) {
    for (Wire& wire : out.antenna.wires) wire.insulated = false;
  }
  const double usual_m =
      design.kind == Kind::end_fed_random ? random_counterpoise_m : counterpoise_waves * wavelength_m(lowest);
  const double return_m = design.counterpoise_m > 0 ? design.counterpoise_m : usual_m;
  // The counterpoise leaves the feed level, away from the wire: west; from under a sloper's eastern low end,
  // east.
  const Vec3 feed = std::get<Path>(path).corners.front();
  const double away = shape == Shape::sloper ? 1.0 : -1.0;
  if (design.cable_counterpoise_m > 0) {
    add_shield(design, feed, away, out);
  } else {
    out.antenna.wires.push_back(wire_of(design, feed, {feed[0] + away * return_m, 0, feed[2]}));
  }
  out.needs_tuner = !resonant;
  if (!resonant) out.notes.push_back({NoteKind::off_resonance, counted});
  return out;
}

Answer raise_beam(const Design& design, Shape shape, const Support& support, double mhz) {
  if (shape != Shape::inverted_v && shape != Shape::horizontal) return wrong_shape(design, shape);
  const double length = cut_m(design, mhz, 1.0);
  const double spacing = design.spacing_m > 0 ? design.spacing_m : beam_spacing_waves * wavelength_m(mhz);
  const PathOrReason driven = hang(shape, {length, false, 0, support.end_height_m}, support);
  if (const auto* why = std::get_if<Note>(&driven)) return *why;
  const PathOrReason back = hang(shape, {reflector_longer * length, false, 0, support.end_height_m}, support);
  if (const auto* why = std::get_if<Note>(&back)) return *why;
  Raised out = draw(design, shape, std::get<Path>(driven));
  const std::vector<Vec3>& corners = std::get<Path>(back).corners;
  // Level wires hang between the same two supports: the longer one reaches out by half the difference each.
  const double shift =
      shape == Shape::horizontal ? 0.5 * (corners.back()[0] - std::get<Path>(driven).corners.back()[0]) : 0.0;
  for (std::size_t i = 1; i < corners.size(); ++i) {
    Vec3 from = corners[i - 1], to = corners[i];
    for (Vec3* p : {&from, &to}) *p = {(*p)[0] - shift, -spacing, (*p)[2]};
    out.antenna.wires.push_back(wire_of(design, from, to));
  }
  out.notes.push_back({NoteKind::reflector_behind, spacing});
  return out;
}

Answer raise_loop(const Design& design, Shape shape, const Support& support, double mhz) {
  if (shape != Shape::vertical) return wrong_shape(design, shape);
  if (design.wire_m <= 0) return lacking(NoteKind::no_length, design);
  const double waves = design.wire_m / wavelength_m(mhz);
  if (waves > largest_loop_waves || waves < smallest_loop_waves) {
    return Note{waves > largest_loop_waves ? NoteKind::loop_too_large : NoteKind::loop_too_small,
                design.wire_m, mhz, waves};
  }
  Design tube = design;
  tube.insulated = false;
  // A regular octagon standing on one side, in the plane y = 0; fed in the middle of that side.
  const double side = design.wire_m / loop_sides;
  const double bottom = std::max(lowest_loop_m, support.end_height_m);
  Path path;
  double x = -0.5 * side;
  double z = bottom;
  for (int i = 0; i <= loop_sides; ++i) {
    path.corners.push_back({x, 0, z});
    x += side * cos_deg(360.0 / loop_sides * i);
    z += side * sin_deg(360.0 / loop_sides * i);
  }
  path.corners.back() = path.corners.front();
  Raised out = draw(tube, shape, std::move(path));
  out.antenna.feed = {1, 0.5};
  out.feed_height_m = bottom;
  TunedPart capacitor;
  capacitor.wire = loop_sides / 2 + 1;
  capacitor.at = 0.5;
  capacitor.capacitor = true;
  capacitor.q = capacitor_q;
  out.antenna.tuned = capacitor;
  out.notes.push_back({NoteKind::retuned_loop});
  return out;
}

}  // namespace skerry::antenna
