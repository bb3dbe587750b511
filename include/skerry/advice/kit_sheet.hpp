// What one owns, on one sheet: masses, rules, bags, batteries, setups; nothing about propagation.
// Layer: advice. Sees everything above it.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "skerry/advice/bags.hpp"
#include "skerry/advice/inventory.hpp"
#include "skerry/kit/setup.hpp"

namespace skerry::advice {

/// One thing and one bag, both by themselves.
struct BagFit {
  bool fits = false;     ///< in size, when the bag is empty
  bool allowed = false;  ///< cabin or hold by the rule
  bool light = false;    ///< its mass alone is within what the bag takes
  /// Of a tube: how it lies, and the longest one of its diameter.
  kit::Lie lie = kit::Lie::no_way;
  kit::TubeFit longest;
};

/// Hours a battery alone runs a rig that it suits, in the hungriest wanted mode the rig has.
struct RunTime {
  Id<kit::Rig> rig;
  Id<noise::Mode> mode;
  double hours = 0;
  double power_w = 0;  ///< what the rig sends on it
};

struct KitLine {
  kit::Verdict air;
  std::vector<BagFit> bags;                     ///< one per bag of the trip
  std::optional<double> watt_hours, usable_wh;  ///< of batteries
  std::vector<RunTime> runs;                    ///< of batteries
};

/// Why a possible setup cannot be carried with the lightest packs of its rig and what always goes.
struct NotCarried {
  enum class Why : std::uint8_t { carried, no_power, thing, mass, bags };
  Why why = Why::carried;
  std::optional<int> thing{};        ///< the excluded thing that it needs, index into Inventory::things
  std::optional<BagProblem> bags{};  ///< the first of them
};

struct KitSheet {
  Inventory inventory;
  std::vector<KitLine> lines;  ///< one per Inventory::things
  kit::Setups setups;
  std::vector<NotCarried> not_carried;  ///< per possible setup
  std::vector<int> setups_of_antenna;   ///< possible ones, per Trip::antennas
  double mass_g = 0;                    ///< of everything, forbidden things included
  double flying_g = 0;                  ///< of what may come
  double need_hours = 0;                ///< the longest day of operation
  /// Everything that may come, shared out at once; nullopt: it does not go, see `why_not`.
  std::optional<BagPlan> all_in_bags;
  std::vector<BagProblem> why_not;
  std::vector<kit::RuleNote> notes;
  bool rules_outdated = false;  ///< for the last day of the trip
};

/// cost  under 1 ms for 20 things; tests/cli/kit_test.cpp
[[nodiscard]] KitSheet kit_sheet(const kit::Trip& trip);

}  // namespace skerry::advice
