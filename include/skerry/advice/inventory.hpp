// The things of a trip as one list: which may go at all, and which batteries each rig takes.
// Layer: advice. Sees everything above it.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "skerry/kit/rules.hpp"
#include "skerry/kit/trip.hpp"

namespace skerry::advice {

enum class ThingKind { rig, antenna, support, cable, tuner, battery, item };

/// Why a thing cannot come.
enum class Exclusion : std::uint8_t {
  none,
  forbidden,     ///< by air (Thing::air)
  no_hold_bag,   ///< goes in the hold only, and no bag goes there
  no_cabin_bag,  ///< the same of the cabin
  too_large      ///< for every bag that it may go into
};

struct Thing {
  std::string id, name;
  ThingKind kind = ThingKind::item;
  int index = 0;  ///< in the trip's list of that kind
  double mass_g = 0;
  int count = 1;  ///< the file has so many of it, all alike: "guy (2 of 8)"
  bool always = false;
  bool excluded = false;  ///< cannot come
  Exclusion exclusion = Exclusion::none;
  kit::Verdict air;  ///< cabin or hold
};

/// Some batteries that a rig may run on together, one pack after the other.
struct PackSet {
  std::vector<int> batteries;  ///< indices into Trip::batteries, sorted; empty: power is at the site
  double mass_g = 0;
  double lasts_hours = 0;
  double packed_wh = 0;  ///< usable, nominal volts
  /// Of all hours on the air, with the packs charged from day to day: sum of min(day, lasts) over sum of day.
  double share = 1;
};

/// Which batteries go with a rig: of all legal sets of at most four that suit its voltage, the lightest that
/// lasts the longest day in the hungriest wanted mode; when none lasts, the one that lasts longest. `sets`
/// holds the candidates between which the choice is free.
struct BatteryPlan {
  Id<kit::Rig> rig;
  std::vector<int> batteries;           ///< indices into Trip::batteries, sorted
  std::optional<Id<noise::Mode>> mode;  ///< of Trip::modes: the hungriest the rig has
  double mean_current_a = 0;
  double need_hours = 0;   ///< kit::longest_day_hours
  double lasts_hours = 0;  ///< one pack after the other
  double need_wh = 0;      ///< at the rig's voltage
  double packed_wh = 0;    ///< usable, nominal volts
  double mass_g = 0;
  double share = 1;  ///< see PackSet
  bool enough = false;
  /// Legal sets none of whose parts lasts as long, by rising mass: all of them where they are at most
  /// `most_pack_sets`; otherwise those that no lighter set outlasts, thinned to that number with the lightest
  /// and the longest kept.
  std::vector<PackSet> sets;
  /// False: the rig has none of the wanted modes (no `mode`), or batteries are listed but none suits it (or
  /// none may fly).
  bool possible = true;
};

struct Inventory {
  std::vector<Thing>
      things;  ///< rigs, antennas, supports to be carried, cables, tuners, batteries, items; file order
  std::map<std::string, int> by_id;
  std::vector<BatteryPlan> power;  ///< per rig
  bool batteries_listed = false;   ///< none listed: power is found at the site, energy is not judged
};
inline constexpr std::size_t most_pack_sets = 6;
/// The plan with another of its sets.
[[nodiscard]] BatteryPlan with_set(const BatteryPlan& plan, const PackSet& set);
/// The wanted mode that takes most current, of those the rig has; the better wished among equals.
[[nodiscard]] std::optional<Id<noise::Mode>> hungriest_mode(const kit::Trip& trip, const kit::Rig& rig);
[[nodiscard]] Inventory take_inventory(const kit::Trip& trip);

/// Things that can stand in for each other have the same number: all of them is equal but id, name and place in
/// the file, and whatever names one of them (supports, needs) names the others too. One entry for each of
/// Inventory::things; none: the only one of its kind.
[[nodiscard]] std::vector<std::optional<int>> kinds_of(const kit::Trip& trip, const Inventory& inventory);

}  // namespace skerry::advice
