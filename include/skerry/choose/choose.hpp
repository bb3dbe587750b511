// The exact choice of things under a limit of mass, with proof.
// Room: choose. Needs nothing.
//
// Given: items i with masses m(i); cells c with weights w(c) >= 0; bundles b, each a set of items I(b) that
// together serve a set of cells C(b). A kit K, a set of items, serves the union of C(b) over all b with I(b)
// in K. Wanted: the kit of mass at most M, and possible by a monotone test F of the caller's, whose served
// cells weigh most. (A 0-1 knapsack whose profit is a weighted union: neither sub- nor supermodular, NP-hard.)
//   method     branch and bound over items on a reduced problem
//   accuracy   exact, in whole milligrams and in steps of 2^-50 of all weight: ties are ties, sums know no order
//   proof      Choice::proved says that the search ended by itself; else Choice::bound says what no kit exceeds
#pragma once

#include <cstdint>
#include <functional>
#include <limits>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "skerry/choose/cells.hpp"

namespace skerry::choose {

struct Item {
  std::string name;       ///< breaks the last ties, in lexicographic order
  double mass_g = 0;      ///< >= 0; rounded to whole milligrams
  bool always = false;    ///< goes whatever happens
  bool excluded = false;  ///< must not go (forbidden, fits no bag, "without it")
};

/// Serves its cells when all its items are in the kit.
struct Bundle {
  std::vector<int> items;  ///< indices into Problem::items, no duplicates
  CellSet cells;
  int origin = 0;    ///< the caller's own number of it; not looked at
  double share = 1;  ///< the caller's own: what part of each cell it gives; not looked at
};

/// Reach of a kit = weight of the cells it serves over the weight of all cells. A cell worth different amounts
/// under different bundles is several cells, one per step.
struct Problem {
  std::vector<Item> items;
  std::vector<Bundle> bundles;
  /// Per cell, >= 0; counted in steps of about 2^-50 of their sum (whole numbers exactly).
  std::vector<double> weights;
  double limit_g = std::numeric_limits<double>::infinity();  ///< of the whole kit, `always` things included
  /// Further feasibility (bags, counts), asked of whole kits, sorted indices, with the `always` items. Must
  /// be monotone: whatever contains an impossible kit is impossible. Empty: all kits are possible. Called
  /// from one thread at a time per solve.
  std::function<bool(std::span<const int>)> feasible;
};

/// When to give up proving. The clock stays with the caller.
struct Stop {
  std::uint64_t max_nodes = std::numeric_limits<std::uint64_t>::max();
  std::function<bool()>
      now;  ///< asked once there is a kit, then each million words of 64 cells; empty: never
};

struct Choice {
  std::vector<int> items;  ///< sorted, with the `always` items; only things that serve (or `always`)
  double mass_g = 0;
  double reach = 0;     ///< 0..1
  double bound = 0;     ///< no kit whatever exceeds this; equals reach when proved
  bool proved = false;  ///< no better kit exists, ties by lower mass, fewer items, names included
  /// The `always` things alone exceed the limit (or are not feasible): they are the kit.
  bool over_limit = false;
  std::uint64_t nodes = 0;  ///< of the search tree
};

/// The best kit: higher reach, then lower mass, then fewer items, then names in lexicographic order (of the
/// sorted list). Deterministic: the same problem gives the same kit, whatever the machine or threads.
///   bound      the cells that some still affordable bundle serves; sharpened by a fractional knapsack over the
///              things that cells cannot do without, and by probing: what would be left if a thing were taken
///              (its mass gone from the allowance), left out, or a bundle completed
///   reduction  equal cells merged, things that always appear together merged, bundles that need more and
///              serve no more dropped
///   cost       see tests/bench/choose_bench.cpp
[[nodiscard]] Choice best(const Problem& problem, const Stop& stop = {});

/// Reach of a given kit (mass limit and feasibility not asked).
[[nodiscard]] double reach_of(const Problem& problem, std::span<const int> items);
/// Cells a given kit serves.
[[nodiscard]] CellSet served_by(const Problem& problem, std::span<const int> items);
/// Mass of a kit, g, in whole milligrams per item.
[[nodiscard]] double mass_of(const Problem& problem, std::span<const int> items);
/// A mass as the choice counts it, >= 0; whatever is over 2^61 mg (no limit: infinity) counts as that.
[[nodiscard]] std::int64_t whole_mg(double grams);

/// Every undominated kit from the lightest that reaches anything (first: the `always` things alone, if they
/// are all there is) to the best at the limit, by rising mass and strictly rising reach. Exact when
/// `complete`.
struct Frontier {
  std::vector<Choice> kits;
  bool complete = true;  ///< false: stopped; kits found so far are still right if their own `proved` is set
};
/// The node allowance of `stop` holds for each kit; at most `most` kits, heaviest first kept.
[[nodiscard]] Frontier frontier(const Problem& problem, const Stop& stop = {}, std::size_t most = 1000);

/// What taking these things too would bring: the best kit that contains them, under the limit raised by the
/// mass of those of them that `chosen` lacks, less the reach of `chosen`. Never negative up to proof:
/// `chosen` plus them is such a kit (unless not feasible: then the best feasible kit containing them counts,
/// and the gain may be negative).
struct Change {
  Choice kit;          ///< the best kit after the change
  double reach = 0;    ///< gain (adding) or loss (dropping), share of all weight
  double added_g = 0;  ///< mass by which the limit was raised
};
[[nodiscard]] Change gain_of_adding(const Problem& problem, const Choice& chosen, std::span<const int> items,
                                    const Stop& stop = {});
/// What leaving a thing would cost: reach of `chosen` less that of the best kit without the item at the same
/// limit.
[[nodiscard]] Change loss_of_dropping(const Problem& problem, const Choice& chosen, int item,
                                      const Stop& stop = {});

/// The best kit that holds the items of one bundle and no more; no bundle and the `always` kit when none fits.
struct Single {
  Choice kit;
  std::optional<int> bundle;
};
[[nodiscard]] Single best_single(const Problem& problem);

}  // namespace skerry::choose
