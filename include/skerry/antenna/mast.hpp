// What a conductive mast does to a wire that runs along it, and how far nobody can know.
// Layer: antenna. Sees core.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <vector>

#include "skerry/antenna/kinds.hpp"

namespace skerry::antenna {

/// Verticals and the upright part of an inverted L hang along their support; every other shape only touches
/// its top.
[[nodiscard]] bool runs_along_support(Shape shape);

/// The antenna as trimmed, with its conductive mast as it may turn out to be: as raised first, then its foot
/// touching the return of a feed that is taped to it, 15 % longer, 10 % shorter, a joint half way up or every joint
/// of 1.2 m insulated, its foot on a stone (30 cm up).
///   raised  with mast_wire > 0
[[nodiscard]] std::vector<WireAntenna> possible_masts(const Raised& raised);

/// How far gain and match move between these.
struct MastSway {
  double gain_db = 0;                     ///< mean gain over azimuth at 20 degrees, through the transformer
  double least_swr = 1, largest_swr = 1;  ///< behind the transformer, without cable and tuner
  /// A tuner is set anew each time: with one, only gain counts.
  [[nodiscard]] bool settled(bool tuned) const;
};
/// Judgement: a decibel is what a choice between kits can turn on; a match that may move by two in SWR can
/// be off the air with a rig without a tuner (largest_untuned_swr()).
inline constexpr double most_gain_sway_db = 1.0;
inline constexpr double most_swr_sway = 2.0;

/// Solves the possible_masts() one after the other, to the first that is too much: what is told is then the
/// least that it moves.
///   tuned    through a tuner
///   solve    finds currents
///   returns  none where one of them cannot be solved
using Solver = std::function<Result<std::shared_ptr<const Solution>>(const WireAntenna&)>;
[[nodiscard]] std::optional<MastSway> mast_sway(const Raised& raised, const Ground& ground,
                                                const Chain& chain, bool tuned, const Solver& solve);
/// The note `mast_unsettled` of a sway too large.
[[nodiscard]] std::optional<Note> unsettled(const MastSway& sway, bool tuned);

}  // namespace skerry::antenna
