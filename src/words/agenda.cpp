#include "skerry/words/agenda.hpp"

#include <fmt/format.h>

#include <map>

#include "skerry/core/nth.hpp"
#include "skerry/sun/clock_spans.hpp"
#include "skerry/words/numbers.hpp"
#include "skerry/words/setup.hpp"

namespace skerry::words {

using advice::Event;
using advice::EventKind;

namespace {

struct Span {
  UtcTime start, end;
};

/// ", long way 142 deg" of an opening or a piece of it, with its times where it is not all of it; empty where
/// none of the piece goes round.
std::string long_way_text(const sun::Zone& zone, const Event& e, const Span& shown) {
  if (!e.long_way) return {};
  const Span round{std::max(e.long_way->from, shown.start), std::min(e.long_way->to, shown.end)};
  if (round.end <= round.start) return {};
  auto out = fmt::format(", long way {:.0f} deg", e.long_way->bearing_deg);
  if (round.start > shown.start) out += " from " + zone.local_clock(round.start);
  if (round.end < shown.end) out += " to " + zone.local_clock(round.end);
  return out;
}

/// A line for each region: its bands with the times on the site's clock, and days in ten at the best.
std::string openings_within(const kit::Trip& trip, const Event& session) {
  const auto& zone = nth(trip.sites, session.site).zone;
  std::map<Id<kit::Target>, std::string> lines;
  for (const auto& e : session.within) {
    auto& line = lines[*e.target];
    const Span shown{std::max(e.start, session.start), std::min(e.end, session.end)};
    line += fmt::format("{}{} {}-{} ({}{})", line.empty() ? "" : ", ", nth(trip.bands, *e.band).id,
                        zone.local_clock(shown.start), zone.local_clock(shown.end),
                        days_sign(true, e.peak_days), long_way_text(zone, e, shown));
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
  return fmt::format(
      "{} to {} ({} days in ten{})", nth(trip.bands, *event.band).id,
      nth(trip.targets, *event.target).region.name, days_sign(true, event.peak_days),
      event.long_way ? fmt::format(", long way {:.0f} deg", event.long_way->bearing_deg) : std::string());
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
      return "The end of the Sun's light less the way down and its margin: sunset at sea level, or behind the "
             "skyline where that is earlier. Weather and legs decide; this is the latest." +
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
  if (const auto round = long_way_text(nth(trip.sites, event.site).zone, event, Span{event.start, event.end});
      !round.empty())
    out += " By the" + round.substr(1) + ", local time.";
  return out + " A monthly median: single days differ.";
}

}  // namespace skerry::words
