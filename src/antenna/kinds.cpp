#include "skerry/antenna/kinds.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <cmath>

#include "assumed_current.hpp"
#include "shapes.hpp"
#include "skerry/antenna/lines.hpp"
#include "skerry/core/text.hpp"
#include "skerry/core/units.hpp"

namespace skerry::antenna {

namespace {

// Source: half wave with end insulators, 468 ft/f of the ARRL handbooks (from memory).
constexpr double half_wave_m_mhz = 142.6;
// Source: common practice for counting a given end-fed wire, 143/f m to the half wave.
constexpr double counted_half_wave_m_mhz = 143.0;
// Source: a PVC jacket shortens by 2 to 4 % (common practice).
constexpr double jacket_shortening = 0.97;
// Judgement: this share of a half wave off a whole number still works without a tuner; on high harmonics 3 %
// of the frequency, which is the same thing on the second.
constexpr double resonance_slack = 0.06;
// Judgement: a listed band centre stands for frequencies within this share of it (28.0 to 29.7 is +/-3 %).
constexpr double band_slack = 0.04;
// Source: common practice, 0.05 wavelengths of counterpoise for an end-fed half wave.
constexpr double counterpoise_waves = 0.05;
// Source: common practice, 5 m (17 ft) of counterpoise with a non-resonant wire of about 12.5 m.
constexpr double random_counterpoise_m = 5.0;
// Judgement: radials lying on the ground, in grass or on stones.
constexpr double lowest_radial_m = 0.05;
// Judgement: a whip at least this thick is a rod and carries itself.
constexpr double rod_radius_mm = 1.5;

double wavelength_m(double mhz) {
  return light_km_per_s / 1000.0 / mhz;
}

const std::vector<std::string> kind_names{"vertical-quarter", "vertical-loaded", "dipole",
                                          "end-fed-half-wave", "end-fed-random"};
const std::vector<std::string> shape_names{"vertical", "inverted-v", "sloper", "inverted-l", "horizontal"};

template <class T>
Result<T> parse(const std::vector<std::string>& names, const char* what, std::string_view word,
                const Where& where) {
  std::string plain = lower(trim(word));
  for (char& c : plain) {
    if (c == '_' || c == ' ') c = '-';
  }
  std::string list;
  for (std::size_t i = 0; i < names.size(); ++i) {
    if (names[i] == plain) return static_cast<T>(i);
    list += (i == 0 ? "" : ", ") + names[i];
  }
  return fail(where, fmt::format("{} '{}'", what, one_line(word)), "one of " + list,
              did_you_mean(plain, names));
}

bool end_fed(Kind kind) {
  return kind == Kind::end_fed_half_wave || kind == Kind::end_fed_random;
}

std::vector<Shape> usual_shapes(Kind kind) {
  switch (kind) {
    case Kind::vertical_quarter:
    case Kind::vertical_loaded:
      return {Shape::vertical};
    case Kind::dipole:
      return {Shape::inverted_v, Shape::sloper, Shape::horizontal};
    case Kind::end_fed_half_wave:
    case Kind::end_fed_random:
      return {Shape::vertical, Shape::inverted_v, Shape::sloper, Shape::inverted_l, Shape::horizontal};
  }
  return {};
}

double cut_m(const Design& design, double mhz, double half_waves) {
  return half_waves * half_wave_m_mhz / mhz * (design.insulated ? jacket_shortening : 1.0);
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

/// Draws the path's wires and sets the feed.
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
    out.feed_height_m = path.corners[static_cast<std::size_t>(path.feed)][2];
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
      return hang_horizontal(wire, support);
  }
  return std::string("unknown shape");
}

double radial_height(const Design& design) {
  return std::max(lowest_radial_m, design.radial_height_m);
}

void add_radials(const Design& design, double mhz, Raised& out) {
  const double length = design.radial_m > 0 ? design.radial_m : cut_m(design, mhz, 0.5);
  const double height = radial_height(design);
  for (int i = 0; i < design.radials; ++i) {
    // From the east, evenly round. Exact zeros keep wires in the plane y = 0.
    const double angle = 360.0 * i / design.radials;
    const double y = angle == 180.0 ? 0.0 : sin_deg(angle) * length;
    out.antenna.wires.push_back(wire_of(design, {0, 0, height}, {cos_deg(angle) * length, y, height}));
  }
  if (design.radial_height_m < lowest_radial_m)
    out.notes.push_back("radials on the ground, computed 5 cm above it");
}

using Answer = std::variant<Raised, std::string>;

Answer raise_quarter(const Design& design, Shape shape, const Support& support, double mhz) {
  if (shape != Shape::vertical && shape != Shape::inverted_l) {
    return fmt::format("a quarter-wave vertical does not hang as {}", to_text(shape));
  }
  if (design.radials < 1) return std::string("a quarter-wave vertical needs at least one radial");
  const double length = design.wire_m > 0 ? design.wire_m : cut_m(design, mhz, 0.5);
  const double quarters = length / cut_m(design, mhz, 0.5);
  const bool resonant = std::abs(quarters - 1.0) <= resonance_slack;
  if (!resonant && !design.needs_tuner) {
    return fmt::format("a {:.1f} m vertical is not a quarter wave on {:.2f} MHz ({:.2f} quarter waves)",
                       length, mhz, quarters);
  }
  const PathOrReason path = hang(shape, {length, true, radial_height(design)}, support);
  if (const auto* why = std::get_if<std::string>(&path)) return *why;
  Raised out = draw(design, shape, std::get<Path>(path));
  out.needs_tuner = !resonant;
  add_radials(design, mhz, out);
  return out;
}

Answer raise_loaded(const Design& design, Shape shape, const Support& support, double mhz) {
  if (shape != Shape::vertical) return fmt::format("a loaded vertical does not hang as {}", to_text(shape));
  if (design.wire_m <= 0) return std::string("a loaded vertical needs the length of its whip");
  if (design.radials < 1) return std::string("a loaded vertical needs a counterpoise or radials");
  const double waves = design.wire_m / wavelength_m(mhz);
  const double base = radial_height(design);
  Path path;
  if (design.wire_radius_mm >= rod_radius_mm) {
    path.corners = {{0, 0, base}, {0, 0, base + design.wire_m}};
  } else {
    PathOrReason found = hang_vertical({design.wire_m, true, base}, support);
    if (const auto* why = std::get_if<std::string>(&found)) return *why;
    path = std::get<Path>(std::move(found));
  }
  Raised out = draw(design, shape, std::move(path));
  Design return_wires = design;
  if (design.counterpoise_m > 0) return_wires.radial_m = design.counterpoise_m;
  add_radials(return_wires, mhz, out);
  const double reactance = nominal_feed_ohm(out.antenna, mhz).imag();
  if (reactance > 20.0) {
    return fmt::format(
        "the {:.1f} m whip is longer than a quarter wave on {:.2f} MHz ({:.2f} wavelengths): a coil cannot "
        "tune it",
        design.wire_m, mhz, waves);
  }
  if (reactance < -1.0) {
    Load coil;
    coil.wire = 1;
    coil.inductance_uh = -reactance / (2.0 * std::numbers::pi * mhz);
    coil.coil_q = design.coil_q;
    out.antenna.loads.push_back(coil);
    out.notes.push_back(fmt::format("base coil {:.1f} uH", coil.inductance_uh));
  }
  return out;
}

Answer raise_dipole(const Design& design, Shape shape, const Support& support, double mhz) {
  if (shape == Shape::inverted_l) return std::string("a dipole does not hang as inverted-l");
  const double half = cut_m(design, mhz, 1.0);
  const double length = design.wire_m > 0 ? design.wire_m : half;
  const double halves = length / half;
  const double nearest =
      std::max(1.0, 2.0 * std::round(0.5 * (halves - 1.0)) + 1.0);  // odd: a current maximum in the middle
  const bool resonant = std::abs(halves - nearest) <= resonance_slack;
  if (!resonant && !design.needs_tuner) {
    return fmt::format("not resonant on {:.2f} MHz ({:.2f} half-waves)", mhz, halves);
  }
  const PathOrReason path = hang(shape, {length, false, support.end_height_m}, support);
  if (const auto* why = std::get_if<std::string>(&path)) return *why;
  Raised out = draw(design, shape, std::get<Path>(path));
  out.needs_tuner = !resonant;
  return out;
}

Answer raise_end_fed(const Design& design, Shape shape, const Support& support, double mhz) {
  const double lowest = lowest_band_mhz(design, mhz);
  double length = design.wire_m;
  if (length <= 0) {
    if (design.kind == Kind::end_fed_random) return std::string("a non-resonant wire needs its length");
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
    return fmt::format("not resonant on {:.2f} MHz ({:.2f} half-waves)", mhz, counted);
  }
  if (counted < 0.2)
    return fmt::format("{:.1f} m of wire is too short for {:.2f} MHz ({:.2f} half-waves)", length, mhz,
                       counted);
  const PathOrReason path = hang(shape, {length, true, support.end_height_m}, support);
  if (const auto* why = std::get_if<std::string>(&path)) return *why;
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
  out.antenna.wires.push_back(wire_of(design, feed, {feed[0] + away * return_m, 0, feed[2]}));
  out.needs_tuner = !resonant;
  const double z0 = 50.0 * transformer_ratio_of(design);
  if (!resonant) {
    const double swr = swr_of(nominal_feed_ohm(out.antenna, mhz), z0);
    if (swr > tuner_largest_swr()) {
      return fmt::format(
          "cannot be matched on {:.2f} MHz ({:.2f} half-waves): SWR {:.0f} is beyond a small tuner's {:.0f}",
          mhz, counted, swr, tuner_largest_swr());
    }
    out.notes.push_back(fmt::format("needs a tuner ({:.2f} half-waves)", counted));
  }
  return out;
}

}  // namespace

