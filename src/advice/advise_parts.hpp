// The pieces of advise(), one question each.
// Layer: advice, internal. Sees advise.hpp.
#pragma once

#include "skerry/advice/advise.hpp"

namespace skerry::advice {

class Worth;

/// Bands on which only the solver finds that a setup needs a tuner: given to the same setup with a tuner,
/// made where the inventory has one and kit saw no use for it. Solves these bands only.
void offer_tuners(const kit::Trip& trip, kit::Setups& setups, PatternBook& book);
/// Antennas with the bands that are refused on some support there with every rig, cable and tuner, and
/// why; a line for each antenna and shape.
[[nodiscard]] std::vector<UnfitBands> bands_that_cannot_be(const kit::Setups& setups,
                                                           const PatternBook& book);

/// Advice::optimum and kit.
void choose_kit(Advice& advice, const choose::Solver& solver, const AdviceOptions& options);
/// Advice::power: the packs in the kit and how long they last, of the rigs of the working setups.
void plan_power(Advice& advice, const kit::Trip& trip, const std::vector<int>& working);
void trace_frontier(Advice& advice, const choose::Solver& solver, const AdviceOptions& options);
void pair_bands(Advice& advice, const kit::Trip& trip, const ReachModel& model, const Worth& worth);
void look_at_practice(Advice& advice, const kit::Trip& trip, const ReachModel& model, const Worth& worth);

/// What a thing can never work without: the things common to all setups that use it; of a pack itself alone.
/// Empty when no setup that serves anything uses it (`used` false).
[[nodiscard]] std::vector<int> never_without(const choose::Problem& problem, int item, bool& used);

/// The same, and an end after so much work in what really costs: choose::Stop::now is asked every millisecond or
/// two of it, and asked so often at most, however dear a node is. Deterministic where the caller wishes nothing.
[[nodiscard]] choose::Stop bounded(choose::Stop stop, std::uint64_t most_asked);
/// Judgement: of the main choice, and of all questions of one sort together: some seconds. Measured: the examples'
/// searches ask under ten times.
inline constexpr std::uint64_t most_asked = 3000;
/// For one of so many questions beside the main one, not to be shared with another.
[[nodiscard]] choose::Stop aside(const AdviceOptions& options, std::size_t questions);
/// Whether the caller has had enough.
[[nodiscard]] bool ended(const AdviceOptions& options);

/// looked_at: gets the kits that were found on the way.
void judge_items(Advice& advice, const choose::Solver& solver, const AdviceOptions& options,
                 std::vector<choose::Choice>& looked_at);
void describe_uses(Advice& advice, const kit::Trip& trip, const ReachModel& model, const Worth& worth,
                   const std::vector<int>& working, const AdviceOptions& options);
/// Advice::windows.
void find_windows(Advice& advice, const kit::Trip& trip, const ReachModel& model);
/// Advice::modes.
void ask_each_mode(Advice& advice, const kit::Trip& trip, const ReachModel& model,
                   const AdviceOptions& options);
void plan_days(Advice& advice, const kit::Trip& trip);
void add_cautions(Advice& advice, const kit::Trip& trip, const ReachModel& model);
/// looked_at: the kits among which the rival is sought.
void weigh_firmness(Advice& advice, const kit::Trip& trip, const ReachModel& model,
                    const std::vector<int>& working, std::vector<choose::Choice> looked_at,
                    const AdviceOptions& options);

}  // namespace skerry::advice
