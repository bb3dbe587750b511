// From setups and packs to the problem that choose::best() solves, and back: what a kit's setups are worth.
// Layer: advice, internal. Sees advise.hpp.
#pragma once

#include <utility>

#include "skerry/advice/advise.hpp"
#include "skerry/core/nth.hpp"

namespace skerry::advice {

/// Minutes to put up what a setup needs: its antenna and its supports one after the other.
[[nodiscard]] double setup_minutes(const kit::Trip& trip, const kit::Setup& setup);

/// The weight that the choice counts, per cell of the model: by the sky, or by the people too.
[[nodiscard]] std::vector<double> weights_of(const kit::Trip& trip, const ReachModel& model);

/// Fills in Problem::bundles and Problem::weights: one bundle for each possible setup (its
/// `origin`) and each set of packs of its rig. Its `share` is the part of the hours that the packs last,
/// times the part of the sessions left after putting it up where the trip counts that.
///   cells   those that the same setups serve become one; each is cut into steps, one for every share there
///           is, so that a setup with a share of 0.6 serves the steps up to 0.6. Two setups with half the
///           hours each count as half, not as all: their hours are taken to be the same hours (careful).
///           More than 12 different shares are rounded down to twentieths.
///   lost    weight that belongs to the whole but that nothing can serve
void lay_out_ways(choose::Problem& problem, const kit::Trip& trip, const Inventory& inventory,
                  const kit::Setups& setups, const ReachModel& model, const std::vector<double>& weights,
                  double lost = 0);

/// Per possible setup: the largest share of its ways whose things are all in the kit; 0: it does not work.
[[nodiscard]] std::vector<double> shares_in(const choose::Problem& problem, std::size_t setups,
                                            const std::vector<int>& kit);
/// The setups with a share.
[[nodiscard]] std::vector<int> working(const std::vector<double>& shares);

/// Reach of groups of setups, each with the share of the hours it is good for. Keeps a reference to the
/// model.
class Worth {
 public:
  Worth(const ReachModel& model, std::vector<double> shares, bool by_people)
      : model_(model), shares_(std::move(shares)), by_people_(by_people) {}
  [[nodiscard]] double of(const std::vector<int>& setups) const;
  /// Of sets of cells, each with its share.
  [[nodiscard]] double of(std::vector<std::pair<double, const choose::CellSet*>> sets) const;
  [[nodiscard]] double share(int setup) const { return nth(shares_, setup); }
  /// Weight of one set of cells, as a share of all.
  [[nodiscard]] double weigh(const choose::CellSet& cells) const;

 private:
  const ReachModel& model_;
  std::vector<double> shares_;
  bool by_people_;
};

}  // namespace skerry::advice
