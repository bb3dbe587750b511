#include "skerry/kit/standing.hpp"

#include <algorithm>

namespace skerry::kit {

namespace {

using antenna::Shape;
using MaybeSupport = std::optional<Id<Support>>;

bool end_fed(const Antenna& a) {
  return !a.wires && (a.design.kind == antenna::Kind::end_fed_half_wave ||
                      a.design.kind == antenna::Kind::end_fed_random);
}

/// With what the antenna is asked to stand: off resonance too where a tuner is the usual remedy.
antenna::Design widest(const Antenna& a) {
  antenna::Design design = a.design;
  design.needs_tuner = design.needs_tuner || end_fed(a);
  return design;
}

bool wanted(const Antenna& a, const noise::Band& band) {
  return a.bands.empty() || std::find(a.bands.begin(), a.bands.end(), band.id) != a.bands.end();
}

/// All shapes of one antenna on one support, or one pair of supports.
class Raiser {
 public:
  Raiser(const Trip& trip, Id<Antenna> antenna, MaybeSupport support, MaybeSupport far_support)
      : trip_(trip), a_(trip.at(antenna)) {
    base_.antenna = antenna;
    base_.support = support;
    base_.far_support = far_support;
    Setup setup;
    setup.antenna = antenna;
    setup.support = support;
    setup.far_support = far_support;
    support_ = support_for(trip, setup);  // cppcheck-suppress useInitializationList ; of the setup made here
  }

  [[nodiscard]] std::vector<Standing> ways() {
    std::vector<Standing> out;
    const antenna::Design design = widest(a_);
    std::vector<Shape> shapes;
    for (const auto& band : trip_.bands) {
      if (!wanted(a_, band)) continue;
      for (const auto& way : antenna::raise(design, support_, band.mhz).ways) {
        const bool fresh = std::find(shapes.begin(), shapes.end(), way.shape) == shapes.end();
        // The second support changes only these two.
        const bool uses_far = way.shape == Shape::horizontal || way.shape == Shape::inverted_l;
        if (fresh && (!base_.far_support || uses_far)) shapes.push_back(way.shape);
      }
    }
    std::sort(shapes.begin(), shapes.end());
    for (const Shape shape : shapes) out.push_back(one_shape(design, shape));
    return out;
  }

  /// Why it stands in no way.
  [[nodiscard]] Impossible why_not() const {
    Impossible out;
    for (const auto& band : trip_.bands) {
      if (!wanted(a_, band)) continue;
      const auto more = antenna::raise(a_.design, support_, band.mhz).why_not;
      out.reasons.insert(out.reasons.end(), more.begin(), more.end());
    }
    out.why = out.reasons.empty() ? Impossible::Why::made_for_no_band : Impossible::Why::does_not_stand;
    out.antenna = base_.antenna;
    out.support = base_.support;
    return out;
  }

 private:
  Standing one_shape(antenna::Design design, Shape shape) const {
    Standing s = base_;
    s.shape = shape;
    design.shapes = {shape};
    for (std::size_t b = 0; b < trip_.bands.size(); ++b) {
      const auto& band = trip_.bands[b];
      if (!wanted(a_, band)) continue;
      const int index = static_cast<int>(b);
      const auto raising = antenna::raise(design, support_, band.mhz);
      if (raising.ways.empty()) {
        if (!raising.why_not.empty()) s.stance.refused.push_back({index, raising.why_not.front()});
        continue;
      }
      const auto& way = raising.ways.front();
      (way.needs_tuner ? s.tuned : s.plain).push_back(index);
      s.feed_height_m = std::max(s.feed_height_m, way.feed_height_m);
      for (const auto& note : way.notes) s.stance.hanging.push_back({index, note});
      ++s.stance.bands;
    }
    s.shield_m = end_fed(a_) ? a_.design.cable_counterpoise_m : 0;
    s.wants_cable = !end_fed(a_) || s.feed_height_m > hand_height_m || s.shield_m > 0;
    return s;
  }

  const Trip& trip_;
  const Antenna& a_;
  Standing base_;
  antenna::Support support_;
};

/// An antenna drawn point by point on a support: it must be as high as the highest wire.
void stand_drawn(const Trip& trip, Id<Antenna> antenna, MaybeSupport support, Standings& out) {
  const auto& a = trip.at(antenna);
  const double top = largest_height_m(*a.wires);
  if (support && trip.at(*support).usable_height_m() < top) {
    out.impossible.push_back({Impossible::Why::wires_too_high,
                              antenna,
                              support,
                              {},
                              {},
                              top,
                              trip.at(*support).usable_height_m(),
                              {}});
    return;
  }
  Standing s;
  s.antenna = antenna;
  s.support = support;
  const auto raised = drawn(a);
  for (std::size_t b = 0; b < trip.bands.size(); ++b) {
    if (wanted(a, trip.bands[b])) (raised.needs_tuner ? s.tuned : s.plain).push_back(static_cast<int>(b));
  }
  s.feed_height_m = raised.feed_height_m;
  s.wants_cable = s.feed_height_m > hand_height_m;
  if (s.plain.empty() && s.tuned.empty()) {
    out.impossible.push_back({Impossible::Why::made_for_no_band, antenna, support, {}, {}});
  } else {
    out.ways.push_back(std::move(s));
  }
}

void stand_kind(const Trip& trip, Id<Antenna> antenna, MaybeSupport support,
                const std::vector<Id<Support>>& others, Standings& out) {
  Raiser alone(trip, antenna, support, {});
  auto ways = alone.ways();
  for (const auto other : others) {
    Raiser pair(trip, antenna, support, other);
    for (auto& way : pair.ways()) {
      // A level wire between two supports is the same from either; an inverted L goes up the first.
      if (way.shape == Shape::horizontal && other < support) continue;
      ways.push_back(std::move(way));
    }
  }
  if (ways.empty()) out.impossible.push_back(alone.why_not());
  std::move(ways.begin(), ways.end(), std::back_inserter(out.ways));
}

}  // namespace

Standings find_standings(const Trip& trip) {
  Standings out;
  for (const auto a : ids_of(trip.antennas)) {
    const auto& antenna = trip.at(a);
    if (stands_alone(antenna)) {
      if (antenna.wires) {
        stand_drawn(trip, a, {}, out);
      } else {
        stand_kind(trip, a, {}, {}, out);
      }
      continue;
    }
    std::vector<Id<Support>> allowed;
    for (const auto s : ids_of(trip.supports)) {
      const auto& list = antenna.supports;
      if (list.empty() || std::find(list.begin(), list.end(), trip.at(s).item.id) != list.end())
        allowed.push_back(s);
    }
    if (allowed.empty()) out.impossible.push_back({Impossible::Why::no_support, a, {}, {}, {}});
    for (const auto s : allowed) {
      auto others = allowed;
      std::erase(others, s);
      if (antenna.wires) {
        stand_drawn(trip, a, s, out);
      } else {
        stand_kind(trip, a, s, others, out);
      }
    }
  }
  return out;
}

}  // namespace skerry::kit
