#include "skerry/advice/explain_trip.hpp"

#include <algorithm>

#include "skerry/core/nth.hpp"
#include "skerry/core/units.hpp"

namespace skerry::advice {

namespace {

/// The packed setup that does best on this band at an hour on the air, and that hour.
struct Pick {
  std::optional<int> setup, hour;
  double days = -1;
  geodesy::Way way = geodesy::Way::short_way;
};
Pick pick(const Advice& advice, int site, int target, std::size_t band, const std::array<bool, 24>& hours,
          std::optional<int> wanted) {
  Pick out;
  for (int h = 0; h < 24; ++h) {
    if (wanted ? *wanted != h : !nth(hours, h)) continue;
    const auto& slot = advice.openings.at(site, target, h, static_cast<int>(band));
    if (!slot.by || slot.days_both <= out.days) continue;
    out = {slot.by->setup.value(), h, slot.days_both, slot.way};
  }
  return out;
}

const SetupBand* use_of(const Advice& advice, int setup, std::size_t band) {
  for (const auto& use : nth(advice.book.setups, setup)) {
    if (use.band == static_cast<int>(band)) return &use;
  }
  return nullptr;
}

double layout_of(const Advice& advice, int setup) {
  for (const auto& use : advice.uses) {
    if (use.setup == setup) return use.layout_azimuth_deg;
  }
  return 0;
}

}  // namespace

circuit::ExplainQuestion question_of(const kit::Trip& trip, const Advice& advice, int site, int target,
                                     std::optional<int> utc_hour, const SetupName& name) {
  circuit::ExplainQuestion q;
  q.settings.sporadic_e = trip.sporadic_e;
  const auto& here = nth(trip.sites, site);
  const auto& there = nth(trip.targets, target);
  q.from = here.at;
  q.to = there.people.front().where;
  q.climate = trip.climate;
  q.ways = {geodesy::Way::short_way, geodesy::Way::long_way};
  q.want_days_in_ten = trip.want_days_in_ten;
  q.hours.fill(false);
  for (const auto& cell : advice.cells) {
    if (cell.site == site) nth(q.hours, cell.utc_hour) = true;
  }
  if (std::none_of(q.hours.begin(), q.hours.end(), [](bool on) { return on; })) q.hours.fill(true);
  const double bearing_deg = geodesy::make_path(q.from, q.to, geodesy::Way::short_way).bearing_deg;
  for (const auto way : q.ways)
    q.horizons.push_back({here.horizon.towards(geodesy::make_path(q.from, q.to, way).bearing_deg), {}});
  const auto far = partner_station(there.partner, q.to);
  for (std::size_t b = 0; b < trip.bands.size(); ++b) {
    circuit::ExplainBand band;
    band.band = trip.bands[b].id;
    band.mhz = trip.bands[b].mhz;
    band.utc_hour = utc_hour;
    band.partner = far;
    band.mode = trip.modes.front();
    Pick chosen = pick(advice, site, target, b, q.hours, utc_hour);
    for (std::size_t u = 0; u < advice.uses.size() && !chosen.setup; ++u) {
      const int setup = advice.uses[u].setup;
      const bool stands_here = nth(advice.setups.possible, setup).site.value() == site;
      if (stands_here && use_of(advice, setup, b) != nullptr) chosen.setup = setup;
    }
    const SetupBand* use = chosen.setup ? use_of(advice, *chosen.setup, b) : nullptr;
    band.in_kit = use != nullptr;
    if (use != nullptr) {
      if (chosen.hour) band.utc_hour = chosen.hour;
      const auto& setup = nth(advice.setups.possible, *chosen.setup);
      const auto& radiator = nth(advice.book.radiators, use->radiator);
      // As explain() takes the ways.
      const bool round = chosen.way == geodesy::Way::long_way &&
                         circuit::long_way_counts(geodesy::distance_km(q.from, q.to), chosen.days);
      const double towards_deg = round ? wrap_360(bearing_deg + 180) : bearing_deg;
      band.own.pattern = &radiator.at_bearing(here, towards_deg);
      band.own.layout_azimuth_deg = layout_of(advice, *chosen.setup);
      band.own.efficiency_db = std::min(0.0, radiator.pattern.system_efficiency_db);
      band.own.receiver_noise_figure_db = trip.at(setup.rig).noise_figure_db;
      band.own.power_w = use->power_w;
      band.antenna = name(setup);
      band.mode = nth(trip.modes, use->mode);
    }
    band.own.environment = here.environment;
    band.own.land_share = land_share_of(here);
    q.bands.push_back(std::move(band));
  }
  return q;
}

}  // namespace skerry::advice
