#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "readers.hpp"
#include "skerry/core/text.hpp"

namespace skerry::files {

namespace {

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
  c.parse(d.kind, "kind", antenna::parse_kind);
  c.parse_each(d.shapes, "shapes", antenna::parse_shape, [](antenna::Shape shape) { return shape; });
  const bool needs_length =
      c.has("kind") && (d.kind == antenna::Kind::vertical_loaded || d.kind == antenna::Kind::end_fed_random ||
                        d.kind == antenna::Kind::whip || d.kind == antenna::Kind::small_loop);
  if (needs_length && !c.has("wire_m")) c.missing("wire_m");
  c.fill(d);
  if (d.linked && (d.kind != antenna::Kind::dipole || d.wire_m > 0)) {
    c.refuse("linked", "true only for a dipole without wire_m", "its links are cut to its bands");
  }
  if (d.cable_counterpoise_m > 0 && d.kind != antenna::Kind::end_fed_half_wave &&
      d.kind != antenna::Kind::end_fed_random) {
    c.refuse("cable_counterpoise_m", "end-fed kinds only", "other kinds bring their own return");
  }
  if (d.cable_counterpoise_m > 0 && d.counterpoise_m > 0)
    c.only_one("cable_counterpoise_m", "counterpoise_m");
  // The cross-section that wire is sold by.
  if (const auto area = c.number("wire_mm2")) {
    c.only_one("wire_mm2", "wire_radius_mm");
    d.wire_radius_mm = std::sqrt(*area / std::numbers::pi);
  }
  d.transformer_ratio = usual_ratio(d.kind);
  c.into(d.transformer_ratio, "transformer_ratio");
}

void read_wire(Cursor& c, const Antenna& a, double conductivity, antenna::WireAntenna& wires) {
  antenna::Wire wire;
  wire.radius_mm = a.design.wire_radius_mm;
  wire.insulated = a.design.insulated;
  wire.conductivity_s_per_m = conductivity;
  c.rename(fmt::format("wire {} of [[antenna]] '{}'", wires.wires.size() + 1, a.item.id));
  const auto from = c.numbers<3>("from_m");
  const auto to = c.numbers<3>("to_m");
  c.fill(wire);
  if (from && to) {
    wire.from_m = *from;
    wire.to_m = *to;
    const double length = std::hypot((*to)[0] - (*from)[0], (*to)[1] - (*from)[1], (*to)[2] - (*from)[2]);
    if (length < 0.001) c.refuse("to_m", "another point than from_m", "the wire has no length");
  }
  c.finish();
  wires.wires.push_back(wire);
}

/// Which of the wires so far.
void read_wire_number(Cursor& c, const antenna::WireAntenna& wires, int& out) {
  const double most = std::max(1.0, static_cast<double>(wires.wires.size()));
  if (const auto number = c.number("wire", {1, most, "(wires count from 1)", true}))
    out = static_cast<int>(*number);
}

void read_load(Cursor& c, const Antenna& a, antenna::WireAntenna& wires) {
  antenna::Load load;
  c.rename(fmt::format("load {} of [[antenna]] '{}'", wires.loads.size() + 1, a.item.id));
  if (c.has("wire")) {
    read_wire_number(c, wires, load.wire);
  } else {
    c.missing("wire", "the number of a wire, from 1", {});
  }
  c.fill(load);
  if (load.resistance_ohm == 0 && load.inductance_uh == 0 && load.capacitance_pf == 0) {
    c.mistakes().add(c.at("at"), c.title() + " without any value",
                     "resistance_ohm, inductance_uh or capacitance_pf above 0");
  }
  c.finish();
  wires.loads.push_back(load);
}

void read_wires(Cursor& c, Antenna& a) {
  double conductivity = antenna::Wire{}.conductivity_s_per_m;
  c.into(conductivity, "conductivity_s_per_m");
  antenna::WireAntenna wires;
  wires.id = a.item.id;
  for (Cursor& wire : c.tables("wire")) read_wire(wire, a, conductivity, wires);
  for (Cursor& load : c.tables("load")) read_load(load, a, wires);
  if (auto feed = c.table("feed")) {
    read_wire_number(*feed, wires, wires.feed.wire);
    feed->into(wires.feed.at, "at");
    feed->finish();
  } else if (c.has("wire") && !c.has("feed")) {
    c.missing("feed", "{wire = 1, at = 0.5}", {});
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
    c.missing("kind", "\"end-fed-half-wave\", \"dipole\", ..., or [[antenna.wire]] tables", {});
  const auto bands = read_bands(c, reading);
  a.bands = ids_of(bands);
  for (const auto& band : bands) a.design.bands_mhz.push_back(band.mhz);
  if (a.wires && reading.mass_needed && !c.has("bands")) {
    c.missing("bands", "[\"20m\"]", "wires given point by point do not say where they are resonant");
  }
  a.supports = read_references(c, "supports", a.item, reading, true);
  a.needs = read_references(c, "needs", a.item, reading);
  c.fill(a);
  const bool upright = a.wires || is_vertical(a.design.kind);
  if (a.self_standing && c.has("kind") && !upright) {
    c.refuse("self_standing", "true only for vertical kinds, or wires point by point",
             "wires hang on a [[support]]");
  }
  c.finish();
}

}  // namespace

void read_antenna_tables(Cursor& root, Reading& reading) {
  if (!root.has("antenna") && reading.trip.antennas.empty() && reading.library.empty())
    root.missing("[[antenna]]", "at least one", "there is nothing to hang up");
  auto cursors = root.tables("antenna");
  for (std::size_t i = 0; i < cursors.size(); ++i) {
    Antenna a;
    read_antenna(cursors[i], a, i, reading);
    reading.trip.antennas.push_back(std::move(a));
  }
}

}  // namespace skerry::files
