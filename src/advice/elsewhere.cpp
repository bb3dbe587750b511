#include "skerry/advice/elsewhere.hpp"

#include <algorithm>
#include <cmath>

#include "skerry/advice/prepared.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/geodesy/path.hpp"

namespace skerry::advice {

namespace {

using SpotKind = geodesy::Spot::Kind;

kit::Trip moved(kit::Trip trip, Id<kit::Site> site, const Place& place) {
  auto& here = nth(trip.sites, site);
  here.at = place.spot.at;
  here.near_land.reset();
  here.sea_from_m = 0;
  here.slope_deg = 0;
  here.slope_azimuth_deg.reset();
  here.descent_minutes = place.spot.back_minutes;
  here.take({.found = place.lie});
  return trip;
}

std::vector<Danger> dangers_of(const Valued& v) {
  std::vector<Danger> out;
  const auto& sectors = v.place.lie.shore.sectors;
  const bool sea_near = std::any_of(sectors.begin(), sectors.end(),
                                    [](const auto& s) { return s.from_m > 0 && s.from_m <= surf_within_m; });
  const auto& points = v.place.lie.horizon.points;
  const bool open_all_round =
      std::all_of(points.begin(), points.end(), [](const auto& p) { return p.skyline.deg < sheltered_deg; });
  if (!v.place.spot.out_minutes) out.push_back(Danger::no_way);
  if (v.place.spot.steepest_deg > geodesy::steepest_walk_deg) out.push_back(Danger::cliff);
  if (sea_near && v.place.spot.height_m < surf_height_m) out.push_back(Danger::surf);
  if ((sea_near || v.place.spot.kind == SpotKind::shore) && v.place.spot.height_m < tide_height_m)
    out.push_back(Danger::tide);
  if (v.place.spot.kind == SpotKind::summit || open_all_round) out.push_back(Danger::lightning);
  if (v.dark_days > 0) out.push_back(Danger::dark);
  return out;
}

/// The first of a kind by an order; none: there is none.
template <class Before>
std::optional<std::size_t> first_of(const std::vector<Valued>& ranked, SpotKind kind, const Before& before) {
  std::optional<std::size_t> out;
  for (std::size_t i = 0; i < ranked.size(); ++i) {
    if (ranked[i].place.spot.kind == kind && (!out || before(ranked[i], ranked[*out]))) out = i;
  }
  return out;
}

bool nearer(const Valued& a, const Valued& b) {
  static constexpr double never = 1e9;
  return a.place.spot.out_minutes.value_or(never) < b.place.spot.out_minutes.value_or(never);
}

bool better(const Valued& a, const Valued& b) {
  return a.reach != b.reach ? a.reach > b.reach : nearer(a, b);
}

std::optional<Climb> climb_of(const std::vector<Valued>& ranked) {
  const auto summit = first_of(ranked, SpotKind::summit, better);
  const auto shore = first_of(ranked, SpotKind::shore, nearer);
  if (!summit || !shore) return std::nullopt;
  Climb out;
  out.summit = *summit;
  out.shore = *shore;
  const auto& up = ranked[*summit];
  const auto& down = ranked[*shore];
  out.more = up.reach - down.reach;
  if (up.place.spot.out_minutes && down.place.spot.out_minutes)
    out.minutes = *up.place.spot.out_minutes - *down.place.spot.out_minutes;
  if (out.more > 0 && out.minutes && *out.minutes > 0) out.per_minute = out.more / *out.minutes;
  return out;
}

/// What the choice says of a place.
void fill(Valued& out, const kit::Trip& trip, Id<kit::Site> site, const Advice& advice) {
  out.reach = advice.reach;
  out.mass_g = advice.kit.mass_g;
  out.proved = advice::proved(advice);
  out.items = advice.kit.items;
  const auto& here = trip.at(site);
  for (std::size_t t = 0; t < trip.targets.size(); ++t) {
    Facing facing;
    facing.bearing_deg =
        geodesy::make_path(here.at, nth(trip.targets[t].people, largest_group(trip.targets[t])).where,
                           geodesy::Way::short_way)
            .bearing_deg;
    if (const double sea_m = out.place.lie.shore.from_m(facing.bearing_deg); sea_m > 0) facing.sea_m = sea_m;
    facing.skyline = out.place.lie.horizon.towards(facing.bearing_deg);
    const auto reach = std::find_if(advice.targets.begin(), advice.targets.end(),
                                    [&](const auto& r) { return r.target == static_cast<int>(t); });
    if (reach != advice.targets.end()) facing.reach = reach->reach;
    out.facing.push_back(facing);
  }
  for (const auto& day : advice.days) {
    if (day.site == site.value() && day.turn_back && day.session_after) ++out.dark_days;
  }
}

}  // namespace

Elsewhere elsewhere(const kit::Trip& trip, Id<kit::Site> site, const std::vector<Place>& places,
                    const Told& told) {
  Elsewhere out;
  out.site = site;
  AdviceOptions options;
  options.openings = options.variants = options.uncertainty = options.frontier = false;
  std::optional<PatternBook> known;
  for (const auto& place : places) {
    // Fields over each place's own surroundings would pile up.
    const auto currents = known ? std::optional(currents_of(*known)) : std::nullopt;
    const Prepared prepared(moved(trip, site, place), currents ? &*currents : nullptr);
    const auto advice = prepared.decide({}, options);
    if (!known) {
      known = currents_of(advice.book);
      out.inventory = prepared.inventory();
    }
    Valued one;
    one.place = place;
    fill(one, prepared.trip(), site, advice);
    one.dangers = dangers_of(one);
    out.places.push_back(std::move(one));
    if (told) told(static_cast<double>(out.places.size()) / static_cast<double>(places.size()));
  }
  std::stable_sort(out.places.begin(), out.places.end(), better);
  out.climb = climb_of(out.places);
  return out;
}

}  // namespace skerry::advice
