// Which thing goes into which bag, and why a kit does not go into the bags at all.
// Layer: advice. Sees everything above it.
#pragma once

#include <array>
#include <cstdint>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "skerry/advice/inventory.hpp"
#include "skerry/choose/share_out.hpp"
#include "skerry/kit/rules.hpp"
#include "skerry/kit/trip.hpp"

namespace skerry::advice {

/// Share of a bag's clear inside (less lining) that is filled before there is talk of trying it at home.
/// Judgement: rigid things of mixed sizes leave a fifth of the room between them, and soft ones fill some of it.
inline constexpr double usable_share_of_bag = 0.8;
/// Room that a thing without told size takes, g per litre. Judgement: coils of wire and cord about 400 to
/// 600, small sets about 800.
inline constexpr double soft_g_per_litre = 500;

/// What is known of things that share a bag.
enum class Packed : std::uint8_t {
  placed,       ///< each thing has a place of its own (BagLoad::places), and soft things fill what is left
  try_at_home,  ///< no bound is broken, and no such places were found: nobody knows but by trying
  not_found     ///< no way was found to share the things out among the bags, and none was ruled out
};

/// One bag with what goes into it.
struct BagLoad {
  int bag = 0;                        ///< index into Trip::bags
  std::vector<int> things;            ///< indices into Inventory::things, sorted
  double mass_g = 0, limit_g = 0;     ///< both with the bag itself
  double volume_l = 0, usable_l = 0;  ///< of the things, tubes as the boxes around them; of the bag
  struct Aslant {
    int thing = 0;
    kit::Lie lie = kit::Lie::across_a_face;
  };
  std::vector<Aslant> aslant;  ///< long things that lie in no side's direction
  Packed packed = Packed::placed;
  /// Where a thing of told size lies, cm from one corner along the clear sides, the shortest first.
  struct Place {
    int thing = 0;                             ///< index into Inventory::things
    std::array<double, 3> from_cm{}, to_cm{};  ///< opposite corners; of a rod aslant the ends of its axis
    bool aslant = false;
  };
  std::vector<Place> places;  ///< of a bag that is `placed`
};
struct BagPlan {
  std::vector<BagLoad>
      bags;  ///< one per bag of the trip, in their order, empty ones included; none: not_found
  Packed packed = Packed::placed;  ///< the least certain of them
};

/// Why things do not go into the bags.
struct BagProblem {
  enum class Why : std::uint8_t {
    batteries,    ///< too many: `count`
    fits_no_bag,  ///< the first of `things`
    too_heavy,    ///< the first of `things`, by itself, for the bags that take its size: `need` kg
    mass,         ///< `things` can go into `bags` alone: together `need` kg, and there is `room` for so many
    volume,       ///< the same in litres
    liquids,      ///< `need` ml in the cabin, `room` ml allowed; of one person where `bags` names that one's
    persons,      ///< too many batteries in the bags of one person, `bags`: `count`
    beside,    ///< `things` can go into `bags` (one) alone, and no more than `room` of them lie side by side
    sharing,   ///< their sums would do, but they cannot be shared out
    not_found  ///< no way was found to share them out, and none was ruled out
  };
  Why why = Why::sharing;
  std::vector<int> things{}, bags{};  ///< indices into Inventory::things and Trip::bags
  double need = 0, room = 0;
  std::optional<int> without{};  ///< of `sharing`: the lightest thing without which it goes
  kit::CountProblem count{};
};

/// Bags whose contents some people answer for together: what one person may carry holds in them so many times.
struct Carrier {
  std::vector<int> bags;  ///< indices into Trip::bags
  int people = 1;
};
/// The bags of each named person; and the cabin bags that name nobody, dealt out in the order of the file to
/// the people who have no bag with a name (to those with one, where there is nobody else): in turn where there
/// are as many bags as people, and where there are fewer each bag is that of several people, the first ones of
/// one more. Bags for the hold that name nobody are nobody's in particular.
[[nodiscard]] std::vector<Carrier> carriers(const kit::Trip& trip);

/// Shares things out among the bags of a trip. Holds copies: the trip need not outlive it.
///   bounds   mass (whole milligrams), cabin or hold, each thing alone in its bag (kit::fits), volumes up to the
///            clear inside, what cannot lie beside what; liquids and batteries per person (carriers). Boxes lie
///            parallel to the sides
///   monotone what a set of things can do, every part of it can, but for given_up
///   limits   after `most_nodes` steps (about 20 ms) the search gives up: Packed::not_found
///   cost     see docs/packing.md
class BagPacker {
 public:
  BagPacker(const kit::Trip& trip, const Inventory& inventory);
  static constexpr std::uint64_t most_nodes = 20000;

