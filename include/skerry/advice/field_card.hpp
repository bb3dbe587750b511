// What goes onto a field card: the regions that open while one is on the air, and what serves each band.
// Layer: advice. Sees everything above it.
#pragma once

#include <optional>
#include <span>
#include <vector>

#include "skerry/advice/advise.hpp"

namespace skerry::advice {

/// A region, and the hours of session in which some band stands on least_open_days or more: all days and sites
/// together.
struct RegionHours {
  int target = 0;  ///< index into Trip::targets
  double open_h = 0, session_h = 0;
  double weighted_h = 0;  ///< open hours, each times its share of days and the region's weight
  [[nodiscard]] bool open() const { return open_h > 0; }
};
/// Judgement: on less than a day in ten nobody waits for a band; as Advice::windows.
inline constexpr double least_open_days = 1;

/// All regions: most weighted open hours first, among equals and closed ones the weightiest, then the trip's
/// order.
[[nodiscard]] std::vector<RegionHours> regions_by_opening(const kit::Trip& trip, const Advice& advice);

/// With what a band is worked towards some regions from a site.
struct BandService {
  Id<noise::Band> band;
  Id<kit::Setup> setup;  ///< of Advice::setups.possible
  Id<noise::Mode> mode;  ///< of Trip::modes
  bool others = false;   ///< in some hours another setup or mode is better
};
/// The setup and mode that are best in most of the open hours while one is on the air (in most of all hours
/// where none is); none: the band opens to none of them.
[[nodiscard]] std::optional<BandService> band_service(const kit::Trip& trip, const Advice& advice, int site,
                                                      std::span<const int> targets, int band);

}  // namespace skerry::advice
