// Air rules, bags and batteries in words.
// Layer: words. Sees everything above it.
#pragma once

#include <string>
#include <vector>

#include "skerry/advice/kit_sheet.hpp"

namespace skerry::words {

/// The sentence that goes wherever a verdict is shown.
extern const char* const rules_caution;

/// "cabin or hold", "cabin only", "hold only", "not on a passenger flight".
[[nodiscard]] const char* place_text(kit::Place place);
/// The same with ", airline must agree" and ", ask".
[[nodiscard]] std::string place_text(const kit::Verdict& verdict);
/// One sentence, with the numbers.
[[nodiscard]] std::string air_why(const kit::Verdict& verdict);
/// Why a thing cannot come; empty when it can.
[[nodiscard]] std::string why_excluded(const kit::Trip& trip, const advice::Thing& thing);

/// Where a bag is larger or heavier than usual.
[[nodiscard]] std::vector<std::string> bag_notes(const kit::Bag& bag);
/// Long things that lie aslant, and the same.
[[nodiscard]] std::vector<std::string> bag_notes(const kit::Trip& trip, const advice::Inventory& inventory,
                                                 const advice::BagLoad& load);
[[nodiscard]] std::string bag_problem(const kit::Trip& trip, const advice::Inventory& inventory,
                                      const advice::BagProblem& problem);
[[nodiscard]] std::vector<std::string> bag_problems(const kit::Trip& trip, const advice::Inventory& inventory,
                                                    const std::vector<advice::BagProblem>& problems);
/// Why a setup cannot be carried; empty when it can.
[[nodiscard]] std::string not_carried(const kit::Trip& trip, const advice::KitSheet& sheet,
                                      std::size_t setup);

/// How long a rig's packs last, or why it has none.
[[nodiscard]] std::string power_why(const kit::Trip& trip, const advice::BatteryPlan& plan);
/// What it draws and sends on its packs and in which modes, and which packs of the list it does not take.
[[nodiscard]] std::vector<std::string> power_notes(const kit::Trip& trip, const advice::BatteryPlan& plan);
/// When packs are charged, and for what the hours are; empty where that makes no difference.
[[nodiscard]] std::string charging_text(const kit::Trip& trip);
/// "11.0 to 15.2 V"
[[nodiscard]] std::string volts_text(const kit::Rig& rig);
/// Why no rig of the trip takes a pack: "7.4 V: the rig takes 11.0 to 15.2 V"; empty where one does.
[[nodiscard]] std::string taken_by_none(const kit::Trip& trip, const kit::Battery& battery);
/// Of the hours wanted, what packs last for: "56 %"; "100 %" only where they do.
[[nodiscard]] std::string of_hours(double share);

}  // namespace skerry::words
