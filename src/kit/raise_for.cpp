// A setup as the antenna room sees it.
#include <algorithm>

#include "skerry/core/nth.hpp"
#include "skerry/kit/setup.hpp"
#include "skerry/kit/standing.hpp"

namespace skerry::kit {

double largest_height_m(const antenna::WireAntenna& wires) {
  double top = 0;
  for (const auto& w : wires.wires) top = std::max({top, w.from_m[2], w.to_m[2]});
  return top;
}

bool stands_alone(const Antenna& a) {
  if (a.self_standing) return true;
  if (a.wires) return largest_height_m(*a.wires) <= hand_height_m;
  // The antenna room takes a whip of 3 mm and more as a rod that carries itself.
  // So does a whip on its tripod, and a loop on its frame.
  return a.design.kind == antenna::Kind::whip || a.design.kind == antenna::Kind::small_loop ||
         (a.design.kind == antenna::Kind::vertical_loaded && a.design.wire_radius_mm >= 1.5);
}

antenna::Support support_for(const Trip& trip, const Setup& setup) {
  antenna::Support out;
  if (!setup.support) {
    // Stands by itself: as high as it is. Judgement: whips that are drawn out to each band reach 12 m at
    // most.
    const auto& d = trip.at(setup.antenna).design;
    out.usable_height_m = d.radial_height_m + (d.wire_m > 0 ? d.wire_m : 12.0);
    return out;
  }
  const auto& support = trip.at(*setup.support);
  out.usable_height_m = support.usable_height_m();
  out.conductive = support.conductive;
  out.standoff_m = support.standoff_m;
  if (setup.far_support) out.far_height_m = trip.at(*setup.far_support).usable_height_m();
  return out;
}

antenna::Design design_for(const Trip& trip, const Setup& setup) {
  antenna::Design design = trip.at(setup.antenna).design;
  design.needs_tuner = setup.tuned;
  return design;
}

antenna::FeedLine line_for(const Trip& trip, const Setup& setup) {
  antenna::FeedLine line;
  if (setup.cable) {
    const auto& cable = trip.at(*setup.cable);
    line.cable = cable.type;
    line.length_m = cable.length_m;
  }
  line.tuner = setup.tuned;
  if (setup.tuned) line.tuner_max_swr = setup.tuner ? trip.at(*setup.tuner).max_swr : Tuner{}.max_swr;
  if (setup.tuned && setup.tuner) line.tuner_loss_db = trip.at(*setup.tuner).loss_db;
  return line;
}

std::optional<antenna::Raised> raise_for(const Trip& trip, const Setup& setup, double mhz) {
  const auto& a = trip.at(setup.antenna);
  if (a.wires) return drawn(a);
  antenna::Design design = design_for(trip, setup);
  design.shapes.assign(1, setup.shape);
  auto raising = antenna::raise(design, support_for(trip, setup), mhz);
  if (raising.ways.empty()) return std::nullopt;
  return std::move(raising.ways.front());
}

antenna::Raised drawn(const Antenna& a) {
  antenna::Raised out;
  out.antenna = *a.wires;
  out.needs_tuner = a.design.needs_tuner;
  const auto& fed = nth(out.antenna.wires, out.antenna.feed.wire - 1);
  out.feed_height_m = fed.from_m[2] + out.antenna.feed.at * (fed.to_m[2] - fed.from_m[2]);
  return out;
}

}  // namespace skerry::kit
