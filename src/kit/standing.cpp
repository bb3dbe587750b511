#include "skerry/kit/standing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>

namespace skerry::kit {

namespace {

using antenna::Shape;

std::size_t at(int index) {
  return static_cast<std::size_t>(index);
}

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

/// What is said about bands, each thing once, with the bands it is said of in front (unless that is all of
/// them).
class BandNotes {
 public:
  void add(const std::string& band, const std::string& text) {
    for (auto& [known, bands] : notes_) {
      if (known == text) {
        bands.push_back(band);
        return;
      }
    }
    notes_.push_back({text, {band}});
  }
  [[nodiscard]] std::vector<std::string> lines(std::size_t all_bands, const char* head = "") const {
    std::vector<std::string> out;
    for (const auto& [text, bands] : notes_) {
      out.push_back(bands.size() == all_bands && *head == '\0'
                        ? text
                        : fmt::format("{}{}: {}", head, fmt::join(bands, ", "), text));
    }
    return out;
  }

 private:
  std::vector<std::pair<std::string, std::vector<std::string>>> notes_;
};

bool wanted(const Antenna& a, const noise::Band& band) {
  return a.bands.empty() || std::find(a.bands.begin(), a.bands.end(), band.id) != a.bands.end();
}

/// All shapes of one antenna on one support, or one pair of supports.
class Raiser {
 public:
  Raiser(const Trip& trip, int antenna, int support, int far_support)
      : trip_(trip), a_(trip.antennas[at(antenna)]) {
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
        if (fresh && (base_.far_support < 0 || uses_far)) shapes.push_back(way.shape);
      }
    }
    std::sort(shapes.begin(), shapes.end());
    for (const Shape shape : shapes) out.push_back(one_shape(design, shape));
    return out;
  }

  /// Why it stands in no way: the reasons of all bands, the commonest first, at most three.
  [[nodiscard]] std::string why_not() const {
    std::vector<std::pair<std::string, int>> reasons;
    for (const auto& band : trip_.bands) {
      if (!wanted(a_, band)) continue;
      for (const auto& why : antenna::raise(a_.design, support_, band.mhz).why_not) {
        const auto known =
            std::find_if(reasons.begin(), reasons.end(), [&](const auto& r) { return r.first == why; });
        if (known == reasons.end()) {
          reasons.emplace_back(why, 1);
        } else {
          ++known->second;
        }
      }
    }
    if (reasons.empty()) return "made for none of the licensed bands";
    std::stable_sort(reasons.begin(), reasons.end(),
                     [](const auto& x, const auto& y) { return x.second > y.second; });
    std::string out;
    const std::size_t shown = std::min<std::size_t>(3, reasons.size());
    for (std::size_t i = 0; i < shown; ++i) out += (i == 0 ? "" : "; ") + reasons[i].first;
    if (reasons.size() > shown) out += fmt::format("; and {} more like these", reasons.size() - shown);
    return out;
  }

 private:
  Standing one_shape(antenna::Design design, Shape shape) const {
    Standing s = base_;
    s.shape = shape;
    design.shapes = {shape};
    BandNotes hanging;
    BandNotes refused;
    std::size_t good = 0;
    for (std::size_t b = 0; b < trip_.bands.size(); ++b) {
      const auto& band = trip_.bands[b];
      if (!wanted(a_, band)) continue;
      const auto raising = antenna::raise(design, support_, band.mhz);
      if (raising.ways.empty()) {
        if (!raising.why_not.empty()) refused.add(band.id, raising.why_not.front());
        continue;
      }
      const auto& way = raising.ways.front();
      (way.needs_tuner ? s.tuned : s.plain).push_back(static_cast<int>(b));
      s.feed_height_m = std::max(s.feed_height_m, way.feed_height_m);
      for (const auto& note : way.notes) hanging.add(band.id, note);
      ++good;
    }
    s.notes = hanging.lines(good);
    for (auto& line : refused.lines(0, "not on ")) s.notes.push_back(std::move(line));
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
void stand_drawn(const Trip& trip, int antenna, int support, Standings& out) {
  const auto& a = trip.antennas[at(antenna)];
  const double top = largest_height_m(*a.wires);
  if (support >= 0 && trip.supports[at(support)].usable_height_m() < top) {
    out.impossible.push_back({words_for(trip, antenna, support, -1),
                              fmt::format("its wires reach {:.1f} m, the support {:.1f} m", top,
                                          trip.supports[at(support)].usable_height_m())});
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
  s.notes = {"wires as drawn in the trip file"};
  if (s.plain.empty() && s.tuned.empty()) {
    out.impossible.push_back({words_for(trip, antenna, support, -1), "made for none of the licensed bands"});
  } else {
    out.ways.push_back(std::move(s));
  }
}

void stand_kind(const Trip& trip, int antenna, int support, const std::vector<int>& others, Standings& out) {
  Raiser alone(trip, antenna, support, -1);
  auto ways = alone.ways();
  for (const int other : others) {
    Raiser pair(trip, antenna, support, other);
    for (auto& way : pair.ways()) {
      // A level wire between two supports is the same from either; an inverted L goes up the first.
      if (way.shape == Shape::horizontal && other < support) continue;
      ways.push_back(std::move(way));
    }
  }
  if (ways.empty()) out.impossible.push_back({words_for(trip, antenna, support, -1), alone.why_not()});
  std::move(ways.begin(), ways.end(), std::back_inserter(out.ways));
}

}  // namespace

std::string words_for(const Trip& trip, int antenna, int support, int far_support) {
  std::string out = trip.antennas[at(antenna)].item.name;
  if (support >= 0) out += " on the " + trip.supports[at(support)].item.name;
  if (far_support >= 0) out += " and the " + trip.supports[at(far_support)].item.name;
  return out;
}

Standings find_standings(const Trip& trip) {
  Standings out;
  for (int a = 0; a < static_cast<int>(trip.antennas.size()); ++a) {
    const auto& antenna = trip.antennas[at(a)];
    if (stands_alone(antenna)) {
      if (antenna.wires) {
        stand_drawn(trip, a, -1, out);
      } else {
        stand_kind(trip, a, -1, {}, out);
      }
      continue;
    }
    std::vector<int> allowed;
    for (int s = 0; s < static_cast<int>(trip.supports.size()); ++s) {
      const auto& list = antenna.supports;
      if (list.empty() || std::find(list.begin(), list.end(), trip.supports[at(s)].item.id) != list.end())
        allowed.push_back(s);
    }
    if (allowed.empty()) out.impossible.push_back({antenna.item.name, "there is no support to hang it on"});
    for (const int s : allowed) {
      std::vector<int> others;
      std::copy_if(allowed.begin(), allowed.end(), std::back_inserter(others), [s](int o) { return o != s; });
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
