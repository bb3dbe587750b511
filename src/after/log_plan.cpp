// What the carried kit would do: to the trip's regions, and to single places.
#include <algorithm>
#include <set>

#include "log_parts.hpp"
#include "skerry/circuit/contact.hpp"
#include "skerry/circuit/path_answer.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/kit/trip.hpp"

namespace skerry::after {

LogPlan plan_for(const kit::Trip& trip, const LogOptions& options) {
  LogPlan out;
  auto setups = kit::derive_setups(trip);
  out.inventory = advice::take_inventory(trip);
  auto book = advice::pattern_book(trip, setups.possible);
  advice::feed_setups(trip, out.inventory, setups, book);
  const advice::ReachModel model(trip, setups.possible, book);
  std::set<std::string> ids;
  if (options.carried) {
    ids.insert(options.carried->begin(), options.carried->end());
    for (std::size_t i = 0; i < out.inventory.things.size(); ++i) {
      if (ids.count(out.inventory.things[i].id) != 0) out.carried.push_back(static_cast<int>(i));
    }
  } else {
    const auto problem = advice::packing_problem(trip, out.inventory, setups, model);
    out.carried = choose::Solver(problem).best({}, advice::AdviceOptions{}.stop).items;
    for (const int i : out.carried) ids.insert(nth(out.inventory.things, i).id);
  }
  // What stands at the site is there without being carried.
  for (const auto& support : trip.supports) {
    if (support.at_site) ids.insert(support.item.id);
  }
  std::vector<int> group;
  out.book.radiators = book.radiators;
  for (std::size_t s = 0; s < setups.possible.size(); ++s) {
    const auto& setup = setups.possible[s];
    const auto carried = [&](const std::string& id) { return ids.count(id) != 0; };
    const auto feeds_it = [&](const advice::Feed& feed) {
      return feed.power_w >= *setup.power_w && carried(nth(trip.batteries, feed.battery).item.id);
    };
    const auto& feeds = nth(out.inventory.power, setup.rig.value()).feeds;
    if (!std::all_of(setup.needs.begin(), setup.needs.end(), carried) ||
        (setup.power_w && std::none_of(feeds.begin(), feeds.end(), feeds_it)))
      continue;
    group.push_back(static_cast<int>(s));
    out.setups.push_back(setup);
    out.book.setups.push_back(book.setups[s]);
    out.layouts_deg.push_back(model.setups()[s].layout_azimuth_deg);
  }
  out.openings = model.openings(group);
  return out;
}

PlaceTable::PlaceTable(const kit::Trip& trip, const LogPlan& plan, std::vector<Place> places)
    : places_(std::move(places)), month_(static_cast<unsigned>(trip.climate.day.month())) {
  kit::Trip single = trip;
  single.targets.clear();
  single.sessions.clear();  // all hours
  for (const auto& place : places_) {
    kit::Target target;
    target.people = {{place.at, 1, ""}};
    target.partner = place.partner;
    single.targets.push_back(std::move(target));
  }
  const advice::ReachModel model(single, plan.setups, plan.book, {}, plan.layouts_deg);
  std::vector<int> all(plan.setups.size());
  for (std::size_t i = 0; i < all.size(); ++i) all[i] = static_cast<int>(i);
  table_ = model.openings(all);
  for (const auto& site : trip.sites) {
    std::vector<geodesy::Path> paths;
    for (const auto& place : places_)
      paths.push_back(geodesy::make_path(site.at, place.at, geodesy::Way::short_way));
    circuits_.emplace_back(paths, trip.climate);
  }
}

double PlaceTable::noise_dbw(int site, int place, int utc_hour, double mhz, int classes_noisier) const {
  const auto& there = nth(places_, place);
  circuit::Station station;
  station.environment = kit::shifted(there.partner.environment, classes_noisier);
  const auto sky = nth(circuits_, site).to_sky(static_cast<std::size_t>(place), utc_hour);
  return circuit::noise_at(sky, there.at, month_, station, mhz).dbw_per_hz;
}

std::optional<Id<noise::Band>> band_of(const kit::Trip& trip, const std::string& id) {
  for (const auto b : ids_of(trip.bands)) {
    if (nth(trip.bands, b).id == id) return b;
  }
  return std::nullopt;
}

const noise::Mode& mode_or_first(const kit::Trip& trip, const std::string& id) {
  for (const auto& mode : noise::modes()) {
    if (mode.id == id) return mode;
  }
  return trip.modes.empty() ? noise::modes().front() : trip.modes.front();
}

}  // namespace skerry::after
