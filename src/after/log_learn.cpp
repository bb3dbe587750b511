// From a log to the numbers that learn() weighs.
#include <algorithm>
#include <chrono>
#include <cmath>
#include <map>
#include <tuple>

#include "log_parts.hpp"
#include "skerry/advice/people.hpp"
#include "skerry/circuit/contact.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/units.hpp"

namespace skerry::after {

namespace {

using std::chrono::minutes;

/// Judgement: after an hour without a contact one is taken to have stopped.
constexpr minutes longest_gap{60};
/// Spread of reports from station to station, dB: antennas, local noise. Judgement.
constexpr double station_deviation_db = 5;
/// The same for a place known by its land alone: other paths than the computed one. Judgement.
constexpr double coarse_deviation_db = 4;
/// Source: the normal distribution: its deciles stand 1.2816 deviations from the middle.
constexpr double deviations_per_decile = 1.2816;
/// Reports are told in the width of a voice channel. Common practice.
constexpr double report_width_hz = 2500;

int nearest_hour(UtcTime time) {
  return static_cast<int>(std::lround(utc_hour(std::chrono::floor<std::chrono::hours>(time + minutes{30}))));
}

}  // namespace

std::vector<Run> runs_of(const Log& log, const std::vector<ContactView>& contacts,
                         const LogOptions& options) {
  std::vector<Run> out;
  const auto contact = [&](std::size_t i) -> const Contact& {
    return nth(log.contacts, contacts[i].contact);
  };
  if (options.on_air) {
    for (const auto& told : *options.on_air) {
      Run run{told.start, told.end, told.band, {}, {}};
      std::map<std::string, int> modes;
      for (std::size_t i = 0; i < contacts.size(); ++i) {
        const auto& c = contact(i);
        if (c.band != told.band || c.time < told.start || c.time > told.end) continue;
        run.counted.push_back(static_cast<int>(i));
        ++modes[c.mode];
      }
      int most = 0;
      for (const auto& [mode, count] : modes) {
        if (count > most) run.mode = mode;
        most = std::max(most, count);
      }
      out.push_back(std::move(run));
    }
    return out;
  }
  for (std::size_t i = 0; i < contacts.size(); ++i) {
    const auto& c = contact(i);
    const bool goes_on = !out.empty() && out.back().band == c.band && out.back().mode == c.mode &&
                         c.time - out.back().end <= longest_gap && contacts[i].site == contacts[i - 1].site;
    if (!goes_on) {
      out.push_back({c.time, c.time, c.band, c.mode, {}});
      continue;
    }
    out.back().end = c.time;
    out.back().counted.push_back(static_cast<int>(i));
  }
  return out;
}

LearnProblem learn_problem(const kit::Trip& trip, const LogPlan& plan, const Log& log,
                           const std::vector<ContactView>& contacts, const std::vector<Run>& runs,
                           const PlaceTable& places, const std::vector<std::optional<int>>& place_of) {
  LearnProblem out;
  for (const auto& target : trip.targets) out.regions.push_back(target.region.name);

  // The people of all regions, each as a place of its own.
  std::vector<PlaceTable::Place> people;
  std::vector<std::pair<int, int>> who;  // target and person
  for (std::size_t t = 0; t < trip.targets.size(); ++t) {
    for (std::size_t p = 0; p < trip.targets[t].people.size(); ++p) {
      people.push_back({trip.targets[t].people[p].where, trip.targets[t].partner});
      who.emplace_back(static_cast<int>(t), static_cast<int>(p));
    }
  }
  const PlaceTable table(trip, plan, people);
  const auto listeners = advice::listeners_of(trip);
  const auto clocks = advice::clocks_of(trip);

  std::map<std::tuple<int, int, int, int, std::string>, std::size_t> known;  // site, person, hour, band, mode
  const auto cell_for = [&](int site, int person, int hour, int band,
                            const std::string& mode_id) -> LearnCell& {
    const auto [at, fresh] = known.try_emplace({site, person, hour, band, mode_id}, out.cells.size());
    if (!fresh) return out.cells[at->second];
    const auto& mode = mode_or_first(trip, mode_id);
    const auto& slot = table.slot(site, person, hour, band);
    LearnCell c;
    c.region = nth(who, person).first;
    const double local_h =
        nth(clocks, person).local_hour(start_of(trip.climate.day) + std::chrono::hours{hour});
    c.block = static_cast<int>(local_h / 4) % hour_blocks;
    constexpr double hopeless_db = -200;
    c.there_margin_db.fill(hopeless_db);
    c.back_chance = 0;
    if (slot.by) {
      const double mhz = nth(trip.bands, band).mhz;
      for (std::size_t s = 0; s < noise_steps.size(); ++s) {
        // The slot's own level holds what an overlay in use has added: what is learned comes on top.
        c.there_margin_db[s] = slot.there_dbw - table.noise_dbw(site, person, hour, mhz, noise_steps[s]) -
                               to_db(mode.bandwidth_hz) - mode.required_snr_db;
      }
      c.there_upper_db = slot.there_upper_db;
      c.there_lower_db = slot.there_lower_db;
      c.spread_db = slot.spread_db;
      const auto& computed = nth(trip.modes, slot.by->mode);
      const double back_db = slot.snr_back_db + to_db(computed.bandwidth_hz) - to_db(mode.bandwidth_hz);
      c.back_chance = circuit::reliability(back_db - mode.required_snr_db, slot.back_upper_db,
                                           slot.back_lower_db, slot.spread_db);
    }
    out.cells.push_back(c);
    return out.cells.back();
  };

  double all_weight = 0;
  for (const auto& [t, p] : who)
    all_weight += nth(trip.targets, t).weight * nth(nth(trip.targets, t).people, p).weight;
  for (const auto& run : runs) {
    const auto on = band_of(trip, run.band);
    if (!on) continue;
    const int band = on->value();
    const int site = run.counted.empty() ? 0 : nth(contacts, run.counted.front()).site;
    each_hour(run.start, run.end, [&](UtcTime begun, double on_air) {
      const int hour = static_cast<int>(std::lround(utc_hour(begun)));
      for (int p = 0; p < table.size(); ++p) {
        const auto [t, person] = nth(who, p);
        const auto& weighted = nth(nth(trip.targets, t).people, person);
        cell_for(site, p, hour, band, run.mode).exposure +=
            on_air * weighted.weight * listeners.at(begun, nth(clocks, p));
        const auto& zone = nth(clocks, p);
        const unsigned day = zone.local_weekday(begun);
        auto& open = day == 0 || day == 6 ? out.open_weekend : out.open_weekday;
        nth(open, zone.local_hour(begun)) += on_air / 60 * nth(trip.targets, t).weight * weighted.weight /
                                             all_weight * table.slot(site, p, hour, band).days_both / 10;
      }
    });
    for (const int i : run.counted) {
      const auto& view = nth(contacts, i);
      if (!view.target) continue;
      const auto& contact = nth(log.contacts, view.contact);
      std::optional<int> nearest;
      double least_km = 1e9;
      for (int p = 0; p < table.size(); ++p) {
        if (nth(who, p).first != view.target->value()) continue;
        const double km = geodesy::distance_km(nth(people, p).at, *contact.at);
        if (km >= least_km) continue;
        least_km = km;
        nearest = p;
      }
      if (nearest) ++cell_for(site, *nearest, nearest_hour(contact.time), band, run.mode).contacts;
    }
  }

  std::map<std::tuple<long long, int, int>, int> groups;  // day, band, region
  for (std::size_t i = 0; i < contacts.size(); ++i) {
    const auto& view = contacts[i];
    const auto& contact = nth(log.contacts, view.contact);
    if (!contact.received_db || !view.open) continue;
    const int place = *place_of[i], band = view.band->value();
    const auto& slot = places.slot(view.site, place, view.utc_hour, band);
    LearnReport r;
    const auto day = std::chrono::floor<std::chrono::days>(contact.time).time_since_epoch().count();
    // What lies in no region shares its sky with what is nearest: its own place.
    const int where = view.target ? view.target->value() : 1000 + place;
    r.group = groups.try_emplace({day, band, where}, static_cast<int>(groups.size())).first->second;
    r.measured_db = *contact.received_db;
    const double mhz = nth(trip.bands, band).mhz;
    for (std::size_t s = 0; s < noise_steps.size(); ++s) {
      r.predicted_db[s] = slot.there_dbw -
                          places.noise_dbw(view.site, place, view.utc_hour, mhz, noise_steps[s]) -
                          to_db(report_width_hz);
    }
    const double days_db = 0.5 * (slot.there_upper_db + slot.there_lower_db) / deviations_per_decile;
    r.deviation_db =
        std::hypot(days_db, station_deviation_db, contact.within_km > 0 ? coarse_deviation_db : 0);
    const auto& mode = mode_or_first(trip, contact.mode);
    r.needed_db = mode.required_snr_db + to_db(mode.bandwidth_hz) - to_db(report_width_hz);
    out.reports.push_back(r);
  }
  return out;
}

std::optional<double> learned_yield(const LogReport& report, const LearnedHours& hours) {
  constexpr int least_contacts = 10;
  constexpr double least_hours = 0.5;
  double open = 0;
  for (std::size_t h = 0; h < 24; ++h)
    open += report.open_weekday[h] * hours.weekday[h] + report.open_weekend[h] * hours.weekend[h];
  if (report.findings.contacts < least_contacts || open < least_hours) return std::nullopt;
  return report.findings.contacts / open;
}

LearnedHours learned_hours(const kit::Trip& trip, const Findings& findings) {
  const auto table = advice::listeners_of(trip);
  LearnedHours out;
  double best = 0;
  for (std::size_t h = 0; h < 24; ++h) {
    const double factor = findings.hours[h / 4].median;
    out.weekday[h] = table.weekday[h] * factor;
    out.weekend[h] = table.weekend[h] * factor;
    best = std::max({best, out.weekday[h], out.weekend[h]});
  }
  for (std::size_t h = 0; h < 24 && best > 0; ++h) {
    out.weekday[h] /= best;
    out.weekend[h] /= best;
  }
  return out;
}

}  // namespace skerry::after
