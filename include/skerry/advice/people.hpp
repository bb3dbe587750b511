// Whether somebody is there to answer: a second number beside what the sky allows.
// Layer: advice. Sees everything above it.
#pragma once

#include <array>
#include <vector>

#include "skerry/kit/trip.hpp"

namespace skerry::advice {

/// The chance, 0..1, that somebody at the other end is awake, at home and listening.
/// Source: data/people/availability.toml (Judgement, no statistic), or the trip file's [people].
struct Listeners {
  std::array<double, 24> weekday{}, weekend{};  ///< by the local hour begun
  /// Around a whole hour of UTC (half an hour either way), by a clock there and its weekday; Saturday and
  /// Sunday are the weekend.
  [[nodiscard]] double at(UtcTime hour, const sun::Zone& clock) const;
};
/// The clock that a region is said to go by: of its largest group of people.
[[nodiscard]] sun::Zone clock_of(const kit::Target& target);
/// The clocks of all regions' people, region by region in their order. Dear: a look for the nearest place each.
[[nodiscard]] std::vector<sun::Zone> clocks_of(const kit::Trip& trip);
/// All ones where the trip switches the table off.
[[nodiscard]] Listeners listeners_of(const kit::Trip& trip);

}  // namespace skerry::advice