  /// Whether the things can be shared out so that no bound is broken; there must be bags.
  [[nodiscard]] choose::Shared shared(std::span<const int> things) const;
  /// Not known to be impossible. things: indices into Inventory::things, no duplicates.
  [[nodiscard]] bool possible(std::span<const int> things) const;
  /// Electronics and batteries in the cabin and poles in the hold as far as possible, heaviest first; of some
  /// ways to share out, one in which each bag's things have their places. nullopt: it cannot be.
  [[nodiscard]] std::optional<BagPlan> plan(std::span<const int> things) const;
  /// Why not; empty when they go, so far as sharing out is concerned.
  [[nodiscard]] std::vector<BagProblem> why_not(std::span<const int> things) const;
  /// Bags that take the thing when they are empty, indices into Trip::bags.
  [[nodiscard]] std::vector<int> bags_for(int thing) const;
  [[nodiscard]] bool no_bags() const { return bags_.empty(); }

 private:
  struct Load {
    kit::Item item;
    std::int64_t mg = 0, mm3 = 0, box_mm3 = 0;
    std::uint64_t may = 0, better = 0;  ///< sets of bags
  };
  /// A limit over several bags, with what it says.
  struct Limit {
    BagProblem::Why why = BagProblem::Why::liquids;
    std::uint64_t bins = 0;
    std::int64_t most = 0;
    std::vector<std::int64_t> amounts;  ///< of each thing
    std::optional<kit::CountProblem::What> what{};
    int people = 1;
    bool of_all = false;  ///< of everybody together
  };
  struct Question;
  void add_limits(const kit::Trip& trip, const Inventory& inventory);
  [[nodiscard]] Question question(std::span<const int> things, bool usual) const;
  void settle(Question& question, std::span<const int> things, std::vector<int>& where) const;
  [[nodiscard]] BagPlan loads(std::span<const int> things, const std::vector<int>& where) const;
  [[nodiscard]] std::uint64_t all_bags() const;
  [[nodiscard]] std::vector<int> bags_in(std::uint64_t set) const;
  [[nodiscard]] std::optional<BagProblem> broken_limit(std::span<const int> things) const;

  std::vector<kit::Bag> bags_;
  std::vector<std::int64_t> room_mg_, room_mm3_, usual_mm3_;
  std::vector<Load> loads_;
  std::vector<Limit> limits_;
};

/// The thing of the trip behind an entry of its inventory.
[[nodiscard]] const kit::Item& item_of(const kit::Trip& trip, const Thing& thing);
[[nodiscard]] kit::Item& item_of(kit::Trip& trip, const Thing& thing);

/// Where each thing goes, and whether it is known to fit; nullopt when the bags cannot take them together. A trip
/// without bags takes anything (an empty plan).
[[nodiscard]] std::optional<BagPlan> pack_bags(const kit::Trip& trip, const Inventory& inventory,
                                               std::span<const int> things);
/// Why they cannot: bags, and numbers of batteries per person; or that no way was found. Empty: they can.
[[nodiscard]] std::vector<BagProblem> bag_problems(const kit::Trip& trip, const Inventory& inventory,
                                                   std::span<const int> things);

/// For Problem::feasible: bags and numbers of batteries together. Only what is known to be impossible is refused.
/// Monotone. Empty when everything that may
/// come goes in at once, so that no kit need be asked.
[[nodiscard]] std::function<bool(std::span<const int>)> feasible_in_bags(const kit::Trip& trip,
                                                                         const Inventory& inventory);

}  // namespace skerry::advice
