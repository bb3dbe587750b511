#include "skerry/forms/ics.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <map>

#include "skerry/core/hash.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/words/agenda.hpp"

namespace skerry::forms {

namespace {

using advice::Event;
using advice::EventKind;

/// "20270214T053107" of a moment shifted to local time.
std::string stamp(UtcTime when, int offset_s) {
  const auto iso = to_iso(when + std::chrono::seconds(offset_s));
  std::string out;
  for (const char c : iso) {
    if (c != '-' && c != ':' && c != 'Z') out += c;
  }
  return out;
}

std::string offset_text(int offset_s) {
  const int all = std::abs(offset_s);
  std::string out = fmt::format("{}{:02}{:02}", offset_s < 0 ? '-' : '+', all / 3600, all / 60 % 60);
  if (all % 60 != 0) out += fmt::format("{:02}", all % 60);
  return out;
}

std::string zone_id(const sun::Zone& zone) {
  std::string out;
  for (const char c : zone.name()) {
    const bool plain = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
                       c == '/' || c == '_' || c == '+' || c == '-';
    if (plain) out += c;
  }
  return out.empty() ? "site" : out;
}

bool is_utc(const sun::Zone& zone) {
  return zone.name() == "UTC";
}

class Writer {
 public:
  void line(std::string_view text) { out_ += ics_folded(text); }
  void text(std::string_view name, std::string_view value) {
    line(fmt::format("{}:{}", name, ics_escaped(value)));
  }
  std::string take() { return std::move(out_); }

 private:
  std::string out_;
};

void observance(Writer& w, const char* kind, UtcTime when, int from_s, int to_s, const std::string& name) {
  w.line(fmt::format("BEGIN:{}", kind));
  w.line("DTSTART:" + stamp(when, from_s));
  w.line("TZOFFSETFROM:" + offset_text(from_s));
  w.line("TZOFFSETTO:" + offset_text(to_s));
  w.text("TZNAME", name);
  w.line(fmt::format("END:{}", kind));
}

/// The zone's rules of the span, change by change.
void zone_block(Writer& w, const sun::Zone& zone, UtcTime from, UtcTime to) {
  w.line("BEGIN:VTIMEZONE");
  w.line("TZID:" + zone_id(zone));
  int offset = zone.offset_s(from);
  observance(w, "STANDARD", from, offset, offset, zone.label(from));
  for (UtcTime t = from; t < to; t += std::chrono::hours{1}) {
    const int later = zone.offset_s(t + std::chrono::hours{1});
    if (later == offset) continue;
    UtcTime before = t;
    UtcTime after = t + std::chrono::hours{1};
    while (after - before > std::chrono::seconds{1}) {
      const UtcTime middle = before + (after - before) / 2;
      (zone.offset_s(middle) == offset ? before : after) = middle;
    }
    observance(w, later > offset ? "DAYLIGHT" : "STANDARD", after, offset, later, zone.label(after));
    offset = later;
  }
  w.line("END:VTIMEZONE");
}

}  // namespace

std::string ics_escaped(std::string_view text) {
  std::string out;
  for (const char c : text) {
    if (c == '\\' || c == ';' || c == ',') {
      out += '\\';
      out += c;
    } else if (c == '\n') {
      out += "\\n";
    } else if (static_cast<unsigned char>(c) >= 0x20 && c != 0x7F) {
      out += c;
    }
  }
  return out;
}

std::string ics_folded(std::string_view line) {
  constexpr std::size_t most = 75;  // RFC 5545 section 3.1, without the line break
  std::string out;
  std::size_t room = most;
  while (line.size() > room) {
    std::size_t cut = room;
    // Bytes 10xxxxxx go on with the character before them. Broken UTF-8 without any start is cut where it
    // must be.
    while (cut > 1 && (static_cast<unsigned char>(line[cut]) & 0xC0U) == 0x80U) --cut;
    if (cut <= 1) cut = room;
    out += line.substr(0, cut);
    out += "\r\n ";
    line.remove_prefix(cut);
    room = most - 1;  // the blank that begins a continued line counts
  }
  out += line;
  return out + "\r\n";
}

std::string ics_text(const kit::Trip& trip, const advice::Advice& advice, const std::vector<Event>& events,
                     const IcsOptions& options) {
  Writer w;
  w.line("BEGIN:VCALENDAR");
  w.line("VERSION:2.0");
  w.line("PRODID:-//skerry//trip calendar//EN");
  w.line("CALSCALE:GREGORIAN");
  w.line("METHOD:PUBLISH");
  w.text("X-WR-CALNAME", trip.name);
  const bool gathered =
      std::none_of(events.begin(), events.end(), [](const Event& e) { return e.kind == EventKind::opening; });
  std::map<std::string, bool> zones;
  for (const auto& e : events) {
    const auto& zone = nth(trip.sites, e.site).zone;
    if (e.kind == EventKind::opening || is_utc(zone) || zones[zone_id(zone)]) continue;
    zones[zone_id(zone)] = true;
    zone_block(w, zone, start_of(trip.first_day) - std::chrono::hours{48},
               start_of(trip.last_day) + std::chrono::hours{96});
  }
  for (const auto& e : events) {
    const auto& site = nth(trip.sites, e.site);
    w.line("BEGIN:VEVENT");
    w.line(fmt::format("UID:{}@skerry.invalid", content_hash(trip.name + "|" + e.key)));
    w.line("DTSTAMP:" + stamp(options.made, 0) + "Z");
    const bool in_utc = e.kind == EventKind::opening || is_utc(site.zone);
    for (const auto& [name, when] : {std::pair{"DTSTART", e.start}, std::pair{"DTEND", e.end}}) {
      w.line(in_utc ? fmt::format("{}:{}Z", name, stamp(when, 0))
                    : fmt::format("{};TZID={}:{}", name, zone_id(site.zone),
                                  stamp(when, site.zone.offset_s(when))));
    }
    w.text("SUMMARY", words::event_title(trip, e));
    w.text("DESCRIPTION", words::event_text(trip, advice, e, gathered));
    w.text("LOCATION", site.name);
    w.line(fmt::format("GEO:{:.6f};{:.6f}", site.at.lat_deg, site.at.lon_deg));
    w.line(e.kind == EventKind::opening ? "CATEGORIES:OPENING"
           : e.kind == EventKind::leave ? "CATEGORIES:LEAVE"
                                        : "CATEGORIES:SESSION");
    w.line(e.kind == EventKind::opening ? "TRANSP:TRANSPARENT" : "TRANSP:OPAQUE");
    if (options.alarm_minutes > 0 && (e.kind != EventKind::opening || options.opening_alarms)) {
      w.line("BEGIN:VALARM");
      w.line("ACTION:DISPLAY");
      w.text("DESCRIPTION", words::event_title(trip, e));
      w.line(fmt::format("TRIGGER:-PT{}M", options.alarm_minutes));
      w.line("END:VALARM");
    }
    w.line("END:VEVENT");
  }
  w.line("END:VCALENDAR");
  return w.take();
}

}  // namespace skerry::forms
