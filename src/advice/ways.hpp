// From setups and packs to the problem that choose::Solver solves, and back: what a kit's setups are worth.
// Layer: advice, internal. Sees advise.hpp.
#pragma once

#include <map>
#include <utility>

#include "skerry/advice/advise.hpp"
#include "skerry/core/nth.hpp"

namespace skerry::advice {

/// Minutes to put up what a setup needs: its antenna and its supports one after the other.
[[nodiscard]] double setup_minutes(const kit::Trip& trip, const kit::Setup& setup);
/// Share of a site's session time that is left when this is put up and taken down in each session.
[[nodiscard]] double time_left_after(const kit::Trip& trip, int site, double setup_minutes);

/// Into a problem: limit, things, what feeds the rigs and which ways there are, as this trip and its inventory have
/// them; a way's row is its setup's.
void lay_out_things(choose::Problem& problem, const kit::Trip& trip, const Inventory& inventory,
                    const kit::Setups& setups);
/// A row for each possible setup, as the model has it.
[[nodiscard]] std::vector<std::vector<float>> rows_of(const kit::Trip& trip, const kit::Setups& setups,
                                                      const ReachModel& model);

/// The weight that the choice counts, per cell of the model: by the sky, or by the people too.
[[nodiscard]] std::vector<double> weights_of(const kit::Trip& trip, const ReachModel& model);

/// The working ways of a kit over the cells, as the choice counts them: each setup's chances, with what putting
/// it up takes off, in the hours that its rig is worked. Keeps references.
class Worth {
 public:
  /// account: of the kit, from choose::Solver.
  Worth(const kit::Trip& trip, const Advice& advice, const ReachModel& model, const choose::Account& account,
        std::vector<double> weights);

  /// Some setups, or some bands of them; share of all weight, 0..1.
  using Row = std::pair<int, const std::vector<float>*>;  ///< a setup and its chances, or those on one band
  [[nodiscard]] double of(std::span<const Row> rows) const;
  [[nodiscard]] double of(const std::vector<int>& setups) const;
  /// Per cell, 0..1, what those setups make of it.
  [[nodiscard]] std::vector<double> got(std::span<const Row> rows) const;
  [[nodiscard]] std::vector<double> got(const std::vector<int>& setups) const;
  /// Of got(): share of all weight.
  [[nodiscard]] double weigh(const std::vector<double>& got) const;
  [[nodiscard]] const std::vector<double>& weights() const { return weights_; }
  /// ReachModel::by_band, computed when first asked for; not from several threads at once.
  [[nodiscard]] const std::vector<std::vector<float>>& by_band(int setup) const;

 private:
  [[nodiscard]] std::vector<Row> rows_of(const std::vector<int>& setups) const;
  const kit::Trip& trip_;
  const Advice& advice_;
  const ReachModel& model_;
  const choose::Account& account_;
  std::vector<double> weights_;
  std::vector<std::vector<int>> engines_of_;  ///< per possible setup
  double total_ = 0;
  mutable std::map<int, std::vector<std::vector<float>>> by_band_;
};

/// Setups all of whose things are in the kit and whose rig is worked.
[[nodiscard]] std::vector<int> working(const Advice& advice, const choose::Account& account,
                                       const std::vector<int>& kit);
/// SetupUse::share_of_hours of every possible setup; 0: not in the kit.
[[nodiscard]] std::vector<double> shares_in(const kit::Trip& trip, const Advice& advice,
                                            const choose::Account& account, const std::vector<int>& working);

}  // namespace skerry::advice
