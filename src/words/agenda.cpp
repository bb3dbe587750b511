#include "skerry/words/agenda.hpp"

#include <fmt/format.h>

#include <map>

#include "skerry/core/nth.hpp"
#include "skerry/sun/clock_spans.hpp"
#include "skerry/words/setup.hpp"

namespace skerry::words {

using advice::Event;
using advice::EventKind;

namespace {

/// A line for each region: its bands with the times on the site's clock, and days in ten at the best.
std::string openings_within(const kit::Trip& trip, const Event& session) {
  const auto& zone = nth(trip.sites, session.site).zone;
  std::map<Id<kit::Target>, std::string> lines;
  for (const auto& e : session.within) {
    auto& line = lines[*e.target];
    line += fmt::format("{}{} {}-{} ({:.0f})", line.empty() ? "" : ", ", nth(trip.bands, *e.band).id,
                        zone.local_clock(std::max(e.start, session.start)),
                        zone.local_clock(std::min(e.end, session.end)), e.peak_days);
  }
  if (lines.empty()) return "\nNo band stands on as many days as wanted.";
  std::string out = fmt::format("\nOpen, local time ({}), and on how many days in ten at the best:",
                                zone.label(session.start));
  for (const auto& [target, line] : lines) out += "\n" + nth(trip.targets, target).region.name + ": " + line;
  return out + "\nMonthly medians: single days differ.";
}

/// What is told on the day on which the clock is changed.
std::string change_on(const kit::Trip& trip, const Event& event) {
  const auto& zone = nth(trip.sites, event.site).zone;
  for (const auto& span : sun::clock_spans(zone, trip.first_day, trip.last_day)) {
    if (zone.local_text(event.start).substr(0, 10) != to_iso(span.first) || span.first == trip.first_day)
      continue;
    return fmt::format(" The clock is changed that day, to {}, at {} UTC.", span.label,
                       to_iso(span.since).substr(11, 5));
  }
  return {};
}

}  // namespace

std::string event_title(const kit::Trip& trip, const Event& event) {
  const auto& site = nth(trip.sites, event.site);
  switch (event.kind) {
    case EventKind::session:
      return fmt::format("On the air: {}{}", site.name,
                         event.after_daylight ? " (runs past the time to leave)" : "");
    case EventKind::leave:
      return fmt::format("Leave {}", site.name);
    case EventKind::opening:
      break;
  }
  return fmt::format("{} to {} ({:.0f} days in ten)", nth(trip.bands, *event.band).id,
                     nth(trip.targets, *event.target).region.name, event.peak_days);
}

std::string event_text(const kit::Trip& trip, const advice::Advice& advice, const Event& event,
                       bool gathered) {
  switch (event.kind) {
    case EventKind::session:
      return (event.after_daylight
                  ? std::string(
                        "Runs past the time to leave: go down before dark, or be equipped and known to stay.")
                  : std::string("Session as planned in the trip file.")) +
             change_on(trip, event) + (gathered ? openings_within(trip, event) : "");
    case EventKind::leave:
      return std::string(
                 "Sunset less the way down and its margin. Weather and legs decide; this is the latest.") +
             change_on(trip, event);
    case EventKind::opening:
      break;
  }
  std::string out = fmt::format("Best about {} UTC.", to_iso(event.peak).substr(11, 5));
  if (event.setup) out += " With the " + setup_label(trip, nth(advice.setups.possible, *event.setup)) + ".";
  for (const auto& t : advice.targets) {
    if (Id<kit::Target>(t.target) == event.target)
      out += fmt::format(" Short way {:.0f} degrees, {:.0f} km.", t.bearing_deg, t.distance_km);
  }
  return out + " A monthly median: single days differ.";
}

}  // namespace skerry::words
