// The exact choice of things under a limit of mass, with proof.
// Room: choose. Needs nothing.
//
// Given: items i with masses m(i); ways, each a set of items that together give a row of gains v(c) in 0..1 over
// the cells c with weights w(c); cells stand in turns (hours), turns in spells (days). A way belongs to an engine;
// items feed engines for so long in each spell. What a kit K, a set of items, is worth:
//   U(e,t)    = sum over the cells c of turn t of w(c) max{v(c): ways of engine e whose items are all in K}
//   f(e)      = own hours of e + sum over the items of K of the hours they feed e; no more than all when unlimited
//   h(e)      = min{f(e), (f(e) + more hours of e) / spells of e}: f(e), unless e is fed for several spells together
//   worth(K)  = sum over spells d of count(d) max over e of max{sum over t of x(t) U(e,t)/A(t):
//               0 <= x(t) <= amount(d,t), sum of x <= h(e)},    A(t) = sum over d of count(d) amount(d,t)
// (the hours that an engine is fed go to the best turns of each spell; one engine works in a spell).
// Wanted: the kit of mass at most M, and possible by a monotone test F of the caller's, that is worth most.
//   method     branch and bound over items
//   accuracy   exact: gains in steps of 2^-31 of all weight, masses in whole milligrams; ties are ties, sums know
//              no order
//   proof      Choice::proved says that the search ended by itself; else Choice::bound says what no kit exceeds
#pragma once

#include <cstdint>
#include <functional>
#include <limits>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace skerry::choose {

struct Item {
  std::string name;       ///< breaks the last ties, in lexicographic order
  double mass_g = 0;      ///< >= 0; rounded to whole milligrams
  bool always = false;    ///< goes whatever happens
  bool excluded = false;  ///< must not go (forbidden, fits no bag)
  /// The same things to the last bit have the same number (in mass, feeds and for Problem::feasible): one
  /// stands for another. None: like no other.
  std::optional<int> kind{};
};

/// Works when all its items are in the kit.
struct Way {
  std::vector<int> items;  ///< indices into Problem::items, no duplicates
  int row = 0;             ///< into Problem::rows
  int engine = 0;          ///< into Problem::engines
  int origin = 0;          ///< the caller's own number of it; not looked at
};

/// What limits the hours of its ways in each spell.
struct Engine {
  double own_hours = std::numeric_limits<double>::infinity();  ///< without any item; infinity: no limit
  struct Feed {
    int item = 0;
    double hours = 0;  ///< > 0
  };
  std::vector<Feed> feeds;
  /// What it is fed is for so many spells together (>= 1), and no spell gets more than that; between them it is given
  /// `more_hours` (>= 0) in all, as far as there is room.
  int spells = 1;
  double more_hours = 0;
};

/// One day, or several alike.
struct Spell {
  double count = 1;
  struct Part {
    int turn = 0;
    double hours = 0;  ///< > 0
  };
  std::vector<Part> parts;  ///< no turn twice
};

struct Problem {
  std::vector<Item> items;
  std::vector<double> weights;           ///< per cell, >= 0
  std::vector<int> turns;                ///< per cell, rising from 0
  std::vector<std::vector<float>> rows;  ///< [row][cell], 0..1
  std::vector<Way> ways;
  std::vector<Engine> engines;
  std::vector<Spell> spells;                                 ///< every turn that has cells stands in one
  double limit_g = std::numeric_limits<double>::infinity();  ///< of the whole kit, `always` things included
  /// Further feasibility (bags, counts), asked of whole kits, sorted indices, with the `always` items. Must
  /// be monotone: whatever contains an impossible kit is impossible. Empty: all kits are possible. Called
  /// from one thread at a time per question.
  std::function<bool(std::span<const int>)> feasible;
};

/// When to give up proving. The clock stays with the caller.
struct Stop {
  std::uint64_t max_nodes = std::numeric_limits<std::uint64_t>::max();
  std::function<bool()> now;  ///< asked once there is a kit, then every millisecond or two; empty: never
};

struct Choice {
  std::vector<int> items;  ///< sorted, with the `always` items; only things that serve (or `always`)
  double mass_g = 0;
  double reach = 0;     ///< worth over all weight, 0..1
  double bound = 0;     ///< no kit whatever exceeds this; equals reach when proved
  bool proved = false;  ///< no better kit exists, ties by lower mass, fewer items, names included
  /// The `always` things alone exceed the limit (or are not feasible): they are the kit.
  bool over_limit = false;
  std::uint64_t nodes = 0;  ///< of the search tree
};

/// Every undominated kit from the lightest that reaches anything (first: the `always` things alone, if they
/// are all there is) to the best at the limit, by rising mass and strictly rising reach. Exact when
/// `complete`.
struct Frontier {
  std::vector<Choice> kits;
  bool complete = true;  ///< false: stopped; kits found so far are still right if their own `proved` is set
};

/// What a question asks otherwise than its problem says.
struct Ask {
  std::optional<double> limit_g{};
  std::vector<int> with{};     ///< go whatever happens, excluded ones too
  std::vector<int> without{};  ///< stay, `always` ones too
  std::vector<int> start{};    ///< a kit known to be good, to begin with; ignored where it may not be
};

/// How a kit is worked.
struct Account {
  double reach = 0;
  std::vector<double> got;  ///< per cell: share of its weight that counts, 0..1
  std::vector<int> way;     ///< per cell: index into Problem::ways of the best that works, of the engine that
                            ///< works longest there; -1: none
  std::vector<double>
      share;  ///< per engine and turn, [engine * turns + turn]: of its hours worked on it, 0..1
  std::vector<double> hours;  ///< per engine: worked over all spells
};

/// A problem made ready, once for many questions. Answers are the same whatever the machine, the number of threads
/// and the order of items, ways and rows; members may be called from several threads at once.
class Solver {
 public:
  /// Keeps a reference: the problem must outlive it.
  explicit Solver(const Problem& problem);
  Solver(Solver&&) noexcept;
  ~Solver();

  /// The best kit: higher worth, then lower mass, then fewer items, then names in lexicographic order (of the
  /// sorted list).
  [[nodiscard]] Choice best(const Ask& ask = {}, const Stop& stop = {}) const;
  /// The node allowance of `stop` holds for each kit; at most `most` kits, heaviest first kept; none whose reach
  /// is below `least`.
  [[nodiscard]] Frontier frontier(const Ask& ask = {}, const Stop& stop = {}, std::size_t most = 1000,
                                  double least = 0) const;
  /// Worth of a given kit over all weight (mass limit and feasibility not asked).
  [[nodiscard]] double reach_of(std::span<const int> items) const;
  [[nodiscard]] Account account(std::span<const int> items) const;
  [[nodiscard]] const Problem& problem() const;

 private:
  struct Data;
  std::unique_ptr<Data> data_;
};

/// Mass of a kit, g, in whole milligrams per item.
[[nodiscard]] double mass_of(const Problem& problem, std::span<const int> items);
/// A mass as the choice counts it, >= 0; whatever is over 2^61 mg (no limit: infinity) counts as that.
[[nodiscard]] std::int64_t whole_mg(double grams);

}  // namespace skerry::choose
