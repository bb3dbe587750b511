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
void pair_bands(Advice& advice, const kit::Trip& trip, const Worth& worth);
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

/// Advice::contacts. got: per cell, what the kit makes of it (choose::Account).
void count_contacts(Advice& advice, const kit::Trip& trip, const ReachModel& model,
                    const std::vector<double>& got);
/// Advice::items, but for what asks for other kits.
void list_items(Advice& advice, const choose::Solver& solver);
/// The rest of them. looked_at: gets the kits that were found on the way.
void judge_items(Advice& advice, const choose::Solver& solver, const AdviceOptions& options,
                 std::vector<choose::Choice>& looked_at);
void describe_uses(Advice& advice, const kit::Trip& trip, const ReachModel& model, const Worth& worth,
                   const std::vector<int>& working, const AdviceOptions& options);
/// SetupUse::mast_cost.
void cost_masts(Advice& advice, const kit::Trip& trip);
/// Advice::windows.
void find_windows(Advice& advice, const kit::Trip& trip, const ReachModel& model);
void plan_days(Advice& advice, const kit::Trip& trip);
void add_cautions(Advice& advice, const kit::Trip& trip, const ReachModel& model);
/// The best kit under each restriction. None for a trip without bags (nothing to restrict), nor for
/// `cabin_only` where no bag goes into the hold.
[[nodiscard]] std::vector<Variant> variants(const Advice& advice, const kit::Trip& trip,
                                            const choose::Stop& stop);
void find_single(Advice& advice, const choose::Solver& solver, const Worth& worth,
                 const AdviceOptions& options);
/// Advice::remedies: the changes that bring something, the best first, each with the best kit of the trip so
/// changed.
void find_remedies(Advice& advice, const kit::Trip& trip, const AdviceOptions& options);

/// Advice::outcome, and why.
void find_outcome(Advice& advice, const kit::Trip& trip);

/// What another condition makes of the problem, whatever the limit and what must go: other rows of its ways, or
/// (a session lost) other weights with one cell more, which nothing serves.
struct Case {
  Scenario scenario;
  std::vector<std::vector<float>> rows;
  std::vector<double> weights;
};
[[nodiscard]] std::vector<Case> cases_of(const kit::Trip& trip, const Advice& base, const ReachModel& model);
/// One of the wanted modes as the only one.
struct ModeCase {
  Id<noise::Mode> mode;
  std::vector<std::vector<float>> rows;  ///< empty: it is the only one
};
[[nodiscard]] std::vector<ModeCase> mode_cases_of(const kit::Trip& trip, const Advice& base,
                                                  const ReachModel& model);
/// Advice::modes.
void ask_each_mode(Advice& advice, const kit::Trip& trip, const std::vector<ModeCase>& cases,
                   const AdviceOptions& options);
/// Advice::firmness and robustness.
///   cases      of which it is asked; none: of the trip as expected alone
///   looked_at  the kits among which the rival is sought
void weigh_firmness(Advice& advice, const kit::Trip& trip, const ReachModel& model,
                    const std::vector<int>& working, const std::vector<Case>& cases,
                    std::vector<choose::Choice> looked_at, const AdviceOptions& options);

}  // namespace skerry::advice
