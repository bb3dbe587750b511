// How much there is to compute for a trip, and what is too much to be meant.
#include <fmt/format.h>

#include <algorithm>

#include "readers.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/kit/energy.hpp"
#include "skerry/kit/standing.hpp"

namespace skerry::files {

namespace {

// Judgement, all of them: several times the largest kit and list of regions anybody would describe, and low
// enough that the answer comes within seconds and 500 MB. Measured: on one core of 2026, 1000 circuits take 1
// s and 40 MB, 1000 solutions of plain wires 3 s, 1000 setups 0.5 s (tests/cli/hostile_test.cpp holds the sum
// to its promise).
constexpr double most_circuits = 4000;
constexpr double most_ways_to_look_at = 4000;
constexpr double most_setups = 5000;
constexpr double most_solving = 5000;
constexpr double most_packs = 20;
constexpr std::size_t most_of_a_kind = 200;  // as many as there may be tables: counts do not get round it

/// Work of one solution over real ground, 1 for a wire of about 30 pieces. The time grows between the square
/// (of filling) and the cube (of solving) of the pieces; a wire has four pieces at least.
double solving_work(const Antenna& a) {
  double wires = 2;
  if (a.wires) {
    wires = static_cast<double>(a.wires->wires.size());
  } else if (a.design.kind == antenna::Kind::vertical_quarter ||
             a.design.kind == antenna::Kind::vertical_loaded || a.design.kind == antenna::Kind::whip) {
    wires = 1 + a.design.radials;
  }
  const double share = std::max(1.0, wires * 4 / 30);
  // What is cut to a band is solved some times over while it is trimmed.
  return share * share * (a.wires ? 1 : 3);
}

bool stands_on(const Support& support, const Site& site) {
  return !support.at_site || support.sites.empty() ||
         std::find(support.sites.begin(), support.sites.end(), site.id) != support.sites.end();
}

struct Heaviest {
  double work = 0;
  const Item* item = nullptr;
  void offer(double other, const Item& it) {
    if (other <= work) return;
    work = other;
    item = &it;
  }
};

toml::source_position at_line(int line) {
  toml::source_position at;
  at.line = static_cast<toml::source_index>(std::max(1, line));
  at.column = 1;
  return at;
}

/// Where in the trip file a thing stands, or where the library is named that holds it.
toml::source_position place_of(const Item& item, const Reading& reading) {
  return item.library && reading.library_named ? reading.library_named->at : at_line(item.line);
}

void check_circuits(Reading& reading) {
  const Trip& trip = reading.trip;
  double points = 0;
  for (const auto& target : trip.targets) points += static_cast<double>(target.people.size());
  const double circuits = points * static_cast<double>(trip.sites.size() * trip.bands.size());
  if (circuits <= most_circuits) return;
  reading.mistakes.add(at_line(reading.first_region_line),
                       fmt::format("{:.0f} circuits: sites times points of regions times bands", circuits),
                       fmt::format("at most {:.0f}", most_circuits),
                       "fewer points a region (three stand for it well), fewer regions, or several trips");
}

void check_packs(Reading& reading) {
  const Trip& trip = reading.trip;
  if (static_cast<double>(trip.batteries.size()) <= most_packs) return;
  reading.mistakes.add(place_of(nth(trip.batteries, most_packs).item, reading),
                       fmt::format("{} batteries", trip.batteries.size()),
                       fmt::format("at most {:.0f}", most_packs),
                       "leave out what will not come: sets of up to four packs are compared");
}

void check_number(Reading& reading) {
  const auto look = [&](const auto& list, const char* kind, const auto& item_of) {
    if (list.size() <= most_of_a_kind) return;
    reading.mistakes.add(place_of(item_of(nth(list, most_of_a_kind)), reading),
                         fmt::format("{} things of the kind [[{}]], with their counts", list.size(), kind),
                         fmt::format("at most {}", most_of_a_kind), "leave out what will not come");
  };
  const auto inside = [](const auto& thing) -> const Item& { return thing.item; };
  const Trip& trip = reading.trip;
  look(trip.rigs, "rig", inside);
  look(trip.antennas, "antenna", inside);
  look(trip.supports, "support", inside);
  look(trip.cables, "cable", inside);
  look(trip.tuners, "tuner", inside);
  look(trip.items, "item", [](const Item& item) -> const Item& { return item; });
}

/// False where the inventory cannot even be looked at.
bool check_pairs(Reading& reading) {
  const Trip& trip = reading.trip;
  double looks = 0;
  Heaviest heaviest;
  for (const auto& a : trip.antennas) {
    const double on = a.supports.empty() ? static_cast<double>(trip.supports.size())
                                         : static_cast<double>(a.supports.size());
    const double mine = a.wires ? on : on * on;
    looks += mine;
    heaviest.offer(mine, a.item);
  }
  if (looks <= most_ways_to_look_at) return true;
  reading.mistakes.add(
      place_of(*heaviest.item, reading), fmt::format("{:.0f} pairs of supports to hang antennas on", looks),
      fmt::format("at most {:.0f}", most_ways_to_look_at),
      fmt::format("supports = [...] of '{}' and others says which are meant", heaviest.item->id));
  return false;
}

void check_setups(Reading& reading) {
  const Trip& trip = reading.trip;
  double setups = 0, solving = 0;
  Heaviest most_of_setups, most_of_solving;
  // Each rig once for every output that packs of several voltages give it, and for every set of panels.
  double rigs = 0;
  for (const auto& rig : trip.rigs)
    rigs += static_cast<double>(std::max<std::size_t>(1, outputs_w(trip, rig).size()));
  if (trip.charging == Charging::solar) {
    for (const auto& item : trip.items) rigs *= item.solar_w > 0 ? 2 : 1;
  }
  const double tuners = static_cast<double>(std::max<std::size_t>(1, trip.tuners.size()));
  for (const auto& way : find_standings(trip).ways) {
    const auto& a = trip.at(way.antenna);
    double sites = 0;
    for (const auto& site : trip.sites) {
      bool stands = true;
      for (const auto s : {way.support, way.far_support})
        stands = stands && (!s || stands_on(trip.at(*s), site));
      sites += stands ? 1 : 0;
    }
    const double cables =
        way.wants_cable ? static_cast<double>(std::max<std::size_t>(1, trip.cables.size())) : 1.0;
    const double mine =
        sites * rigs * cables * (way.tuned.empty() ? 1 : (way.plain.empty() ? 0 : 1) + tuners);
    const double work = sites * static_cast<double>(way.plain.size() + way.tuned.size()) * solving_work(a);
    setups += mine;
    solving += work;
    most_of_setups.offer(mine, a.item);
    most_of_solving.offer(work, a.item);
  }
  if (setups > most_setups) {
    reading.mistakes.add(
        place_of(*most_of_setups.item, reading),
        fmt::format(
            "{:.0f} ways to combine rigs (on packs of each voltage), antennas, supports, cables and tuners",
            setups),
        fmt::format("at most {:.0f}", most_setups),
        fmt::format("supports = [...] of '{}' and others says which are meant, or list less",
                    most_of_setups.item->id));
  }
  if (solving > most_solving) {
    reading.mistakes.add(
        place_of(*most_of_solving.item, reading),
        fmt::format("antennas whose currents take {:.0f} times as long as one plain wire's", solving),
        fmt::format("at most {:.0f}", most_solving),
        fmt::format("fewer wires or radials of '{}', bands = [...], supports = [...], or list less",
                    most_of_solving.item->id));
  }
}

}  // namespace

void check_work(Reading& reading) {
  check_circuits(reading);
  check_packs(reading);
  check_number(reading);
  if (check_pairs(reading)) check_setups(reading);
}

}  // namespace skerry::files