Result<Kind> parse_kind(std::string_view name, const Where& where) {
  return parse<Kind>(kind_names, "antenna kind", name, where);
}
std::string to_text(Kind kind) {
  return kind_names[static_cast<std::size_t>(kind)];
}
Result<Shape> parse_shape(std::string_view name, const Where& where) {
  return parse<Shape>(shape_names, "shape", name, where);
}
std::string to_text(Shape shape) {
  return shape_names[static_cast<std::size_t>(shape)];
}

double transformer_ratio_of(const Design& design) {
  if (design.transformer_ratio > 1) return design.transformer_ratio;
  if (design.kind == Kind::end_fed_half_wave) return 49.0;
  return design.kind == Kind::end_fed_random ? 9.0 : 1.0;
}

Chain chain_for(const Design& design, double mhz, FeedLine line) {
  Chain chain;
  chain.transformer_ratio = transformer_ratio_of(design);
  chain.transformer_loss_db = transformer_loss_db(chain.transformer_ratio, mhz, design.transformer_loss_db);
  chain.coil_q = design.coil_q;
  chain.ground_loss_ohm = std::max(0.0, design.ground_loss_ohm);
  chain.line = std::move(line);
  return chain;
}

Raising raise(const Design& design, const Support& support, double mhz) {
  assert(mhz > 0);
  Raising out;
  const auto serves = [mhz](double centre) { return std::abs(mhz - centre) <= band_slack * centre; };
  if (!design.bands_mhz.empty() && std::none_of(design.bands_mhz.begin(), design.bands_mhz.end(), serves)) {
    out.why_not.push_back(fmt::format("not made for {:.2f} MHz", mhz));
    return out;
  }
  const std::vector<Shape> shapes = design.shapes.empty() ? usual_shapes(design.kind) : design.shapes;
  for (const Shape shape : shapes) {
    Answer answer = design.kind == Kind::vertical_quarter  ? raise_quarter(design, shape, support, mhz)
                    : design.kind == Kind::vertical_loaded ? raise_loaded(design, shape, support, mhz)
                    : end_fed(design.kind)                 ? raise_end_fed(design, shape, support, mhz)
                                                           : raise_dipole(design, shape, support, mhz);
    if (auto* way = std::get_if<Raised>(&answer)) {
      out.ways.push_back(std::move(*way));
    } else {
      const std::string& why = std::get<std::string>(answer);
      if (std::find(out.why_not.begin(), out.why_not.end(), why) == out.why_not.end())
        out.why_not.push_back(why);
    }
  }
  return out;
}

}  // namespace skerry::antenna
