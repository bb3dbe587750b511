// What may fly, and in which bag: the usual rules, dated; the airline and the authorities have the last word.
// Layer: kit. Sees everything above it.
// Source of the rules: data/air/rules.toml, each with its own source and dates.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "skerry/kit/trip.hpp"

namespace skerry::kit {

enum class Place { either, cabin_only, hold_only, forbidden };

/// Why a rule applies, with the numbers that decide.
struct AirReason {
  enum class Kind : std::uint8_t {
    as_the_rule_says,  ///< rule_text()
    // Of lithium packs: `limit` Wh is free, `upper_limit` the most with approval.
    too_much_energy,
    usb_outlet,
    spare,
    in_equipment,
    // Of others.
    nickel,
    lead_acid,        ///< `limit` V and `upper_limit` Wh
    large_container,  ///< `amount` ml, over `limit` ml
    liquid,           ///< `amount` ml; `limit` ml of all liquids per person
    long_and_rigid,   ///< `amount` cm
    ordinary,
    electronics,
    wire
  } kind = Kind::ordinary;
  double amount = 0, limit = 0, upper_limit = 0;
  double each = 0;                                  ///< at most so many per person
  double volts = 0, amp_hours = 0, watt_hours = 0;  ///< of batteries; watt-hours to 0.001
};

struct Verdict {
  std::string item;  ///< id
  Place place = Place::either;
  bool approval = false;         ///< needs the operator's approval
  bool arguable = false;         ///< security staff may decide otherwise
  bool cabin_preferred = false;  ///< may go in the hold, but is better not there (value, shock, inspection)
  AirReason reason;
  std::string rule;       ///< id of the rule applied
  std::string rule_date;  ///< since when the rule stands, or when it was last checked: "2026-03-27"
};

/// One verdict per thing of the inventory, batteries first, then the rest in the order of the file; things
/// found at the site have none.
[[nodiscard]] std::vector<Verdict> judge(const Trip& trip);
/// The watt-hours are rounded to 0.001 before they are compared: 12.5 Ah x 12.8 V is 160 Wh and not above.
[[nodiscard]] Verdict judge(const Battery& battery);
[[nodiscard]] Verdict judge(const Item& item);

/// Too many batteries of one kind carried together.
struct CountProblem {
  enum class What : std::uint8_t { spares, devices, medium_spares, power_banks, lead_acid_spares };
  What what = What::spares;
  long found = 0, each = 0;  ///< so many; at most so many per person
  int people = 1;
  std::string since;  ///< date of the rule
};
/// All sorts of batteries that are counted.
inline constexpr std::array counted_batteries{
    CountProblem::What::spares, CountProblem::What::devices, CountProblem::What::medium_spares,
    CountProblem::What::power_banks, CountProblem::What::lead_acid_spares};
/// Whether a battery is of that sort; a spare over 100 Wh is a spare too.
[[nodiscard]] bool counts_as(const Battery& battery, CountProblem::What what);
/// At most so many of that sort per person.
[[nodiscard]] long most_per_person(CountProblem::What what);
/// What is wrong with `found` of them.
[[nodiscard]] CountProblem too_many(CountProblem::What what, long found, int people);
/// What is wrong with the number of batteries carried together: spares in all, batteries in equipment, spares
/// over 100 Wh, power banks, lead-acid spares, each per person. Empty: nothing. people >= 1.
[[nodiscard]] std::vector<CountProblem> count_problems(std::span<const Battery> carried, int people);
/// The rule in the words of its table.
[[nodiscard]] std::string rule_text(const std::string& rule);

/// A duty or a limit of the rule table beside those on single things.
struct RuleNote {
  std::string id, text, since;
};
/// Those that concern this inventory: protected terminals, tested types, devices in the hold, liquids ...
[[nodiscard]] std::vector<RuleNote> rule_notes(const Trip& trip);
/// Where a bag is larger or heavier than what fares usually allow. The outside of a bag is at least its
/// inside, so a bag is named only when it must be too large.
struct BagExcess {
  std::array<double, 3> inner_cm{};               ///< longest first
  std::optional<std::array<double, 3>> usual_cm;  ///< what most airlines allow in the cabin
  std::optional<double> sum_cm, mass_g;           ///< what is usual in the hold
};
[[nodiscard]] BagExcess bag_excess(const Bag& bag);
/// Liquids that one person may take through security, ml in all; containers of at most liquid_container_ml.
[[nodiscard]] double liquid_bag_ml();
[[nodiscard]] double liquid_container_ml();

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

/// How a tube goes into an empty box: what all its directions have in common, and some of them. Components are
/// along the box's sides, all >= 0 (mirrored ones hold as well).
struct TubeWays {
  std::array<double, 3> play_cm{};          ///< the most by which its middle can be off the box's middle
  std::array<double, 3> along_cm{};         ///< the least of L u + D/2 sqrt(1 - u^2): axis and one rim
  std::array<double, 3> across_cm{};        ///< the least of D/2 sqrt(1 - u^2)
  std::vector<std::array<double, 3>> some;  ///< unit directions that hold, the outermost and one between
};
/// nullopt: it does not go in. Exact but for rounding, as longest_tube: where the squares of a direction's
/// components may lie is known in closed form, and the widths are concave in each component.
[[nodiscard]] std::optional<TubeWays> ways_of_tube(const std::array<double, 3>& inner_cm,
                                                   const std::array<double, 2>& tube_cm);

/// Whether one thing alone goes into an empty bag whose inner sides are the bag's `lining_cm` shorter than
/// told. A thing without size is soft and always fits.
///   tubes  exact, in any direction
///   boxes  set parallel to the sides; a long thin one also as the tube around it, so a tilted flat box may
///          be refused in vain
[[nodiscard]] bool fits(const Item& item, const Bag& bag);
/// Inner sides less lining, cm, shortest first; nullopt when nothing of a side is left.
[[nodiscard]] std::optional<std::array<double, 3>> clear_sides_cm(const Bag& bag);

/// How a long thing has to lie in a bag: the simplest way that works.
enum class Lie { no_way, along_a_side, across_a_face, corner_to_corner };
/// For the tube of a diameter; `across_a_face` on the diagonal of the largest face, `corner_to_corner`
/// through the empty bag.
[[nodiscard]] Lie lie_of_tube(const std::array<double, 2>& tube_cm, const Bag& bag);

}  // namespace skerry::kit
