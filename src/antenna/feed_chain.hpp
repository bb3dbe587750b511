// From the antenna's terminals to the rig: impedances and losses, step by step.
// Layer: antenna, inside. Sees core and the antenna headers.
#pragma once

#include <complex>
#include <optional>
#include <vector>

#include "skerry/antenna/pattern.hpp"

namespace skerry::antenna {

struct FedThrough {
  std::vector<Loss> losses;
  std::vector<ChainStep> steps;
  double total_db = 0, swr = 1, line_swr = 1;
  Match match = Match::direct;
  std::optional<Note> match_why;
};

/// Transformer (impedance divided by its ratio, loss by frequency), cable (exact, with its mismatch), tuner
/// or mismatch.
///   feed_ohm   positive resistance
///   own_match  the antenna's own match is in use: 50 ohm after it
///   limits    the transformer is an ideal one with a loss beside it: no leakage, no magnetising current
[[nodiscard]] FedThrough through_chain(std::complex<double> feed_ohm, double mhz, const Chain& chain,
                                       bool own_match);

}  // namespace skerry::antenna
