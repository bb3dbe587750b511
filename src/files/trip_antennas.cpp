#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "readers.hpp"
#include "skerry/core/text.hpp"

namespace skerry::files {

namespace {

constexpr Bounds radius_bounds{0.02, 50, "mm"};
constexpr Bounds conductivity_bounds{1e3, 7e7, "S/m"};
constexpr Bounds level_bounds{-500, 500, "m"};
constexpr Bounds height_bounds{0, 100, "m above ground"};

/// wire_radius_mm, or wire_mm2 (the cross-section that wire is sold by).
void read_thickness(Cursor& c, antenna::Design& design) {
  c.number_into(design.wire_radius_mm, "wire_radius_mm", radius_bounds);
  if (const auto area = c.number("wire_mm2", {0.02, 100, "mm2"})) {
    if (c.has("wire_radius_mm")) c.report("wire_mm2", "wire_mm2 beside wire_radius_mm", "only one of them");
    design.wire_radius_mm = std::sqrt(*area / std::numbers::pi);
  }
}

/// Impedance ratios that go with the kinds. Common practice: 1:49 for a half wave fed at its end, 1:9 for
/// other lengths.
double usual_ratio(antenna::Kind kind) {
  if (kind == antenna::Kind::end_fed_half_wave) return 49;
  return kind == antenna::Kind::end_fed_random ? 9 : 1;
}

bool is_vertical(antenna::Kind kind) {
  return kind == antenna::Kind::vertical_quarter || kind == antenna::Kind::vertical_loaded ||
         kind == antenna::Kind::whip || kind == antenna::Kind::small_loop;
}

void read_design(Cursor& c, Antenna& a) {
  antenna::Design& d = a.design;
  d.id = a.item.id;
  if (const auto name = c.text("kind", "end-fed-half-wave")) {
    const auto kind = antenna::parse_kind(*name, c.where("kind"));
    if (kind) {
      d.kind = *kind;
    } else {
      c.pass_on("kind", kind.error());
    }
  }
  for (const auto& word : c.words("shapes", "[\"inverted-v\", \"sloper\"]")) {
    const auto shape = antenna::parse_shape(word.text, c.mistakes().where(word.at));
    if (shape) {
      d.shapes.push_back(*shape);
    } else {
      c.mistakes().add(shape.error());
    }
  }
  const bool needs_length =
      c.has("kind") && (d.kind == antenna::Kind::vertical_loaded || d.kind == antenna::Kind::end_fed_random ||
                        d.kind == antenna::Kind::whip || d.kind == antenna::Kind::small_loop);
  c.number_into(d.wire_m, "wire_m", {0.2, 300, "m"}, needs_length ? Need::required : Need::optional);
  c.flag_into(d.linked, "linked");
  if (d.linked && (d.kind != antenna::Kind::dipole || d.wire_m > 0)) {
    c.refuse("linked", "true only for a dipole without wire_m", "its links are cut to its bands");
  }
  c.number_into(d.coil_at, "coil_at", {0, 0.95, "(share of the whip's length, 0 its base)"});
  c.number_into(d.hat_m, "hat_m", {0.05, 10, "m"});
  c.number_into(d.spacing_m, "spacing_m", {0.2, 20, "m"});
  c.number_into(d.counterpoise_m, "counterpoise_m", {0.1, 100, "m"});
  c.number_into(d.cable_counterpoise_m, "cable_counterpoise_m", {0.2, 100, "m"});
  if (d.cable_counterpoise_m > 0 && d.kind != antenna::Kind::end_fed_half_wave &&
      d.kind != antenna::Kind::end_fed_random) {
    c.refuse("cable_counterpoise_m", "end-fed kinds only", "other kinds bring their own return");
  }
  if (d.cable_counterpoise_m > 0 && d.counterpoise_m > 0)
    c.report("cable_counterpoise_m", "cable_counterpoise_m beside counterpoise_m", "only one of them");
  c.whole_into(d.radials, "radials", 1, 120, "wires");
  c.number_into(d.radial_m, "radial_m", {0.2, 60, "m"});
  c.number_into(d.radial_height_m, "radial_height_m", {0, 10, "m"});
  c.number_into(d.radial_end_height_m, "radial_end_height_m", {0, 10, "m"});
  read_thickness(c, d);
  c.flag_into(d.insulated, "insulated");
  d.transformer_ratio = usual_ratio(d.kind);
  c.number_into(d.transformer_ratio, "transformer_ratio", {1, 100, "(impedance ratio)"});
  c.number_into(d.transformer_loss_db, "transformer_loss_db", {0, 6, "dB at 14 MHz"});
  c.number_into(d.coil_q, "coil_q", {10, 2000, "(quality of the coil)"});
  c.number_into(d.ground_loss_ohm, "ground_loss_ohm", {0, 500, "ohm"});
  c.flag_into(d.needs_tuner, "needs_tuner");
}

void read_wire(Cursor& c, const Antenna& a, double conductivity, antenna::WireAntenna& wires) {
  antenna::Wire wire;
  wire.radius_mm = a.design.wire_radius_mm;
  wire.insulated = a.design.insulated;
  wire.conductivity_s_per_m = conductivity;
  c.rename(fmt::format("wire {} of [[antenna]] '{}'", wires.wires.size() + 1, a.item.id));
  const std::array<Bounds, 3> space = {level_bounds, level_bounds, height_bounds};
  const auto from = c.numbers<3>("from_m", space, "[0, 0, 1.5] (east, north, up)", Need::required);
  const auto to = c.numbers<3>("to_m", space, "[10, 0, 6] (east, north, up)", Need::required);
  c.number_into(wire.radius_mm, "radius_mm", radius_bounds);
  c.number_into(wire.conductivity_s_per_m, "conductivity_s_per_m", conductivity_bounds);
  c.flag_into(wire.insulated, "insulated");
  if (from && to) {
    wire.from_m = *from;
    wire.to_m = *to;
    const double length = std::hypot((*to)[0] - (*from)[0], (*to)[1] - (*from)[1], (*to)[2] - (*from)[2]);
    if (length < 0.001) c.refuse("to_m", "another point than from_m", "the wire has no length");
  }
  c.finish();
  wires.wires.push_back(wire);
}

void read_load(Cursor& c, const Antenna& a, antenna::WireAntenna& wires) {
  antenna::Load load;
  c.rename(fmt::format("load {} of [[antenna]] '{}'", wires.loads.size() + 1, a.item.id));
  c.whole_into(load.wire, "wire", 1, std::max(1, static_cast<int>(wires.wires.size())),
               "(wires count from 1)");
  if (!c.has("wire")) c.missing("wire", "the number of a wire, from 1");
  c.number_into(load.at, "at", {0, 1, "(share of the wire's length)"}, Need::required);
  c.number_into(load.resistance_ohm, "resistance_ohm", {0, 1e6, "ohm"});
  c.number_into(load.inductance_uh, "inductance_uh", {0, 1e4, "uH"});
  c.number_into(load.capacitance_pf, "capacitance_pf", {0, 1e7, "pF"});
  c.number_into(load.coil_q, "coil_q", {0, 5000, "(quality of the coil)"});
  c.flag_into(load.parallel, "parallel");
  if (load.resistance_ohm == 0 && load.inductance_uh == 0 && load.capacitance_pf == 0) {
    c.mistakes().add(c.at("at"), c.title() + " without any value",
                     "resistance_ohm, inductance_uh or capacitance_pf above 0");
  }
  c.finish();
  wires.loads.push_back(load);
}

void read_wires(Cursor& c, Antenna& a) {
  double conductivity = antenna::Wire{}.conductivity_s_per_m;
  c.number_into(conductivity, "conductivity_s_per_m", conductivity_bounds);
  antenna::WireAntenna wires;
  wires.id = a.item.id;
  for (Cursor& wire : c.tables("wire", 200)) read_wire(wire, a, conductivity, wires);
  for (Cursor& load : c.tables("load", 100)) read_load(load, a, wires);
  if (auto feed = c.table("feed", "{wire = 1, at = 0.5}")) {
    feed->whole_into(wires.feed.wire, "wire", 1, std::max(1, static_cast<int>(wires.wires.size())),
                     "(wires count from 1)");
    feed->number_into(wires.feed.at, "at", {0, 1, "(share of the wire's length)"});
    feed->finish();
  } else if (c.has("wire") && !c.has("feed")) {
    c.missing("feed", "{wire = 1, at = 0.5}");
  }
  if (!c.has("wire")) {
    for (const char* key : {"load", "feed"}) {
      if (c.has(key))
        c.report(key, fmt::format("{} without any [[antenna.wire]]", key), "wires point by point, or a kind");
    }
    return;
  }
  if (c.has("kind"))
    c.report("kind", "kind beside [[antenna.wire]]", "a kind, or wires point by point, not both");
  a.wires = std::move(wires);
}

void read_antenna(Cursor& c, Antenna& a, std::size_t index, Reading& reading) {
  // In a file of antennas only, an antenna may go without a name.
  read_item(c, a.item, reading, "antenna", reading.mass_needed ? "" : fmt::format("antenna-{}", index + 1));
  read_design(c, a);
  read_wires(c, a);
  if (!c.has("kind") && !c.has("wire"))
    c.missing("kind", "\"end-fed-half-wave\", \"dipole\", ..., or [[antenna.wire]] tables");
  a.bands = read_bands(c, "bands", reading, &a.design.bands_mhz);
  if (a.wires && reading.mass_needed && !c.has("bands")) {
    c.missing("bands", "[\"20m\"]", "wires given point by point do not say where they are resonant");
  }
  const auto supports = c.words("supports", "[\"pole-6m\"]");
  reading.refer(supports, "supports of " + c.title(), true);
  a.supports = texts_of(supports);
  const auto needs = c.words("needs", "[\"cord\"]");
  reading.refer(needs, "needs of " + c.title());
  a.needs = texts_of(needs);
  c.flag_into(a.self_standing, "self_standing");
  const bool upright = a.wires || is_vertical(a.design.kind);
  if (a.self_standing && c.has("kind") && !upright) {
    c.refuse("self_standing", "true only for vertical kinds, or wires point by point",
             "wires hang on a [[support]]");
  }
  c.number_into(a.setup_minutes, "setup_minutes", {0, 240, "minutes"});
  c.finish();
}

}  // namespace

void read_antenna_tables(Cursor& root, Reading& reading) {
  if (!root.has("antenna") && reading.trip.antennas.empty() && reading.library.empty())
    root.missing("[[antenna]]", "at least one", "there is nothing to hang up");
  auto cursors = root.tables("antenna", 200);
  if (cursors.empty()) root.known("antenna");
  for (std::size_t i = 0; i < cursors.size(); ++i) {
    Antenna a;
    read_antenna(cursors[i], a, i, reading);
    reading.trip.antennas.push_back(std::move(a));
  }
}

}  // namespace skerry::files
