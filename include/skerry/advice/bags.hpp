// Which thing goes into which bag, and why a kit does not go into the bags at all.
// Layer: advice. Sees everything above it.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "skerry/advice/inventory.hpp"
#include "skerry/kit/rules.hpp"
#include "skerry/kit/trip.hpp"

namespace skerry::advice {

/// Share of a bag's clear inside (less lining) that boxes and tubes can fill together. Judgement: rigid
/// things of mixed sizes leave a fifth of the room between them.
inline constexpr double usable_share_of_bag = 0.8;
/// Room that a thing without told size takes, g per litre. Judgement: coils of wire and cord about 400 to
/// 600, small sets about 800.
inline constexpr double soft_g_per_litre = 500;

/// One bag with what goes into it.
struct BagLoad {
  int bag = 0;                        ///< index into Trip::bags
  std::vector<int> things;            ///< indices into Inventory::things, sorted
  double mass_g = 0, limit_g = 0;     ///< both with the bag itself
  double volume_l = 0, usable_l = 0;  ///< of the things; of the bag
  struct Aslant {
    int thing = 0;
    kit::Lie lie = kit::Lie::across_a_face;
  };
  std::vector<Aslant> aslant;  ///< long things that lie in no side's direction
};
struct BagPlan {
  std::vector<BagLoad> bags;  ///< one per bag of the trip, in their order, empty ones included
};

/// Why things do not go into the bags.
struct BagProblem {
  enum class Why : std::uint8_t {
    batteries,    ///< too many: `count`
    fits_no_bag,  ///< the first of `things`
    too_heavy,    ///< the first of `things`, by itself, for the bags that take its size: `need` kg
    mass,         ///< `things` can go into `bags` alone: together `need` kg, and there is `room` for so many
    volume,       ///< the same in litres
    liquids,      ///< `need` ml in the cabin, `room` ml allowed
    sharing       ///< their sums would do, but they cannot be shared out
  };
  Why why = Why::sharing;
  std::vector<int> things{}, bags{};  ///< indices into Inventory::things and Trip::bags
  double need = 0, room = 0;
  std::optional<int> without{};  ///< of `sharing`: the lightest thing without which it goes
  kit::CountProblem count{};
};

/// Shares things out among the bags of a trip. Holds copies: the trip need not outlive it.
///   exact    mass (whole milligrams), cabin or hold, each thing alone in its bag (kit::fits), room by sum of
///            volumes, liquids in the cabin 1 litre per person
///   not asked  whether several things fit beside each other: see usable_share_of_bag and BagLoad::aslant
///   monotone what a set of things can do, every part of it can
///   limits   after `most_nodes` steps (about 50 ms) the search gives up and says no. Measured on random
///            luggage of 20 to 60 things: never in 2 to 8 bags filled to 85 % or in 2 filled to 99 %;
///            at times in 4 bags filled to over 95 % in mass and room at once
///   cost     3 us for 20 things in 2 or 4 bags, 10 us for 60 in 2, 0.1 ms for 60 in 8, at 85 % (one core of
///            2026)
class BagPacker {
 public:
  BagPacker(const kit::Trip& trip, const Inventory& inventory);
  static constexpr std::uint64_t most_nodes = 20000;

  /// things: indices into Inventory::things, no duplicates.
  [[nodiscard]] bool possible(std::span<const int> things) const;
  /// Electronics and batteries in the cabin and poles in the hold as far as possible, heaviest first.
  [[nodiscard]] std::optional<BagPlan> plan(std::span<const int> things) const;
  /// Why not; empty when possible.
  [[nodiscard]] std::vector<BagProblem> why_not(std::span<const int> things) const;
  /// Bags that take the thing when they are empty, indices into Trip::bags.
  [[nodiscard]] std::vector<int> bags_for(int thing) const;
  [[nodiscard]] bool no_bags() const { return bags_.empty(); }

 private:
  struct Load {
    std::int64_t mg = 0, mm3 = 0, liquid_ul = 0;
    std::uint64_t may = 0, better = 0;  ///< sets of bags
    std::optional<std::array<double, 2>> tube_cm;
  };
  [[nodiscard]] std::optional<std::vector<int>> share(std::span<const int> things, bool choosy) const;
  [[nodiscard]] std::vector<int> bags_in(std::uint64_t set) const;

  std::vector<kit::Bag> bags_;
  std::vector<std::int64_t> room_mg_, room_mm3_;
  std::vector<Load> loads_;
  std::int64_t cabin_liquid_ul_ = 0;
};

/// The thing of the trip behind an entry of its inventory.
[[nodiscard]] const kit::Item& item_of(const kit::Trip& trip, const Thing& thing);

/// Where each thing goes; nullopt when the bags cannot take them together. A trip without bags takes anything
/// (an empty plan).
[[nodiscard]] std::optional<BagPlan> pack_bags(const kit::Trip& trip, const Inventory& inventory,
                                               std::span<const int> things);
/// Why they cannot: bags, and numbers of batteries per person. Empty: they can.
[[nodiscard]] std::vector<BagProblem> bag_problems(const kit::Trip& trip, const Inventory& inventory,
                                                   std::span<const int> things);

/// For Problem::feasible: bags and numbers of batteries together. Monotone. Empty when everything that may
/// come goes in at once, so that no kit need be asked.
[[nodiscard]] std::function<bool(std::span<const int>)> feasible_in_bags(const kit::Trip& trip,
                                                                         const Inventory& inventory);

}  // namespace skerry::advice
