// The things of a trip as one list: which may go at all, and which batteries each rig takes.
// Layer: advice. Sees everything above it.
#pragma once

#include <cstdint>
#include <map>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "skerry/kit/rules.hpp"
#include "skerry/kit/trip.hpp"

namespace skerry::advice {

enum class ThingKind { rig, antenna, support, cable, tuner, battery, item };

/// Why a thing cannot come.
enum class Exclusion : std::uint8_t {
  none,
  absent,        ///< kit::Item::absent
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

/// What one pack gives to a rig.
struct Feed {
  int battery = 0;   ///< index into Trip::batteries
  double hours = 0;  ///< on the air, in the modes that count
  double usable_wh = 0;
  double power_w = 0;  ///< what the rig sends on it
  double drawn_w = 0;  ///< mean, in the modes that count
  /// Of all hours on the air, with this pack alone charged from day to day: sum of min(day, hours) over sum of
  /// day.
  double share = 1;
};

/// What a rig draws, and the packs that feed it, one after the other: of those carried (`batteries`), or before
/// a choice is made all that may come.
struct BatteryPlan {
  Id<kit::Rig> rig;
  std::vector<int> batteries;           ///< indices into Trip::batteries, sorted
  std::optional<Id<noise::Mode>> mode;  ///< of Trip::modes: what counts most of those the rig has
  double mean_current_a = 0;            ///< over the modes that count, at the rig's own voltage
  double need_hours = 0;                ///< kit::longest_day_hours
  double lasts_hours = 0;
  double need_wh = 0;       ///< at the voltage of these packs, as far as there are any
  double packed_wh = 0;     ///< usable, nominal volts
  double power_w = 0;       ///< sent on the weakest of these packs; without any, the rig's own
  std::vector<int> panels;  ///< indices into Trip::items, sorted: those carried that charge the packs
  double sun_hours = 0;     ///< that they add between one day and the next
  double mass_g = 0;
  double share = 1;  ///< of all hours on the air; see Feed::share
  bool enough = false;
  std::vector<Feed> feeds;  ///< every pack that suits the rig and may come
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
/// The plan with these packs, of which it feeds on those that suit, and with these panels (indices into Trip::items).
[[nodiscard]] BatteryPlan with_packs(const kit::Trip& trip, const BatteryPlan& plan,
                                     const std::vector<int>& batteries, const std::vector<int>& panels);
/// What a panel adds between two days, in hours of a rig on some of its feeds: on that from which it draws most.
[[nodiscard]] double sun_hours(double sun_wh, std::span<const Feed> feeds);
/// Days of the trip with hours on the air.
[[nodiscard]] int days_on_air(const kit::Trip& trip);
/// Items that charge packs on this trip, indices into Trip::items.
[[nodiscard]] std::vector<int> panels_of(const kit::Trip& trip);
/// The wanted mode that counts most of those the rig has; the better wished among equals.
[[nodiscard]] std::optional<Id<noise::Mode>> leading_mode(const kit::Trip& trip, const kit::Rig& rig);
/// How much of the operating counts in each of Trip::modes, 0..1, over all minutes of session: Trip::share_of, unless
/// sessions have modes of their own.
[[nodiscard]] std::vector<double> counted_shares(const kit::Trip& trip);
/// What the rig draws on average at a voltage, A, over the modes that count; it has one of the wanted ones at least.
[[nodiscard]] double mean_current_a(const kit::Trip& trip, const kit::Rig& rig, double volts);
/// Of all hours on the air, with packs that last so long: sum of min(day, lasts) over sum of day, charged as
/// the trip says; by the Sun for so many hours between one day and the next.
[[nodiscard]] double share_of_hours(const kit::Trip& trip, double lasts_hours, double sun_hours = 0);
[[nodiscard]] Inventory take_inventory(const kit::Trip& trip);

/// Things that can stand in for each other have the same number: all of them is equal but id, name and place in
/// the file, and whatever names one of them (supports, needs) names the others too. One entry for each of
/// Inventory::things; none: the only one of its kind.
[[nodiscard]] std::vector<std::optional<int>> kinds_of(const kit::Trip& trip, const Inventory& inventory);

}  // namespace skerry::advice
