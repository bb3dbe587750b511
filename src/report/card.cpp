#include "skerry/report/card.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "skerry/report/explain.hpp"
#include "skerry/report/pack.hpp"

namespace skerry::report {

namespace {

constexpr std::size_t columns = 80;

struct Room {
  std::size_t regions = 4, sites = 3, kit_lines = 4, caution_lines = 3;
};

std::string cut(std::string text, std::size_t most) {
  if (text.size() > most) text.replace(most - 1, std::string::npos, "~");
  return text;
}

/// At most `most` lines.
std::string few_lines(const std::string& text, std::size_t most) {
  std::size_t end = 0;
  std::size_t last = 0;
  for (std::size_t i = 0; i < most && end < text.size(); ++i) {
    const auto stop = text.find('\n', end);
    last = end;
    end = stop == std::string::npos ? text.size() : stop + 1;
  }
  if (end >= text.size()) return text;
  // The last line says that there was more.
  auto kept = text.substr(0, end - 1);
  if (kept.size() - last > columns - 4) kept.resize(last + columns - 4);
  return kept + " ...\n";
}

std::string first_sentence(const std::string& text) {
  const auto stop = text.find(". ");
  return stop == std::string::npos ? text : text.substr(0, stop + 1);
}

/// Local time beside UTC: whole hours, with the zone's odd minutes in the label.
std::string local_label(const kit::Site& site, UtcTime midnight) {
  const auto minutes = site.zone.local_clock(midnight).substr(3);
  return minutes == "00" ? "local" : "loc :" + minutes;
}

std::string plain(std::string_view text) {
  std::string out;
  for (const char c : to_ascii(text)) out += static_cast<unsigned char>(c) < 0x20 || c == 0x7F ? ' ' : c;
  return out;
}

/// The fewest words for the topics that everybody must keep in mind; the first sentence of any other.
std::string short_caution(const advice::Caution& c, const advice::Advice& a) {
  if (c.topic == "lightning") return "Thunder: stop, off the ridge.";
  if (c.topic == "power lines") return "Mast clear of wires.";
  const bool late =
      std::any_of(a.days.begin(), a.days.end(), [](const auto& day) { return day.session_after; });
  if (c.topic == "daylight" && late) return "Past 'leave by': lamp.";
  return plain(first_sentence(c.text));
}

/// "40" of "40m".
std::string short_band(const std::string& id) {
  return id.substr(0, id.find_first_not_of("0123456789"));
}

std::vector<std::size_t> heaviest(const kit::Trip& trip, std::size_t most) {
  std::vector<std::size_t> order(trip.targets.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return trip.targets[a].weight > trip.targets[b].weight;
  });
  order.resize(std::min(order.size(), most));
  return order;
}

std::string hour_row(const std::string& label, const auto& cell) {
  std::string out = fmt::format("{:<8}", cut(label, 7));
  for (int h = 0; h < 24; ++h) out += fmt::format("{:>3}", cell(h));
  return out + "\n";
}

std::string best_band(const kit::Trip& trip, const advice::Advice& a, std::size_t site, std::size_t target,
                      int hour) {
  double most = 0;
  std::string out = ".";
  for (std::size_t b = 0; b < trip.bands.size(); ++b) {
    const auto& slot =
        a.openings.at(static_cast<int>(site), static_cast<int>(target), hour, static_cast<int>(b));
    if (!slot.open || slot.days_both <= most || slot.days_both < trip.want_days_in_ten - 1e-9) continue;
    most = slot.days_both;
    out = short_band(trip.bands[b].id);
  }
  return out;
}

std::string clock(const kit::Site& site, const std::optional<UtcTime>& when) {
  return when ? site.zone.local_clock(*when) : "none";
}

std::string site_block(const kit::Trip& trip, const advice::Advice& a, std::size_t s,
                       const std::vector<std::size_t>& regions) {
  const auto& site = trip.sites[s];
  std::string out =
      cut(fmt::format("\nAT {} {}", plain(site.name), geodesy::to_text(site.at, 2)), columns) + "\n";
  const UtcTime midnight = start_of(trip.first_day);
  for (const auto& day : a.days) {
    if (day.site != static_cast<int>(s)) continue;
    out += fmt::format("sun {}-{} leave by {} (local, first day)\n", clock(site, day.sun.rise),
                       clock(site, day.sun.set), clock(site, day.turn_back));
    break;
  }
  out += hour_row("UTC", [](int h) { return fmt::format("{:02}", h); });
  out += hour_row(local_label(site, midnight), [&](int h) {
    return site.zone.local_clock(midnight + std::chrono::hours(h)).substr(0, 2);
  });
  out += hour_row("on air", [&](int h) {
    const bool on = std::any_of(a.cells.begin(), a.cells.end(), [&](const auto& c) {
      return c.site == static_cast<int>(s) && c.utc_hour == h;
    });
    return on ? "==" : "";
  });
  for (std::size_t i = 0; i < regions.size(); ++i) {
    out += hour_row(fmt::format("{}", static_cast<char>('A' + static_cast<int>(i))), [&](int h) {
      return a.openings.slots.empty() ? std::string(".") : best_band(trip, a, s, regions[i], h);
    });
  }
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
  const auto regions = heaviest(trip, room.regions);
  std::string out = cut(fmt::format("{} {}..{} R12 {:.0f}", cut(plain(trip.name), 40), to_iso(trip.first_day),
                                    to_iso(trip.last_day), trip.climate.r12),
                        columns) +
                    "\n";
  if (!trip.learned.file.empty()) out += "assumptions learned from a log are in use\n";
  if (!trip.climate.measured.empty()) out += "maps scaled around foF2 measured on the day\n";
  for (std::size_t i = 0; i < regions.size(); ++i) {
    for (const auto& t : a.targets) {
      if (t.target != static_cast<int>(regions[i])) continue;
      out += fmt::format("{} {} {:03.0f} deg {:.0f} km\n", static_cast<char>('A' + static_cast<int>(i)),
                         cut(plain(trip.targets[regions[i]].region.name), 30), t.bearing_deg, t.distance_km);
    }
  }
  out += fmt::format("best band (m) by hour, {:g}+ days in ten both ways; . none\n", trip.want_days_in_ten);
  for (std::size_t s = 0; s < std::min(trip.sites.size(), room.sites); ++s)
    out += site_block(trip, a, s, regions);
  std::string kit = fmt::format("{:.1f} kg: ", a.kit.mass_g / 1000);
  bool first = true;
  for (const int item : a.kit.items) {
    kit += (first ? "" : ", ") + plain(a.inventory.things[static_cast<std::size_t>(item)].name);
    first = false;
  }
  out += "\n" + few_lines(wrapped(kit, columns, "KIT ", "  "), room.kit_lines);
  for (const auto& p : a.power) {
    out += cut(fmt::format("POWER {}: lasts {:.1f} h of {:.1f} h wanted",
                           plain(trip.rigs[static_cast<std::size_t>(p.rig)].item.name), p.lasts_hours,
                           p.need_hours),
               columns) +
           "\n";
  }
  std::string care;
  for (const char* topic : {"lightning", "power lines", "exposure", "daylight"}) {
    for (const auto& c : a.cautions) {
      if (c.topic != topic) continue;
      care += (care.empty() ? "" : " ") + short_caution(c, a);
      break;
    }
  }
  if (!care.empty()) out += few_lines(wrapped(care, columns, "CARE ", "  "), room.caution_lines);
  return out;
}

}  // namespace

std::string card_text(const kit::Trip& trip, const advice::Advice& a) {
  // From the roomiest down: the order in which things are given up.
  std::string out;
  for (const Room room :
       {Room{4, 3, 4, 4}, Room{4, 3, 3, 3}, Room{4, 2, 3, 3}, Room{4, 2, 2, 2}, Room{3, 2, 2, 2},
        Room{4, 1, 3, 3}, Room{4, 1, 2, 2}, Room{3, 1, 2, 1}, Room{2, 1, 1, 1}, Room{1, 1, 1, 1}}) {
    out = build(trip, a, room);
    if (out.size() < card_limit_bytes) return out;
  }
  // Only very many rigs come this far.
  return out.substr(0, out.rfind('\n', card_limit_bytes - 2) + 1);
}

}  // namespace skerry::report
