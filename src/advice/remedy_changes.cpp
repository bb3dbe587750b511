// A trip with one thing changed or added.
#include <algorithm>
#include <cmath>

#include "skerry/advice/remedies.hpp"
#include "skerry/core/nth.hpp"

namespace skerry::advice {

namespace {

using Kind = Remedy::Kind;

template <class Thing>
Thing brought(const char* id, double mass_g) {
  Thing out;
  out.item.id = out.item.name = id;
  out.item.mass_g = mass_g;
  return out;
}

void add_pole(kit::Trip& trip, kit::Antenna& antenna, const Remedy& remedy) {
  auto pole = brought<kit::Support>("new-pole", remedy.added_g);
  pole.height_m = remedy.number;
  // A section of a tenth of its height, and of what travel poles are thick. Judgement.
  pole.item.tube_cm = {{10 * remedy.number, 5}};
  if (remedy.support) {
    const auto& old = trip.at(*remedy.support);
    pole.needs_guys = old.needs_guys;
    pole.needs = old.needs;
    pole.setup_minutes = old.setup_minutes;
  }
  trip.supports.push_back(std::move(pole));
  if (!antenna.supports.empty()) antenna.supports.push_back(trip.supports.back().item.id);
}

}  // namespace

kit::Trip changed(const kit::Trip& trip, const Remedy& remedy) {
  kit::Trip out = trip;
  auto& antenna = nth(out.antennas, remedy.antenna);
  auto& design = antenna.design;
  switch (remedy.kind) {
    case Kind::wire_length:
      design.wire_m = remedy.number;
      break;
    case Kind::counterpoise:
      design.counterpoise_m = remedy.number;
      break;
    case Kind::ratio:
      design.transformer_ratio = remedy.number;
      break;
    case Kind::tuner:
      out.tuners.push_back(brought<kit::Tuner>("new-tuner", remedy.added_g));
      break;
    case Kind::other_support:
      antenna.supports.push_back(out.at(remedy.support.value()).item.id);
      break;
    case Kind::longer_pole:
    case Kind::no_mast_beside:
      add_pole(out, antenna, remedy);
      break;
    case Kind::other_shape:
      // Only a quarter wave has a shape that is not among its usual ones.
      if (design.shapes.empty()) design.shapes = {antenna::Shape::vertical};
      design.shapes.push_back(remedy.shape);
      break;
    case Kind::loading: {
      auto shorter = antenna;
      shorter.item.id += "-with-coil";
      shorter.item.name += " with a coil";
      shorter.item.mass_g = remedy.added_g;
      shorter.item.size_cm.reset();
      shorter.needs.push_back(antenna.item.id);
      shorter.design.kind = antenna::Kind::vertical_loaded;
      shorter.design.wire_m = remedy.number;
      shorter.design.coil_at = 0;
      shorter.bands.clear();
      for (const int b : remedy.bands) shorter.bands.push_back(nth(trip.bands, b).id);
      out.antennas.push_back(std::move(shorter));
      break;
    }
    case Kind::standoff:
      nth(out.supports, remedy.support.value()).standoff_m = remedy.number;
      break;
    case Kind::cable: {
      auto cable = brought<kit::Cable>("new-cable", remedy.added_g);
      cable.type = trip.cables.empty() ? "rg316" : trip.cables.front().type;
      cable.length_m = remedy.number;
      out.cables.push_back(std::move(cable));
      break;
    }
  }
  return out;
}

}  // namespace skerry::advice
