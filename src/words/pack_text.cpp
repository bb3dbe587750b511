// The verdict first, then why, then detail.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "pack_parts.hpp"
#include "skerry/advice/people.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/units.hpp"
#include "skerry/words/air.hpp"
#include "skerry/words/cautions.hpp"
#include "skerry/words/explain.hpp"
#include "skerry/words/place.hpp"
#include "skerry/words/setup.hpp"
#include "skerry/words/verdict.hpp"
#include "strip_text.hpp"

namespace skerry::words {

namespace {

using advice::Advice;
using pack::cut;
using pack::heading;

std::string worth_of_carried(const Advice& a, const advice::ItemAdvice& item, bool always) {
  if (always) return "goes in any case";
  if (a.kit.reach > 0 && item.reach >= a.kit.reach - 0.0005) return nothing_left;
  return item.reach > 0.0005 ? fmt::format("without it {} less", percent(item.reach))
                             : "others do as well, heavier";
}

std::string items(const kit::Trip& trip, const Advice& a, std::size_t columns) {
  // Names give way first on a narrow screen.
  const std::size_t wide = std::clamp<std::size_t>(columns, 88, 112) - 66;
  std::string out = heading("PACK");
  const auto worth_of = [&](const advice::ItemAdvice& item) {
    return worth_of_carried(a, item, nth(a.inventory.things, item.thing).always);
  };
  const bool any_vital = std::any_of(a.items.begin(), a.items.end(), [&](const auto& item) {
    return item.carry && worth_of(item) == nothing_left;
  });
  const std::size_t worth_wide = any_vital ? 26 : 21;
  for (const auto& item : a.items) {
    if (!item.carry) continue;
    const auto& thing = nth(a.inventory.things, item.thing);
    const auto start = fmt::format("  {} {:>9}  {:<{}} ", cut(thing.name, wide), mass(thing.mass_g),
                                   worth_of(item), worth_wide);
    const auto place = place_text(thing.air);
    if (start.size() + place.size() <= columns) {
      out += start + place + "\n";
    } else {
      out += start.substr(0, start.find_last_not_of(' ') + 1) + "\n" +
             wrapped(place, columns, "      ", "      ");
    }
  }
  out +=
      fmt::format("  {} {:>9}  of {} allowed\n", cut("together", wide), mass(a.kit.mass_g), mass(a.limit_g));
  out += heading("LEAVE");
  bool any = false;
  for (const auto& item : a.items) {
    if (item.carry) continue;
    any = true;
    const auto& thing = nth(a.inventory.things, item.thing);
    // Where no kit works at all, the thing is not to blame.
    std::string worth = a.outcome == advice::Outcome::works ? "brings nothing more" : no_kit_text(a.outcome);
    if (thing.excluded) {
      worth = "cannot come";
    } else if (item.reach > 0.0005) {
      worth = fmt::format("would add {} for {}", percent(item.reach), mass(item.added_g));
      if (item.reach_per_kg) worth += fmt::format(" ({} per kg)", percent(*item.reach_per_kg));
    }
    out += fmt::format("  {} {:>9}  {}\n", cut(thing.name, wide), mass(thing.mass_g), worth);
    if (thing.excluded) out += wrapped(why_excluded(trip, thing), columns, "      ", "      ");
    if (thing.kind == advice::ThingKind::rig && trip.people > 1 && !thing.excluded)
      out += wrapped("a second station at the same time is not valued here", columns, "      ", "      ");
  }
  if (!any) out += "  nothing\n";
  return out;
}

/// Judgement: what costs less than this when it is missing is not worth a paragraph.
constexpr double worth_a_paragraph = 0.01;

std::string one_use(const kit::Trip& trip, const Advice& a, const advice::SetupUse& use,
                    std::size_t columns) {
  const auto& setup = nth(a.setups.possible, use.setup);
  std::string out = wrapped(setup_label(trip, setup), columns, "  - ", "    ");
  std::string detail = fmt::format("alone it reaches {}; {}", percent(use.alone), without_text(use.without));
  if (use.share_of_hours < 0.995)
    detail += fmt::format("; on the air for {} of the hours", of_hours(use.share_of_hours));
  if (use.turns) detail += fmt::format("; lay the wire along {:.0f} deg", use.wire_azimuth_deg);
  if (use.mast_cost) {
    detail +=
        fmt::format("; the conductive mast {} {:.1f} dB on {}", use.mast_cost->db < 0 ? "gives" : "takes",
                    std::abs(use.mast_cost->db), nth(trip.bands, use.mast_cost->band).id);
  }
  out += wrapped(detail, columns, "    ", "    ");
  std::string bands;
  for (const auto& band : use.bands) {
    if (band.reach < 0.0005) continue;
    if (!bands.empty()) bands += ", ";
    bands += fmt::format("{} {}", nth(trip.bands, band.use.band).id, percent(band.reach));
  }
  if (!bands.empty()) out += wrapped("by band: " + bands, columns, "    ", "    ");
  for (const auto& note : setup_notes(trip, setup, true))
    out += wrapped("note: " + note, columns, "    ", "    ");
  return out;
}

std::string uses(const kit::Trip& trip, const Advice& a, std::size_t columns) {
  std::vector<const advice::SetupUse*> plan;
  for (const auto& use : a.uses) {
    if (use.in_plan) plan.push_back(&use);
  }
  if (plan.empty()) return {};
  const auto missed = [&](const advice::SetupUse* use) { return a.kit.reach - use->without; };
  const auto little = [&](const advice::SetupUse* use) { return missed(use) < worth_a_paragraph; };
  // Where each can stand in for another, the one that does most alone is told.
  const bool all_little = std::all_of(plan.begin(), plan.end(), little);
  const auto best = *std::max_element(plan.begin(), plan.end(),
                                      [](const auto* x, const auto* y) { return x->alone < y->alone; });
  std::string out = heading("WHAT TO PUT UP"), rest;
  int folded = 0;
  for (const auto* use : plan) {
    if (little(use) && !(all_little && use == best)) {
      rest += (folded++ == 0 ? "" : "; ") + setup_label(trip, a, use->setup);
    } else {
      out += one_use(trip, a, *use, columns);
    }
  }
  if (folded > 0)
    out += wrapped(fmt::format("{} more would each be missed by under 1 %: {}", folded, rest), columns,
                   "  - ", "    ");
  return out;
}

std::string shares(const kit::Trip& trip, const Advice& a) {
  std::string out;
  for (const auto& share : a.bands) {
    if (share.alone < 0.0005) continue;
    out += fmt::format("  {:<6} alone {:>5}, without it {:>5}\n", nth(trip.bands, share.index).id,
                       percent(share.alone), percent(share.without));
  }
  return out.empty() ? out : heading("WHAT EACH BAND IS WORTH") + out;
}

/// The hours of a site's sessions, as marks under an hour ruler.
std::string session_marks(const Advice& a, int site) {
  std::string out;
  for (int h = 0; h < 24; ++h) {
    const bool on = std::any_of(a.cells.begin(), a.cells.end(),
                                [&](const auto& c) { return c.site == site && c.utc_hour == h; });
    out += on ? " ==" : "   ";
  }
  return out;
}

/// As circuit::BothWays::by_es, of a day in ten or more.
bool by_es(const advice::Slot& slot) {
  return slot.days_both >= 0.5 && slot.es_days > slot.days_both / 2;
}

bool goes_round(const advice::Slot& slot) {
  return slot.days_both >= 0.5 && slot.way == geodesy::Way::long_way;
}

std::string region_block(const kit::Trip& trip, const Advice& a, int site, std::size_t target,
                         const Style& style) {
  std::string out;
  const auto& t = a.targets[target];
  bool round = false;
  for (int h = 0; h < 24; ++h) {
    for (std::size_t b = 0; b < trip.bands.size(); ++b)
      round = round || goes_round(a.openings.at(site, static_cast<int>(target), h, static_cast<int>(b)));
  }
  out += fmt::format(
      "\n  {} ({:.0f} km, {:.0f} deg{}): {} of what is wanted\n", trip.targets[target].region.name,
      t.distance_km, t.bearing_deg,
      round ? fmt::format("; L the long way, {:.0f} deg", wrap_360(t.bearing_deg + 180)) : std::string(),
      percent(t.reach));
  out += "     UTC";
  for (int h = 0; h < 24; ++h) out += fmt::format(" {:02}", h);
  out += "\n";
  // A row for each clock of the trip here, and the one there in the middle of the trip.
  const auto spans = sun::clock_spans(nth(trip.sites, site).zone, trip.first_day, trip.last_day);
  auto clocks = clock_rows(spans, "here");
  const int there_s =
      advice::clock_of(trip.targets[target]).offset_s(start_of(trip.climate.day) + std::chrono::hours{12});
  clocks.push_back({hours_head("there", there_s), there_s});
  for (const auto& clock : clocks) {
    out += fmt::format("{:>8}", clock.head);
    for (int h = 0; h < 24; ++h) out += " " + hour_cell(h, clock.offset_s);
    out += "\n";
  }
  const auto marks = session_marks(a, site);
  out += "  on air" + marks.substr(0, marks.find_last_not_of(' ') + 1) + "\n";
  for (std::size_t b = 0; b < trip.bands.size(); ++b) {
    std::string row;
    bool any = false;
    for (int h = 0; h < 24; ++h) {
      const auto& slot = a.openings.at(site, static_cast<int>(target), h, static_cast<int>(b));
      any = any || slot.days_both >= 0.5;
      const char* mark = goes_round(slot) ? "L" : by_es(slot) ? "e" : "";
      const auto sign = *mark == '\0' ? std::string{} : days_sign(true, slot.days_both) + mark;
      row += strip_cell(slot.open(), slot.days_both, style, 3, sign);
    }
    if (any) out += fmt::format("  {:>6}{}\n", trip.bands[b].id, row);
  }
  return out;
}

std::string openings(const kit::Trip& trip, const Advice& a, const Style& style) {
  std::string out;
  for (std::size_t site = 0; site < trip.sites.size(); ++site) {
    out += heading(trip.sites.size() > 1
                       ? fmt::format("DAYS IN TEN WITH THIS KIT, FROM {}", trip.sites[site].name)
                       : std::string("DAYS IN TEN WITH THIS KIT"));
    const auto& slots = a.openings.slots;
    const bool any_es = std::any_of(slots.begin(), slots.end(), by_es);
    const bool any_round = std::any_of(slots.begin(), slots.end(), goes_round);
    out += fmt::format("  both ways; '{}' closed, '-' under half a day{}{}\n", style.unicode ? "·" : ".",
                       any_es ? ", 'e' by sporadic E" : "", any_round ? ", 'L' long way" : "");
    out += fmt::format("  == you are on the air. {}\n", span_note);
    for (std::size_t t = 0; t < trip.targets.size(); ++t)
      out += region_block(trip, a, static_cast<int>(site), t, style);
  }
  return out;
}

std::string days(const kit::Trip& trip, const Advice& a, std::size_t columns) {
  const bool narrow = columns < 100;
  std::string out =
      heading("DAYLIGHT (local time; '!' a session runs on after the time to leave, or sunset)");
  for (const auto& site : trip.sites) {
    const auto change = change_text(sun::clock_spans(site.zone, trip.first_day, trip.last_day));
    if (!change.empty()) out += wrapped("Mind: at " + site.name + " " + change + ".", columns, "  ", "    ");
  }
  for (const auto& day : a.days) {
    const auto& site = nth(trip.sites, day.site);
    const auto clock = [&](const auto& when) { return fmt::format("{:<5}", local_clock(site.zone, when)); };
    out += fmt::format("  {}{}  {} {}  {} {}{}  {}{}\n", to_iso(day.date),
                       trip.sites.size() > 1 ? " " + cut(site.name, narrow ? 12 : 20) : "",
                       narrow ? "up" : "sunrise", clock(day.sun.rise), narrow ? "down" : "sunset",
                       clock(day.sun.set), !site.descent_minutes ? "" : "  leave by " + clock(day.turn_back),
                       site.zone.label(day.sun.noon), day.session_after ? "  ! on air later" : "");
  }
  return out;
}

}  // namespace

std::string without_text(double left) {
  return left < 0.0005 ? nothing_left : "without it " + percent(left) + " remain";
}

namespace {

std::string cannot(const kit::Trip& trip, const Advice& a, std::size_t columns) {
  std::string out;
  for (const auto& i : cannot_be(trip, a)) out += wrapped(i.what + ": " + i.why, columns, "  - ", "    ");
  return out.empty() ? out : heading("CANNOT BE") + out;
}

std::string remedies(const kit::Trip& trip, const Advice& a, std::size_t columns) {
  std::string out;
  for (const auto& remedy : a.remedies) out += wrapped(remedy_text(trip, remedy), columns, "  - ", "    ");
  return out.empty() ? out : heading("WHAT WOULD MEND IT") + out;
}

std::string cautions(const kit::Trip& trip, const Advice& a, std::size_t columns) {
  std::string out = heading("CAUTIONS");
  for (const auto& caution : a.cautions)
    out += wrapped(std::string(topic_text(topic_of(caution))) + ": " + caution_text(trip, a, caution),
                   columns, "  - ", "    ");
  return out;
}

std::string section(Section which, const kit::Trip& trip, const Advice& a, std::size_t columns,
                    const Style& style) {
  switch (which) {
    case Section::items:
      return items(trip, a, columns);
    case Section::bags:
      return pack::bags(trip, a, columns);
    case Section::uses:
      return uses(trip, a, columns);
    case Section::bands:
      return shares(trip, a);
    case Section::power:
      return pack::power(trip, a, columns);
    case Section::frontier:
      return pack::trade_off(a, columns);
    case Section::kits:
      return pack::other_kits(a, columns);
    case Section::modes:
      return pack::modes(trip, a, columns);
    case Section::cases:
      return pack::scenarios(trip, a, columns);
    case Section::pairs:
      return pack::band_pairs(trip, a, columns);
    case Section::strips:
      return openings(trip, a, style);
    case Section::days:
      return days(trip, a, columns) + pack::contacts(trip, a, columns);
    case Section::cannot:
      return cannot(trip, a, columns);
    case Section::remedies:
      return remedies(trip, a, columns);
    case Section::cautions:
      break;
  }
  return cautions(trip, a, columns);
}

}  // namespace

std::string pack::head(const kit::Trip& trip, const Advice& a, std::size_t columns) {
  std::string out = wrapped(fmt::format("{}, {} to {}, R12 {:.0f}", trip.name, to_iso(trip.first_day),
                                        to_iso(trip.last_day), trip.climate.r12),
                            columns, "", "  ");
  for (const auto& caution : a.cautions) {
    // What changes every number below stands above them as well.
    if (const auto topic = topic_of(caution); topic == Topic::measured || topic == Topic::learned)
      out += wrapped(caution_text(trip, a, caution), columns, "", "  ");
  }
  return out + wrapped(verdict_text(trip, a, Reader::of_terminal), columns, "", "");
}

std::string pack_text(const kit::Trip& trip, const Advice& a, std::span<const Section> sections,
                      const Style& style) {
  const auto columns = style.width(120);
  std::string out = pack::head(trip, a, columns) +
                    wrapped("The Sun: " + activity_source(trip.activity_source) + ".", columns, "", "  ") +
                    pack::summary(trip, a, columns);
  for (const auto which : sections) out += section(which, trip, a, columns, style);
  return on_screen(out, style, 120);
}

std::string section_lines(Section which, const kit::Trip& trip, const Advice& a) {
  constexpr std::size_t unbroken = 1U << 20U;
  const auto text = section(which, trip, a, unbroken, Style{});
  // A blank line, the heading, the rest.
  const auto heading_end = text.find('\n', 1);
  return heading_end == std::string::npos ? std::string() : text.substr(heading_end + 1);
}

std::string summary_lines(const kit::Trip& trip, const Advice& a) {
  return pack::summary(trip, a, 1U << 20U);
}

}  // namespace skerry::words
