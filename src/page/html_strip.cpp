// Days in ten, band by hour: on the page and on the field card.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "html_parts.hpp"
#include "html_text.hpp"
#include "skerry/core/decimal.hpp"
#include "skerry/sun/greyline.hpp"
#include "skerry/words/days.hpp"

namespace skerry::page {

namespace {

using advice::PictureCell;

// Judgement: what one A4 sheet holds in letters that can be read at arm's length.
constexpr std::size_t card_sites = 2, card_regions = 4, card_bands_of_one_site = 7, card_bands_of_two = 4;

const char* light_sign(double sun_deg) {
  const std::string_view word = light_word(sun_deg);
  return word == "day" ? "&#9675;" : word == "grey" ? "&#9680;" : "&#9679;";
}

int far_minute(const advice::PictureWay& way, UtcTime midnight, int hour) {
  return ((hour * 60 + way.far_zone.offset_s(midnight) / 60) % 1440 + 1440) % 1440;
}

std::string hour_row(const char* name, const char* kind, const advice::PictureSite& site, const auto& text) {
  std::string out = fmt::format("<tr class=\"{}\"><th scope=\"row\">{}</th>", kind, name);
  for (std::size_t h = 0; h < 24; ++h) {
    out += fmt::format("<th scope=\"col\"{}>{}</th>", site.minutes[h] > 0 ? " class=\"on\"" : "", text(h));
  }
  return out + "</tr>";
}

std::string info_row(const char* name, const char* kind, const auto& cell) {
  std::string out = fmt::format("<tr class=\"{}\"><th scope=\"row\">{}</th>", kind, name);
  for (std::size_t h = 0; h < 24; ++h) out += cell(h);
  return out + "</tr>";
}

std::string clock_short(int minute) {
  return minute % 60 == 0 ? fmt::format("{:02}", minute / 60)
                          : fmt::format("{:02}<sup>{:02}</sup>", minute / 60, minute % 60);
}

std::string light_row(const char* name, const std::array<double, 24>& sun_deg) {
  return info_row(name, "light", [&](std::size_t h) {
    return fmt::format("<td class=\"{0}\" title=\"{0}, Sun {1:.0f} degrees\">{2}</td>",
                       light_word(sun_deg[h]), plus_zero(sun_deg[h], 0), light_sign(sun_deg[h]));
  });
}

int days_class_of(const PictureCell& cell) {
  return static_cast<int>(std::lround(std::clamp(cell.days_both, 0.0, 10.0)));
}

/// `weak` stands before a number of days that is fewer than wanted.
std::string band_row(const std::string& band, std::size_t index, const advice::PictureWay& way,
                     const advice::PictureSite& site, std::size_t bands, double want, const char* weak = "") {
  std::string out = fmt::format("<tr data-band=\"{}\"><th scope=\"row\">{}</th>", index, markup(band));
  for (std::size_t h = 0; h < 24; ++h) {
    const auto& cell = way.cells[h * bands + index];
    std::string kind = cell.open ? fmt::format("d{}", days_class_of(cell)) : std::string("shut");
    if (cell.open && cell.days_both >= want) kind += " good";
    if (site.minutes[h] > 0) kind += " on";
    const bool is_weak = cell.open && cell.days_both >= 0.5 && cell.days_both < want;
    out += fmt::format("<td class=\"{}\">{}{}</td>", kind, is_weak ? weak : "",
                       words::days_sign(cell.open, cell.days_both));
  }
  return out + "</tr>";
}

/// Bands that the kit can work from the site, in the order of the trip.
std::vector<std::size_t> worked_bands(const advice::PictureWay& way, std::size_t bands) {
  std::vector<std::size_t> out;
  for (std::size_t b = 0; b < bands; ++b) {
    if (!way.cells[b].no_setup) out.push_back(b);
  }
  return out;
}

/// The best few bands of a way: by days in ten within sessions, then at all hours; back in the trip's order.
std::vector<std::size_t> best_bands(const advice::PictureWay& way, const advice::PictureSite& site,
                                    std::size_t bands, std::size_t most) {
  auto out = worked_bands(way, bands);
  const auto worth = [&](std::size_t b) {
    double sum = 0;
    for (std::size_t h = 0; h < 24; ++h)
      sum += way.cells[h * bands + b].days_both * (site.minutes[h] > 0 ? 100 : 1);
    return sum;
  };
  std::stable_sort(out.begin(), out.end(), [&](std::size_t a, std::size_t b) { return worth(a) > worth(b); });
  if (out.size() > most) out.resize(most);
  std::erase_if(out, [&](std::size_t b) { return worth(b) < 0.5; });
  std::sort(out.begin(), out.end());
  return out;
}

std::string card_grid(const kit::Trip& trip, const advice::Picture& picture, std::size_t s,
                      const std::vector<std::size_t>& regions, std::size_t most_bands) {
  const auto& site = picture.sites[s];
  const std::size_t bands = trip.bands.size();
  std::string out = fmt::format("<table class=\"cardgrid\"><caption>From {}, {}</caption><thead>",
                                "<bdi>" + markup(trip.sites[s].name) + "</bdi>",
                                markup(geodesy::to_text(trip.sites[s].at, 2)));
  out += hour_row("UTC", "utc", site, [](std::size_t h) { return fmt::format("{:02}", h); });
  out += hour_row("here", "local", site, [&](std::size_t h) { return clock_short(site.local_minute[h]); });
  out += hour_row("Sun", "local", site, [&](std::size_t h) { return light_sign(site.sun_deg[h]); });
  out += "</thead>";
  for (const std::size_t t : regions) {
    const auto& way = picture.ways[s * trip.targets.size() + t];
    const double km = way.path.distance_km;
    out += fmt::format(
        "<tbody><tr class=\"regionrow\"><th colspan=\"25\" scope=\"rowgroup\"><bdi>{}</bdi> &#183; bearing "
        "{:03.0f}&#176; (long way "
        "{:03.0f}&#176;) &#183; {:.0f} km &#183; there UTC {:+g} h</th></tr>",
        markup(trip.targets[t].region.name), std::fmod(std::round(way.path.bearing_deg), 360),
        std::fmod(std::round(way.path.bearing_deg) + 180, 360), km,
        way.far_zone.offset_s(start_of(picture.day)) / 3600.0);
    const auto chosen = best_bands(way, site, bands, most_bands);
    if (chosen.empty())
      out += "<tr><th scope=\"row\">-</th><td colspan=\"24\">no band opens with this kit</td></tr>";
    for (const std::size_t b : chosen)
      out += band_row(trip.bands[b].id, b, way, site, bands, trip.want_days_in_ten, "~");
    out += "</tbody>";
  }
  return out + "</table>";
}

/// A line for each site: the Sun of its first and last day, between which it moves by minutes.
std::string card_sun(const kit::Trip& trip, const advice::Advice& a) {
  std::string out;
  for (std::size_t s = 0; s < trip.sites.size(); ++s) {
    const auto& site = trip.sites[s];
    const auto clock = [&](const std::optional<UtcTime>& when) {
      return when ? site.zone.local_clock(*when) : std::string("none");
    };
    const advice::DayPlan* first = nullptr;
    const advice::DayPlan* last = nullptr;
    bool late = false;
    for (const auto& day : a.days) {
      if (day.site != static_cast<int>(s)) continue;
      if (first == nullptr) first = &day;
      last = &day;
      late = late || day.session_after;
    }
    if (first == nullptr) continue;
    out += "<li><bdi>" + markup(site.name) + "</bdi>: ";
    const auto add = [&](const advice::DayPlan& day) {
      out += fmt::format("{} up {} down {}", to_iso(day.date).substr(5), clock(day.sun.rise),
                         clock(day.sun.set));
      if (site.descent_minutes >= 0) out += " <b>leave by " + clock(day.turn_back) + "</b>";
    };
    add(*first);
    if (last != first) {
      out += "; ";
      add(*last);
    }
    out += late ? " (a session runs past it: lamp)</li>" : "</li>";
  }
  return "<h3>Sun (local)</h3><ul>" + out + "</ul>";
}

std::string card_kit(const kit::Trip& trip, const advice::Advice& a) {
  std::string out = fmt::format("<h3>Kit, {}</h3><p class=\"kitline\">", mass_text(a.kit.mass_g));
  bool first = true;
  for (const auto& item : a.items) {
    if (!item.carry) continue;
    const auto& thing = a.inventory.things[static_cast<std::size_t>(item.thing)];
    out += fmt::format("{}&#9744;&#160;<bdi>{}</bdi>", first ? "" : " &#160; ", markup(thing.name));
    first = false;
  }
  out += "</p><h3>Put up</h3><ul class=\"two\">";
  for (const auto& use : a.uses) {
    if (!use.in_plan) continue;
    out += "<li><bdi>" + markup(a.setups.possible[static_cast<std::size_t>(use.setup)].label) + "</bdi>";
    if (use.turns) out += fmt::format(", wire along {:.0f}&#176;", use.wire_azimuth_deg);
    out += "</li>";
  }
  out += "</ul><h3>Battery</h3><ul class=\"two\">";
  for (const auto& p : a.power) {
    out += fmt::format("<li><bdi>{}</bdi>: lasts {:.1f} h of {:.1f} h wanted a day</li>",
                       markup(trip.rigs[static_cast<std::size_t>(p.rig)].item.name), p.lasts_hours,
                       p.need_hours);
  }
  if (a.power.empty()) out += "<li>none carried: power from the site</li>";
  return out + "</ul>";
}

/// All that concerns the place and the work there; of air travel and licence the first word of each, as the
/// page holds the rest.
std::string card_cautions(const advice::Advice& a) {
  std::string out = "<h3>Mind</h3><ul class=\"cautions\">";
  bool air = false;
  for (const auto& c : a.cautions) {
    if (c.topic == "air" && air) continue;
    air = air || c.topic == "air";
    out += "<li><b>" + markup(c.topic) + ":</b> " + markup(c.text) + "</li>";
  }
  return out + "</ul>";
}

}  // namespace

const char* light_word(double sun_deg) {
  if (sun_deg > sun::twilight_high_deg) return "day";
  return sun_deg >= sun::twilight_low_deg ? "grey" : "night";
}

std::string clock_text(int minute) {
  return fmt::format("{:02}:{:02}", minute / 60, minute % 60);
}

std::string strip_html(const kit::Trip& trip, const advice::Picture& picture, std::size_t w) {
  const auto& way = picture.ways[w];
  const auto& site = picture.sites[static_cast<std::size_t>(way.site)];
  const std::size_t bands = trip.bands.size();
  const UtcTime midnight = start_of(picture.day);
  const auto& region = trip.targets[static_cast<std::size_t>(way.target)].region.name;
  std::string out = fmt::format(
      "<div class=\"scroll\" role=\"group\" aria-label=\"{0} by hour, scrolls sideways\" "
      "tabindex=\"0\"><table class=\"strip\" role=\"grid\" data-way=\"{1}\" "
      "aria-label=\"Days in ten to {0}, band by UTC hour\"><thead>",
      markup(region), w);
  out += hour_row("UTC", "utc", site, [](std::size_t h) { return fmt::format("{:02}", h); });
  out += hour_row("here", "local", site, [&](std::size_t h) { return clock_short(site.local_minute[h]); });
  out += hour_row("there", "local", site,
                  [&](std::size_t h) { return clock_short(far_minute(way, midnight, static_cast<int>(h))); });
  out += "</thead><tbody>";
  out += light_row("Sun here", site.sun_deg);
  out += light_row("Sun there", way.far_sun_deg);
  std::string missing;
  for (std::size_t b = 0; b < bands; ++b) {
    if (way.cells[b].no_setup) {
      missing += (missing.empty() ? "" : ", ") + markup(trip.bands[b].id);
    } else {
      out += band_row(trip.bands[b].id, b, way, site, bands, trip.want_days_in_ten);
    }
  }
  out += "</tbody></table></div>";
  if (!missing.empty()) out += "<p class=\"fine\">Nothing in the kit works " + missing + " here.</p>";
  return out;
}

std::string card_html(const kit::Trip& trip, const advice::Advice& a, const advice::Picture& picture) {
  std::string out;
  std::vector<std::size_t> regions;
  for (std::size_t t = 0; t < trip.targets.size(); ++t) regions.push_back(t);
  std::stable_sort(regions.begin(), regions.end(), [&](std::size_t x, std::size_t y) {
    return trip.targets[x].weight > trip.targets[y].weight;
  });
  if (regions.size() > card_regions) regions.resize(card_regions);
  std::sort(regions.begin(), regions.end());
  const std::size_t sites = std::min(card_sites, trip.sites.size());
  const std::size_t most_bands = sites == 1 ? card_bands_of_one_site : card_bands_of_two;
  if (!picture.ways.empty()) {
    for (std::size_t s = 0; s < sites; ++s) out += card_grid(trip, picture, s, regions, most_bands);
  }
  out += fmt::format(
      "<p class=\"fine\">Days in ten on which both directions work, monthly median sky; {:g} or more (before "
      "rounding) boxed "
      "and bold, '~' fewer, '-' "
      "under half a day, '.' closed. Hours of your sessions are boxed in the clock rows and grey in the "
      "table. Sun: &#9675; "
      "day, &#9680; grey line, &#9679; night. \"There\" is the nautical zone of the longitude, not the legal "
      "time.{}{} At "
      "most {} bands a region.</p>",
      trip.want_days_in_ten, trip.targets.size() > card_regions ? " The four weightiest regions." : "",
      trip.sites.size() > sites ? " The first two sites." : "", most_bands);
  return out + "<div class=\"cardfoot\">" + card_sun(trip, a) + card_kit(trip, a) + card_cautions(a) +
         "</div>";
}

}  // namespace skerry::page
