#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <set>

#include "advise_parts.hpp"
#include "skerry/advice/path_answer.hpp"
#include "skerry/core/units.hpp"
#include "skerry/ionosphere/measured.hpp"
#include "skerry/noise/noise.hpp"

namespace skerry::advice {

namespace {

/// Source: free-space wave impedance, ohm.
constexpr double wave_ohm = 376.73;
/// Judgement (common practice): nobody this near any part of a wire that carries 5 to 20 W, whatever the
/// estimate says.
constexpr double least_distance_m = 3;

void exposure_and_voltage(Advice& advice, const kit::Trip& trip) {
  double farthest_m = 0, mhz = 0;
  double volts = 0;
  for (const auto& use : advice.uses) {
    const auto& setup = advice.setups.possible[static_cast<std::size_t>(use.setup)];
    const auto& rig = trip.rigs[static_cast<std::size_t>(setup.rig)];
    double duty = 0;
    for (const auto& mode : trip.modes) {
      if (rig_has_mode(rig, mode)) duty = std::max(duty, mode.duty);
    }
    const double ratio = antenna::transformer_ratio_of(kit::design_for(trip, setup));
    for (const auto& band : use.bands) {
      const double f = trip.bands[static_cast<std::size_t>(band.use.band)].mhz;
      // The pattern's gain has the ground reflection in it, up to 6 dB.
      const double gain =
          advice.book.radiators[static_cast<std::size_t>(band.use.radiator)].strongest_dbi - 6.02;
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
      {"exposure", fmt::format("While sending, nobody within {:.0f} m of any part of the wire. The far-field "
                               "estimate of the general public "
                               "limits (ICNIRP 2020) gives {:.1f} m at {:.1f} MHz; it is not valid close to "
                               "a wire, so the larger figure "
                               "counts. National rules go first.",
                               std::max(least_distance_m, std::ceil(farthest_m)), farthest_m, mhz)});
  if (volts > 50) {
    advice.cautions.push_back({"voltage", fmt::format("The end of an end-fed wire carries about {:.0f} V at "
                                                      "radio frequency: out of reach, never touched "
                                                      "while sending.",
                                                      volts)});
  }
}

void air(Advice& advice, const kit::Trip& trip) {
  advice.cautions.push_back({"air", kit::rules_caution});
  if (kit::rules_outdated(trip.last_day)) {
    advice.cautions.push_back(
        {"air",
         fmt::format("The rules used here were last checked on {} and hold until {}: look them up again.",
                     to_iso(kit::rules_checked()), to_iso(kit::rules_valid_until()))});
  }
  for (const int i : advice.kit.items) {
    const auto& thing = advice.inventory.things[static_cast<std::size_t>(i)];
    if (thing.air.approval)
      advice.cautions.push_back({"air", thing.name + ": ask the airline for its approval. " + thing.air.why});
    if (thing.air.arguable)
      advice.cautions.push_back(
          {"air", thing.name + ": security staff may decide otherwise. " + thing.air.why});
  }
}

void batteries(Advice& advice) {
  for (const auto& power : advice.power) {
    if (power.enough) continue;
    advice.cautions.push_back({"battery", power.why + ". Send less, or charge on the way."});
  }
  if (advice.inventory.batteries_listed) {
    advice.cautions.push_back(
        {"battery",
         "A fuse at the pack, no loose contacts; stop if a pack swells or grows hot. Cold takes 10 to 25 % "
         "of a lithium pack; never charge one below freezing."});
  }
}

void daylight(Advice& advice) {
  int late = 0;
  for (const auto& day : advice.days) late += day.session_after ? 1 : 0;
  if (late > 0) {
    advice.cautions.push_back(
        {"daylight",
         fmt::format("On {} of {} days a session runs past the time to turn back (sunset less the way "
                     "down and a margin; sunset where no way down is told): head lamp, spare cell, known "
                     "path, somebody told.",
                     late, advice.days.size())});
  }
  const bool never_rises = std::any_of(advice.days.begin(), advice.days.end(), [](const DayPlan& d) {
    return d.sun.state == sun::DayState::polar_night;
  });
  if (never_rises) advice.cautions.push_back({"daylight", "The Sun does not rise on some of these days."});
}

void method(Advice& advice, const kit::Trip& trip, const ReachModel& model) {
  std::set<std::string> said;
  double lowest = 30;
  for (const auto& band : trip.bands) lowest = std::min(lowest, band.mhz);
  for (std::size_t s = 0; s < trip.sites.size(); ++s) {
    for (const auto& target : advice.targets) {
      const auto& people = trip.targets[static_cast<std::size_t>(target.target)].people;
      if (people.empty()) continue;
      const auto largest = std::max_element(people.begin(), people.end(),
                                            [](const auto& a, const auto& b) { return a.weight < b.weight; });
      const auto& path =
          model.path(static_cast<int>(s), target.target, static_cast<int>(largest - people.begin()));
      for (const auto& text : method_cautions(path, lowest)) {
        if (!said.insert(text).second) continue;
        advice.cautions.push_back(
            {"method", trip.targets[static_cast<std::size_t>(target.target)].region.name + ": " + text});
      }
    }
  }
  advice.cautions.push_back(
      {"method",
       "Monthly medians: storms, flares and sporadic E are not in these numbers. Whether anybody is awake "
       "and listening is counted only where that is said."});
  const auto rigs =
      std::count_if(advice.inventory.things.begin(), advice.inventory.things.end(),
                    [](const Thing& thing) { return thing.kind == ThingKind::rig && !thing.excluded; });
  if (trip.people > 1 && rigs > 1) {
    advice.cautions.push_back(
        {"method",
         "Reach counts one contact at a time: a second station on the air at the same time is not valued."});
  }
  advice.cautions.push_back({"noise", noise::atmospheric_note});
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
      if (plan.sun.set && site.descent_minutes >= 0) {
        plan.turn_back =
            *plan.sun.set - minutes{std::lround(site.descent_minutes + site.daylight_margin_minutes)};
      }
      const auto dark = plan.turn_back ? plan.turn_back : plan.sun.set;
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
  if (auto note = ionosphere::measured_note(trip.climate); !note.empty())
    advice.cautions.push_back({"measured foF2", std::move(note)});
  if (!trip.learned.note.empty())
    advice.cautions.push_back({"learned", "Assumptions " + trip.learned.note + "."});
  for (const auto& place : trip.sites) {
    if (auto doubt = kit::zone_doubt(trip, place); !doubt.empty())
      advice.cautions.push_back({"zone", place.name + ": " + doubt + "."});
  }
  air(advice, trip);
  advice.cautions.push_back(
      {"licence",
       "The licence and the host country's band plan, powers and modes go before this table: look up the "
       "recognition of your licence there, and take its papers along."});
  advice.cautions.push_back(
      {"site", "Ask for the site: owner, park, lighthouse, airfield nearby, nesting birds, heritage."});
  exposure_and_voltage(advice, trip);
  advice.cautions.push_back(
      {"lightning",
       "Thunder heard is thunder in range: stop, leave ridge and mast, never hold the cable; wait 30 minutes "
       "after the last of it. Hissing or rising hair: leave at once."});
  advice.cautions.push_back(
      {"power lines", "Put the mast up where, falling any way, it stays 3 m from every wire."});
  batteries(advice);
  daylight(advice);
  method(advice, trip, model);
}

}  // namespace skerry::advice
