#include "raising.hpp"

#include <algorithm>
#include <cmath>

#include "skerry/core/nth.hpp"
#include "skerry/core/units.hpp"

namespace skerry::antenna {

namespace {

// Source: half wave with end insulators, 468 ft/f of the ARRL handbooks (from memory).
constexpr double half_wave_m_mhz = 142.6;
// Source: a PVC jacket shortens by 2 to 4 % (common practice).
constexpr double jacket_shortening = 0.97;
// Judgement: radials lying on the ground, in grass or on stones.
constexpr double lowest_radial_m = 0.05;

}  // namespace

double wavelength_m(double mhz) {
  return light_km_per_s / 1000.0 / mhz;
}

double cut_m(const Design& design, double mhz, double half_waves) {
  return half_waves * design.trim * half_wave_m_mhz / mhz * (design.insulated ? jacket_shortening : 1.0);
}

double lowest_band_mhz(const Design& design, double mhz) {
  return design.bands_mhz.empty() ? mhz : *std::min_element(design.bands_mhz.begin(), design.bands_mhz.end());
}

Wire wire_of(const Design& design, const Vec3& from, const Vec3& to) {
  Wire wire;
  wire.from_m = from;
  wire.to_m = to;
  wire.radius_mm = design.wire_radius_mm;
  wire.insulated = design.insulated;
  return wire;
}

Raised draw(const Design& design, Shape shape, Path path) {
  Raised out;
  out.shape = shape;
  out.notes = std::move(path.notes);
  out.antenna.id = design.id;
  for (std::size_t i = 1; i < path.corners.size(); ++i) {
    out.antenna.wires.push_back(wire_of(design, path.corners[i - 1], path.corners[i]));
  }
  if (path.feed >= 0) {
    // At corner n: the start of the wire that leaves it.
    out.antenna.feed = {path.feed + 1, 0.0};
    out.feed_height_m = nth(path.corners, path.feed)[2];
    return out;
  }
  double total = 0;
  std::vector<double> lengths;
  for (const Wire& w : out.antenna.wires) {
    lengths.push_back(std::hypot(w.to_m[0] - w.from_m[0], w.to_m[1] - w.from_m[1], w.to_m[2] - w.from_m[2]));
    total += lengths.back();
  }
  double left = 0.5 * total;
  std::size_t i = 0;
  while (i + 1 < lengths.size() && left > lengths[i]) left -= lengths[i++];
  out.antenna.feed = {static_cast<int>(i) + 1, left / lengths[i]};
  const Wire& fed = out.antenna.wires[i];
  out.feed_height_m = fed.from_m[2] + left / lengths[i] * (fed.to_m[2] - fed.from_m[2]);
  return out;
}

PathOrReason hang(Shape shape, const Hang& wire, const Support& support) {
  switch (shape) {
    case Shape::vertical:
      return hang_vertical(wire, support);
    case Shape::inverted_v:
      return hang_inverted_v(wire, support);
    case Shape::sloper:
      return hang_sloper(wire, support);
    case Shape::inverted_l:
      return hang_inverted_l(wire, support);
    case Shape::horizontal:
      break;
  }
  return hang_horizontal(wire, support);
}

Note wrong_shape(const Design& design, Shape shape) {
  Note out = lacking(NoteKind::wrong_shape, design);
  out.shape = shape;
  return out;
}

Note lacking(NoteKind what, const Design& design) {
  Note out{what};
  out.antenna = design.kind;
  return out;
}

double radial_height(const Design& design) {
  return std::max(lowest_radial_m, design.radial_height_m);
}

void add_radials(const Design& design, double length_m, double end_m, Raised& out, double foot_x_m) {
  const double base = radial_height(design);
  const double end =
      std::clamp(end_m, std::max(lowest_radial_m, base - 0.95 * length_m), base + 0.95 * length_m);
  const double reach = std::sqrt(length_m * length_m - (base - end) * (base - end));
  for (int i = 0; i < design.radials; ++i) {
    // From the east, evenly round. Exact zeros keep wires in the plane y = 0.
    const double angle = 360.0 * i / design.radials;
    const double y = angle == 180.0 ? 0.0 : sin_deg(angle) * reach;
    out.antenna.wires.push_back(
        wire_of(design, {foot_x_m, 0, base}, {foot_x_m + cos_deg(angle) * reach, y, end}));
  }
  if (design.radial_height_m < lowest_radial_m) out.notes.push_back({NoteKind::radials_on_ground});
}

}  // namespace skerry::antenna
