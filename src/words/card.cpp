#include "skerry/words/card.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <map>

#include "skerry/advice/field_card.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/units.hpp"
#include "skerry/words/explain.hpp"
#include "skerry/words/numbers.hpp"
#include "skerry/words/pack.hpp"
#include "skerry/words/place.hpp"
#include "skerry/words/verdict.hpp"

namespace skerry::words {

namespace {

constexpr std::size_t columns = 80;

struct Room {
  std::size_t regions = 4, sites = 3, kit_lines = 4, left_lines = 2;
};

std::string cut(std::string text, std::size_t most) {
  if (text.size() > most) text.replace(most - 1, std::string::npos, "~");
  return text;
}

/// The head and as many whole names as go into so many lines; how many more there are.
std::string list_in_lines(const std::string& head, const std::vector<std::string>& names, std::size_t most) {
  std::string out;
  for (std::size_t n = names.size() + 1; n-- > 0;) {
    std::string text = head;
    for (std::size_t i = 0; i < n; ++i) text += (i == 0 ? "" : ", ") + names[i];
    if (n < names.size()) text += fmt::format("{}{} more", n == 0 ? "" : ", ", names.size() - n);
    out = wrapped(text, columns, "", "  ");
    if (static_cast<std::size_t>(std::count(out.begin(), out.end(), '\n')) <= most) break;
  }
  return out;
}

std::string first_sentence(const std::string& text) {
  const auto stop = text.find(". ");
  return stop == std::string::npos ? text : text.substr(0, stop + 1);
}

std::string plain(std::string_view text) {
  std::string out;
  for (const char c : to_ascii(text)) out += static_cast<unsigned char>(c) < 0x20 || c == 0x7F ? ' ' : c;
  return out;
}

/// The fewest words for the topics that everybody must keep in mind; the first sentence of any other.
std::string short_caution(const kit::Trip& trip, const advice::Caution& c, const advice::Advice& a) {
  const auto topic = topic_of(c);
  if (topic == Topic::zone) return "Local times are doubtful: set the legal time zone.";
  if (topic == Topic::lightning) return "Thunder heard: stop, leave ridge and mast.";
  if (topic == Topic::power_lines) return "Mast clear of every wire, however it falls.";
  const bool late =
      std::any_of(a.days.begin(), a.days.end(), [](const auto& day) { return day.session_after; });
  if (topic == Topic::daylight && late) return "Sessions run into the dark: lamp, known path, somebody told.";
  return plain(first_sentence(caution_text(trip, a, c)));
}

/// Judgement: below half a day in ten a band counts as closed, as in the packing text.
constexpr double least_shown = 0.5;

/// "40" of "40m".
std::string short_band(const std::string& id) {
  return id.substr(0, id.find_first_not_of("0123456789"));
}

std::string upper(std::string text) {
  for (char& c : text) {
    if (c >= 'a' && c <= 'z') c = static_cast<char>(c - 'a' + 'A');
  }
  return text;
}

std::string hour_row(const std::string& label, const auto& cell) {
  std::string out = fmt::format("{:<8}", cut(label, 8));
  for (int h = 0; h < 24; ++h) out += fmt::format("{:>3}", cell(h));
  return out + "\n";
}

struct Cell {
  std::optional<std::size_t> band;  ///< none: closed
  bool wanted = false, round = false;
};

Cell best_band(const kit::Trip& trip, const advice::Advice& a, std::size_t site, int target, int hour) {
  double most = least_shown;
  Cell out;
  for (std::size_t b = 0; b < trip.bands.size(); ++b) {
    const auto& slot = a.openings.at(static_cast<int>(site), target, hour, static_cast<int>(b));
    if (!slot.open() || slot.days_both <= most) continue;
    most = slot.days_both;
    out = {b, slot.days_both >= trip.want_days_in_ten - 1e-9, slot.way == geodesy::Way::long_way};
  }
  return out;
}

/// "40", "~40" on fewer days than wanted, "L40" and "l40" the same by the long way, ".".
std::string cell_text(const kit::Trip& trip, const Cell& cell) {
  if (!cell.band) return ".";
  const char* sign = cell.round ? (cell.wanted ? "L" : "l") : (cell.wanted ? "" : "~");
  return sign + short_band(trip.bands[*cell.band].id);
}

/// The regions of a card, best first, and what is said of the others.
struct Chosen {
  std::vector<int> shown;
  std::vector<std::string> left;  ///< "Hawaii (open 41 of 41 h)"
};

Chosen choose(const kit::Trip& trip, const advice::Advice& a, std::size_t most) {
  Chosen out;
  for (const auto& r : advice::regions_by_opening(trip, a)) {
    // Where nothing opens at all, the weightiest stand for it.
    const bool fits = out.shown.size() < most;
    if (fits && (r.open() || out.shown.empty())) {
      out.shown.push_back(r.target);
    } else {
      out.left.push_back(left_off_text(r, plain(nth(trip.targets, r.target).region.name)));
    }
  }
  return out;
}

/// "WITH 40 30m 20.6 m end-fed wire; 20m 13 m wire; CW": the bands of some regions by antenna, and the mode.
std::string with_lines(const kit::Trip& trip, const advice::Advice& a, std::size_t site,
                       const std::vector<int>& targets) {
  struct Group {
    std::string bands, thing;
  };
  std::vector<Group> groups;
  std::vector<std::string> modes;
  std::vector<advice::BandService> services;
  for (std::size_t b = 0; b < trip.bands.size(); ++b) {
    const bool shown = std::any_of(targets.begin(), targets.end(), [&](int t) {
      for (int h = 0; h < 24; ++h) {
        if (best_band(trip, a, site, t, h).band == b) return true;
      }
      return false;
    });
    if (!shown) continue;
    const auto service = advice::band_service(trip, a, static_cast<int>(site), targets, static_cast<int>(b));
    if (service) services.push_back(*service);
  }
  const bool one_mode = std::all_of(services.begin(), services.end(),
                                    [&](const auto& s) { return s.mode == services.front().mode; });
  for (const auto& s : services) {
    auto thing = plain(trip.at(nth(a.setups.possible, s.setup.value()).antenna).item.name);
    if (!one_mode) thing += " " + upper(nth(trip.modes, s.mode.value()).id);
    auto at = std::find_if(groups.begin(), groups.end(), [&](const Group& g) { return g.thing == thing; });
    if (at == groups.end()) at = groups.insert(groups.end(), Group{{}, thing});
    at->bands += (at->bands.empty() ? "" : " ") + short_band(nth(trip.bands, s.band.value()).id);
  }
  if (groups.empty()) return {};
  std::string out = "WITH ";
  for (std::size_t i = 0; i < groups.size(); ++i)
    out += fmt::format("{}{}m {}", i == 0 ? "" : "; ", groups[i].bands, groups[i].thing);
  if (one_mode) out += "; " + upper(nth(trip.modes, services.front().mode.value()).id);
  return wrapped(out, columns, "", "  ");
}

std::string site_block(const kit::Trip& trip, const advice::Advice& a, std::size_t s,
                       const std::vector<int>& regions) {
  const auto& site = trip.sites[s];
  std::string out =
      cut(fmt::format("\nAT {} {}", plain(site.name), geodesy::to_text(site.at, 2)), columns) + "\n";
  const auto clocks = sun::clock_spans(site.zone, trip.first_day, trip.last_day);
  for (const auto& day : a.days) {
    if (day.site != static_cast<int>(s)) continue;
    out += fmt::format("sun {}-{}{} ({}, first day)\n", local_clock(site.zone, day.sun.rise),
                       local_clock(site.zone, day.sun.set),
                       !site.descent_minutes ? "" : " leave by " + local_clock(site.zone, day.turn_back),
                       site.zone.label(day.sun.noon));
    break;
  }
  // Two sites by one clock need it once: the card is small.
  const bool told =
      std::any_of(trip.sites.begin(), trip.sites.begin() + static_cast<std::ptrdiff_t>(s),
                  [&](const kit::Site& other) { return other.zone.name() == site.zone.name(); });
  for (std::size_t i = 1; i < clocks.size() && !told; ++i) {
    const auto since = to_iso(clocks[i].since);
    out += fmt::format("local clock {}; from {} UTC on {} {}\n", clocks[i - 1].label, since.substr(11, 5),
                       since.substr(0, 10), clocks[i].label);
  }
  out += hour_row("UTC", [](int h) { return fmt::format("{:02}", h); });
  if (!told) {
    for (const auto& clock : clock_rows(clocks, "local"))
      out += hour_row(clock.head, [&](int h) { return hour_cell(h, clock.offset_s); });
  }
  out += hour_row("on air", [&](int h) {
    const bool on = std::any_of(a.cells.begin(), a.cells.end(), [&](const auto& c) {
      return c.site == static_cast<int>(s) && c.utc_hour == h;
    });
    return on ? "==" : "";
  });
  for (std::size_t i = 0; i < regions.size(); ++i) {
    out += hour_row(fmt::format("{}", static_cast<char>('A' + static_cast<int>(i))), [&](int h) {
      return a.openings.slots.empty() ? std::string(".")
                                      : cell_text(trip, best_band(trip, a, s, regions[i], h));
    });
  }
  if (!a.openings.slots.empty()) out += with_lines(trip, a, s, regions);
  // Blanks at line ends are bytes too.
  std::string trimmed;
  for (std::size_t at = 0; at < out.size();) {
    const auto end = out.find('\n', at);
    auto line = out.substr(at, end - at);
    line.erase(line.find_last_not_of(' ') + 1);
    trimmed += line + "\n";
    at = end + 1;
  }
  return trimmed;
}

std::string build(const kit::Trip& trip, const advice::Advice& a, const Room& room) {
  const auto chosen = choose(trip, a, room.regions);
  const auto& regions = chosen.shown;
  const auto round = [&](int target) {
    for (std::size_t s = 0; s < std::min(trip.sites.size(), room.sites); ++s) {
      for (int h = 0; h < 24 && !a.openings.slots.empty(); ++h) {
        if (best_band(trip, a, s, target, h).round) return true;
      }
    }
    return false;
  };
  const bool any_round = std::any_of(regions.begin(), regions.end(), round);
  std::string out = cut(fmt::format("{} {}..{} R12 {:.0f}", cut(plain(trip.name), 40), to_iso(trip.first_day),
                                    to_iso(trip.last_day), trip.climate.r12),
                        columns) +
                    "\n";
  if (!trip.learned.file.empty()) out += "assumptions learned from a log are in use\n";
  if (!trip.climate.measured.empty()) out += "maps scaled around foF2 measured on the day\n";
  for (std::size_t i = 0; i < regions.size(); ++i) {
    for (const auto& t : a.targets) {
      if (t.target != regions[i]) continue;
      out +=
          fmt::format("{} {} {:03.0f} deg {:.0f} km{}\n", static_cast<char>('A' + static_cast<int>(i)),
                      cut(plain(nth(trip.targets, regions[i]).region.name), 30), t.bearing_deg, t.distance_km,
                      round(t.target) ? fmt::format(", long way {:03.0f} deg", wrap_360(t.bearing_deg + 180))
                                      : std::string());
    }
  }
  if (!chosen.left.empty()) out += list_in_lines("not here: ", chosen.left, room.left_lines);
  out += fmt::format("best band (m) by hour (14: 13:30-14:30), {0:g}+ days in ten both ways; ~40 fewer\n",
                     trip.want_days_in_ten);
  if (any_round) out += "L40 the long way round, l40 that on fewer days; . none\n";
  for (std::size_t s = 0; s < std::min(trip.sites.size(), room.sites); ++s)
    out += site_block(trip, a, s, regions);
  if (room.sites < trip.sites.size())
    out += fmt::format("\n{}: see the report\n",
                       counted(static_cast<long long>(trip.sites.size() - room.sites), "more site"));
  std::vector<std::string> names;
  for (const int item : a.kit.items) names.push_back(plain(nth(a.inventory.things, item).name));
  out += "\n" + list_in_lines(fmt::format("KIT {:.1f} kg: ", a.kit.mass_g / 1000), names, room.kit_lines);
  for (const auto& p : a.power) {
    out += cut(fmt::format("POWER {}: lasts {:.1f} h of {:.1f} h wanted",
                           plain(nth(trip.rigs, p.rig).item.name), p.lasts_hours, p.need_hours),
               columns) +
           "\n";
  }
  std::string care;
  for (const Topic topic :
       {Topic::zone, Topic::lightning, Topic::power_lines, Topic::exposure, Topic::daylight}) {
    for (const auto& c : a.cautions) {
      if (topic_of(c) != topic) continue;
      care += (care.empty() ? "" : " ") + short_caution(trip, c, a);
      break;
    }
  }
  if (!care.empty()) out += wrapped(care, columns, "CARE ", "  ");
  return out;
}

}  // namespace

std::string left_off_text(const advice::RegionHours& region, const std::string& name) {
  return region.open() ? fmt::format("{} (open {:.0f} of {:.0f} h)", name, region.open_h, region.session_h)
                       : name + " (closed)";
}

std::string card_text(const kit::Trip& trip, const advice::Advice& a) {
  // From the roomiest down: names of things go first, then sites and regions; the cautions stay.
  std::string out;
  for (const Room room :
       {Room{7, 3, 4},    Room{6, 3, 4}, Room{5, 3, 3},    Room{4, 3, 4},    Room{4, 3, 3},
        Room{4, 3, 2},    Room{4, 2, 4}, Room{4, 2, 3},    Room{4, 2, 2},    Room{4, 2, 1},
        Room{4, 2, 1, 1}, Room{3, 2, 2}, Room{3, 2, 2, 1}, Room{3, 2, 1, 1}, Room{2, 2, 1, 1},
        Room{4, 1, 4},    Room{4, 1, 2}, Room{3, 1, 2},    Room{2, 1, 1},    Room{1, 1, 1}}) {
    out = build(trip, a, room);
    if (out.size() < card_limit_bytes) return out;
  }
  // Only very many rigs come this far.
  return out.substr(0, out.rfind('\n', card_limit_bytes - 2) + 1);
}

}  // namespace skerry::words
