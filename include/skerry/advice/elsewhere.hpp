// What other places than the trip's own are worth to it.
// Layer: advice. Sees everything above it.
#pragma once

#include <functional>

#include "skerry/advice/advise.hpp"
#include "skerry/geodesy/spot.hpp"
#include "skerry/geodesy/surroundings.hpp"

namespace skerry::advice {

/// What somebody should think of before going there. Of every place: ask who owns it, and whether it is protected.
enum class Danger : std::uint8_t {
  cliff,      ///< steeper than geodesy::steepest_walk_deg within geodesy::cliff_within_m
  surf,       ///< the sea within surf_within_m, less than surf_height_m below
  tide,       ///< less than tide_height_m above the files' sea level
  lightning,  ///< a summit, or nothing that stands higher about
  dark,       ///< on Valued::dark_days a session runs past the time to turn back
  no_way      ///< no way on foot that is not too steep, or over water
};
// Judgement, all four: swell runs up a beach so far and so high; files of heights are off by some metres, and spring
// tides of most oceanic islands stay under four; a skyline under this in all directions shelters from no stroke.
inline constexpr double surf_within_m = 60, surf_height_m = 8, tide_height_m = 4, sheltered_deg = 2;

/// One region as seen from one place.
struct Facing {
  double bearing_deg = 0;         ///< the short way, to its largest group of people
  std::optional<double> sea_m{};  ///< the sea begins there; none: land
  geodesy::Skyline skyline{};
  double reach = 0;  ///< of the best kit there, share of the region's own weight
};

/// A place and how the land lies around it.
struct Place {
  geodesy::Spot spot;
  geodesy::Surroundings lie;
};

struct Valued {
  Place place;
  double reach = 0;  ///< of the kit recommended there, as `pack` tells it
  double mass_g = 0;
  bool proved = false;
  std::vector<int> items;      ///< of that kit, places in Elsewhere::inventory
  std::vector<Facing> facing;  ///< Trip::targets
  int dark_days = 0;
  std::vector<Danger> dangers;
};

/// What the best summit is worth over the shore that is reached soonest.
struct Climb {
  std::size_t summit = 0, shore = 0;  ///< places in Elsewhere::spots
  double more = 0;                    ///< reach; negative where the shore is worth more
  std::optional<double> minutes;      ///< longer to walk; none: there is no way to one of them
  std::optional<double> per_minute;   ///< more / minutes, where the summit is worth more and farther
};

struct Elsewhere {
  Id<kit::Site> site;  ///< which of the trip's is moved
  advice::Inventory inventory;
  std::vector<Valued> places;  ///< best first; alike: the nearer
  std::optional<Climb> climb;
};

/// Called with the share of the work that is done, 0..1.
using Told = std::function<void(double)>;

/// The trip with the site moved to each place and told how the land lies there (altitude, skyline, slopes, shores, the
/// way back), and the choice made anew. Ground constants, noise and hours stay those of the trip's site.
///   site  of Trip::sites
///   time  that of Prepared and its decide(), less the currents of the wires, which are solved once
[[nodiscard]] Elsewhere elsewhere(const kit::Trip& trip, Id<kit::Site> site, const std::vector<Place>& places,
                                  const Told& told = {});

}  // namespace skerry::advice
