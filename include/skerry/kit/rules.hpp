// What may fly, and in which bag: the usual rules, dated; the airline and the authorities have the last word.
// Layer: kit. Sees everything above it.
// Source of the rules: data/air/rules.toml, each with its own source and dates.
#pragma once

#include <array>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "skerry/kit/trip.hpp"

namespace skerry::kit {

enum class Place { either, cabin_only, hold_only, forbidden };
/// "cabin or hold", "cabin only", "hold only", "not on a passenger flight".
[[nodiscard]] std::string to_text(Place place);

struct Verdict {
  std::string item;  ///< id
  Place place = Place::either;
  bool approval = false;         ///< needs the operator's approval
  bool arguable = false;         ///< security staff may decide otherwise
  bool cabin_preferred = false;  ///< may go in the hold, but is better not there (value, shock, inspection)
  std::string why;               ///< one sentence, with the numbers
  std::string rule;              ///< id of the rule applied
  std::string rule_date;         ///< since when the rule stands, or when it was last checked: "2026-03-27"
};

/// One verdict per thing of the inventory, batteries first, then the rest in the order of the file; things
/// found at the site have none.
[[nodiscard]] std::vector<Verdict> judge(const Trip& trip);
/// The watt-hours are rounded to 0.001 before they are compared: 12.5 Ah x 12.8 V is 160 Wh and not above.
[[nodiscard]] Verdict judge(const Battery& battery);
[[nodiscard]] Verdict judge(const Item& item);

/// What is wrong with the number of batteries carried together: spares in all, spares over 100 Wh, power
/// banks, lead-acid spares, batteries in equipment, each per person. Empty: nothing. people >= 1.
[[nodiscard]] std::vector<std::string> count_problems(std::span<const Battery> carried, int people);

/// A duty or a limit of the rule table beside those on single things.
struct RuleNote {
  std::string id, text, since;
};
/// Those that concern this inventory: protected terminals, tested types, devices in the hold, liquids ...
[[nodiscard]] std::vector<RuleNote> rule_notes(const Trip& trip);
/// Where a bag is larger or heavier than what fares usually allow, one sentence each. The outside of a bag is
/// at least its inside, so a bag is named only when it must be too large.
[[nodiscard]] std::vector<std::string> bag_notes(const Bag& bag);
/// Liquids that one person may take through security, ml in all; containers of at most liquid_container_ml.
[[nodiscard]] double liquid_bag_ml();
[[nodiscard]] double liquid_container_ml();

/// The sentence that goes wherever a verdict is shown.
extern const char* const rules_caution;
/// The day the rule table was last checked, and the last day for which it claims to hold.
[[nodiscard]] Day rules_checked();
[[nodiscard]] Day rules_valid_until();
/// True when the day is after the one the rule table claims to hold for.
[[nodiscard]] bool rules_outdated(Day day);

/// Longest cylinder of a diameter in an empty rigid box, cm: in any direction, and lying on the largest face.
struct TubeFit {
  double solid_cm = 0, flat_cm = 0;  ///< 0: does not go in at all
};
/// Exact but for rounding (1e-9 cm). Along direction u the box side i must hold L |u_i| + D sqrt(1 - u_i^2),
/// the width of a cylinder with flat ends seen from side i. All arguments > 0.
[[nodiscard]] TubeFit longest_tube(const std::array<double, 3>& inner_cm, double diameter_cm);

/// Whether one thing alone goes into an empty bag whose inner sides are the bag's `lining_cm` shorter than
/// told. A thing without size is soft and always fits.
///   tubes  exact, in any direction
///   boxes  set parallel to the sides; a long thin one also as the tube around it, so a tilted flat box may
///   be refused in vain
[[nodiscard]] bool fits(const Item& item, const Bag& bag);
/// Inner sides less lining, cm, shortest first; nullopt when nothing of a side is left.
[[nodiscard]] std::optional<std::array<double, 3>> clear_sides_cm(const Bag& bag);

/// How a long thing has to lie in a bag: the simplest way that works.
enum class Lie { no_way, along_a_side, across_a_face, corner_to_corner };
/// For the tube of a diameter; `across_a_face` on the diagonal of the largest face, `corner_to_corner`
/// through the empty bag.
[[nodiscard]] Lie lie_of_tube(const std::array<double, 2>& tube_cm, const Bag& bag);

}  // namespace skerry::kit
