#include <algorithm>
#include <chrono>
#include <cmath>

#include "advise_parts.hpp"
#include "skerry/circuit/conditions.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/units.hpp"
#include "skerry/noise/noise.hpp"

namespace skerry::advice {

namespace {

using Kind = Caution::Kind;

/// Source: free-space wave impedance, ohm.
constexpr double wave_ohm = 376.73;
/// Judgement (common practice): nobody this near any part of a wire that carries 5 to 20 W, whatever the
/// estimate says.
constexpr double least_distance_m = 3;

void exposure_and_voltage(Advice& advice, const kit::Trip& trip) {
  double farthest_m = 0, mhz = 0;
  double volts = 0;
  for (const auto& use : advice.uses) {
    const auto& setup = nth(advice.setups.possible, use.setup);
    const auto& rig = trip.at(setup.rig);
    double duty = 0;
    for (const auto& mode : trip.modes) {
      if (rig_has_mode(rig, mode)) duty = std::max(duty, mode.duty);
    }
    const double ratio = antenna::transformer_ratio_of(kit::design_for(trip, setup));
    for (const auto& band : use.bands) {
      const double f = nth(trip.bands, band.use.band).mhz;
      // The pattern's gain has the ground reflection in it, up to 6 dB.
      const double gain = nth(advice.book.radiators, band.use.radiator).strongest_dbi - 6.02;
      const double r = exposure_distance_m(band.use.power_w * duty, gain, f);
      if (r > farthest_m) {
        farthest_m = r;
        mhz = f;
      }
      if (ratio >= 9) volts = std::max(volts, std::sqrt(band.use.power_w * 50 * ratio));
    }
  }
  if (farthest_m <= 0) return;
  advice.cautions.push_back(
      {Kind::exposure, {}, std::max(least_distance_m, std::ceil(farthest_m)), farthest_m, mhz, {}});
  if (volts > 50) advice.cautions.push_back({Kind::voltage, {}, volts});
}

void air(Advice& advice, const kit::Trip& trip) {
  advice.cautions.push_back({Kind::air_rules});
  if (kit::rules_outdated(trip.last_day)) advice.cautions.push_back({Kind::air_outdated});
  for (const int i : advice.kit.items) {
    const auto& thing = nth(advice.inventory.things, i);
    if (thing.air.approval) advice.cautions.push_back({Kind::air_approval, i});
    if (thing.air.arguable) advice.cautions.push_back({Kind::air_arguable, i});
  }
}

void batteries(Advice& advice) {
  for (std::size_t p = 0; p < advice.power.size(); ++p) {
    if (!advice.power[p].enough) advice.cautions.push_back({Kind::battery_short, static_cast<int>(p)});
  }
  if (advice.inventory.batteries_listed) advice.cautions.push_back({Kind::battery_care});
}

void daylight(Advice& advice) {
  const auto late = std::count_if(advice.days.begin(), advice.days.end(),
                                  [](const DayPlan& day) { return day.session_after; });
  if (late > 0) advice.cautions.push_back({Kind::late_sessions, {}, static_cast<double>(late)});
  const bool never_rises = std::any_of(advice.days.begin(), advice.days.end(), [](const DayPlan& d) {
    return d.sun.state == sun::DayState::polar_night;
  });
  if (never_rises) advice.cautions.push_back({Kind::polar_night});
}

void method(Advice& advice, const kit::Trip& trip, const ReachModel& model) {
  std::vector<circuit::Caution> said;
  double lowest = 30;
  for (const auto& band : trip.bands) lowest = std::min(lowest, band.mhz);
  for (std::size_t s = 0; s < trip.sites.size(); ++s) {
    for (const auto& target : advice.targets) {
      const auto& region = nth(trip.targets, target.target);
      if (region.people.empty()) continue;
      const auto& path = model.path(static_cast<int>(s), target.target, largest_group(region));
      for (const auto& caution : circuit::method_cautions(path, lowest)) {
        if (std::find(said.begin(), said.end(), caution) != said.end()) continue;
        said.push_back(caution);
        advice.cautions.push_back({Kind::path, target.target, 0, 0, 0, caution});
      }
    }
  }
  advice.cautions.push_back({Kind::medians});
  const auto rigs =
      std::count_if(advice.inventory.things.begin(), advice.inventory.things.end(),
                    [](const Thing& thing) { return thing.kind == ThingKind::rig && !thing.excluded; });
  if (trip.people > 1 && rigs > 1) advice.cautions.push_back({Kind::one_contact});
  advice.cautions.push_back({Kind::atmospheric_noise});
}

}  // namespace

double exposure_distance_m(double power_w, double gain_dbi, double mhz) {
  // Source: ICNIRP, Health Physics 118:483-524, 2020, whole body, general public, 0.1 to 30 MHz (from
  // memory).
  const double e_limit = 300 / std::pow(mhz, 0.7);
  const double h_limit = 2.2 / mhz;
  const double limit = std::min(e_limit, wave_ohm * h_limit);
  const double gain = from_db(std::max(2.15, gain_dbi));
  return 2 * std::sqrt(30 * power_w * gain) / limit;
}

namespace {

std::optional<UtcTime> light_ends(const kit::Site& site, const DayPlan& plan) {
  auto out = plan.sun.set;
  if (site.altitude_m > 0) {
    const auto at_sea = sun::day(site.at, plan.date).set;
    if (at_sea && (!out || *at_sea < *out)) out = at_sea;
  }
  if (!out || site.horizon.points.empty()) return out;
  return sun::last_seen(site.at, plan.sun.noon, *out,
                        [&](double azimuth_deg) { return site.horizon.towards(azimuth_deg).deg; });
}

}  // namespace

void plan_days(Advice& advice, const kit::Trip& trip) {
  using std::chrono::days;
  using std::chrono::minutes;
  using std::chrono::sys_days;
  for (std::size_t s = 0; s < trip.sites.size(); ++s) {
    const auto& site = trip.sites[s];
    for (sys_days d{trip.first_day}; d <= sys_days{trip.last_day}; d += days{1}) {
      DayPlan plan;
      plan.site = static_cast<int>(s);
      plan.date = Day{d};
      plan.sun = sun::day(site.at, plan.date, std::max(0.0, site.altitude_m));
      plan.light_ends = light_ends(site, plan);
      if (plan.light_ends && site.descent_minutes) {
        plan.turn_back =
            *plan.light_ends - minutes{std::lround(*site.descent_minutes + site.daylight_margin_minutes)};
      }
      const auto dark = plan.turn_back ? plan.turn_back : plan.light_ends;
      for (const auto& session : trip.sessions) {
        const bool today = session.site == site.id &&
                           (session.days.empty() || std::find(session.days.begin(), session.days.end(),
                                                              plan.date) != session.days.end());
        if (!today || !dark) continue;
        const UtcTime start = site.zone.to_utc(plan.date, session.start_minute % 1440);
        const UtcTime end = start + minutes{session.end_minute - session.start_minute};
        // Before sunrise is dark too, but the way then leads into the day.
        plan.session_after = plan.session_after || end > *dark;
      }
      advice.days.push_back(plan);
    }
  }
}

void add_cautions(Advice& advice, const kit::Trip& trip, const ReachModel& model) {
  const auto add = [&](Kind kind, std::optional<int> index = {}) {
    advice.cautions.push_back({kind, index});
  };
  if (!trip.climate.measured.empty()) add(Kind::measured);
  if (trip.learned.in_use()) add(Kind::learned);
  for (std::size_t s = 0; s < trip.sites.size(); ++s) {
    if (kit::zone_doubt(trip, trip.sites[s])) add(Kind::zone, static_cast<int>(s));
  }
  air(advice, trip);
  add(Kind::licence);
  add(Kind::site);
  exposure_and_voltage(advice, trip);
  add(Kind::lightning);
  add(Kind::power_lines);
  batteries(advice);
  daylight(advice);
  method(advice, trip, model);
}

}  // namespace skerry::advice
