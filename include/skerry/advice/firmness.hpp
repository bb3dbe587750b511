// How the choice stands under other conditions than the expected.
// Layer: advice. Sees everything above it. Plain values.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "skerry/choose/choose.hpp"
#include "skerry/kit/trip.hpp"

namespace skerry::advice {

/// How firm the choice is. The rival is the kit, of all looked at (the frontier, the best without and with each
/// thing, the best of each scenario), whose mean over the trip as expected and all scenarios is highest.
struct Firmness {
  double fragile = 0;                       ///< share of weight served now, by less than edge_days to spare
  double nearly = 0;                        ///< share not served, by less than edge_days
  std::optional<choose::Choice> runner_up;  ///< the rival
  std::vector<int> comes, goes;             ///< things of the rival that the kit lacks, and the other way
  double mean_lead = 0;  ///< of the kit over the rival, over all cases, paired; may be negative
  double ahead = 0;      ///< share of the cases in which the rival leads by more than the tolerance
  double low_r12 = 0, high_r12 = 0;
  double reach_low = 0, reach_high = 0;  ///< of the kit at low and high activity, same layouts
  double runner_up_low = 0, runner_up_high = 0;
  bool asked_the_sun = false;
  /// The rival leads by more than the tolerance in a quarter of the cases or more, or is within it in the mean
  /// and no heavier.
  bool toss_up = false;
  enum class Why : std::uint8_t {
    nothing_reached,
    no_other_kit,
    overtaken,     ///< toss_up: in `ahead` of the cases, among them Robustness::scenarios[overtaken_in]
    too_near,      ///< toss_up
    ahead_in_all,  ///< of the cases asked, or within the tolerance
    ahead          ///< in most of the cases, or none was asked
  };
  Why why = Why::nothing_reached;
  std::optional<std::size_t> overtaken_in;  ///< where the rival leads most
};
/// Judgement: days in ten within which a forecast of this kind cannot tell served from not served.
inline constexpr double edge_days = 0.7;

/// The trip under one other condition; layouts of the wires as chosen.
struct Scenario {
  enum class Kind : std::uint8_t {
    quieter_sun,     ///< R12 `amount`
    active_sun,      ///< R12 `amount`
    noisier_site,    ///< and partners, by one class
    worse_antennas,  ///< by `amount` dB
    better_antennas,
    two_limits,  ///< far paths by the standard's own method for them
    no_sporadic_e,
    poorer_ground,  ///< under the antennas, by one class, the sea where it is. Asked of the kit, its rival and the
    better_ground,  ///< robust kit alone, on the bands that each uses: `best` is the best of these three
    session_lost    ///< Trip::sessions[session] of `day`; reach is still a share of all that was wanted
  };
  Kind kind = Kind::noisier_site;
  double amount = 0;
  std::optional<Id<kit::Session>> session;
  Day day{};
  double kit = 0;        ///< reach of the recommended kit
  double runner_up = 0;  ///< of Firmness::runner_up
  double robust = 0;     ///< of Robustness::kit
  double best = 0;       ///< of the kit that is best in this condition
};
/// The kit with the best worst case: highest least reach over all scenarios and the trip as expected.
struct Robustness {
  std::vector<Scenario> scenarios;
  choose::Choice kit;  ///< of all kits looked at: the frontier, the best of each scenario and of their mean
  double worst = 0, worst_of_chosen = 0;
  double bound = 0;     ///< no kit whatever has a better worst case
  bool proved = false;  ///< worst == bound
  bool differs =
      false;  ///< its worst case is better than the recommended kit's by more than half a percent and the tolerance
};

}  // namespace skerry::advice
