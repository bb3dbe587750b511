// Days in ten, band by hour: on the page and on the field card.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "html_parts.hpp"
#include "html_text.hpp"
#include "skerry/core/decimal.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/sun/greyline.hpp"
#include "skerry/words/numbers.hpp"
#include "skerry/words/place.hpp"
#include "skerry/words/setup.hpp"
#include "skerry/words/verdict.hpp"

namespace skerry::page {

namespace {

using advice::PictureCell;

// Judgement: what one A4 sheet holds in letters that can be read at arm's length.
constexpr std::size_t card_sites = 2, card_regions = 4, card_bands_of_one_site = 7, card_bands_of_two = 4;

std::string hour_row(const std::string& name, const char* kind, const advice::PictureSite& site,
                     const auto& text) {
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

/// A row of local hours. Minutes that all of them share stand once, in its head.
std::string clock_row(const char* name, const advice::PictureSite& site, const auto& minute_at) {
  bool same = true;
  for (std::size_t h = 1; h < 24; ++h) same = same && minute_at(h) % 60 == minute_at(0) % 60;
  return hour_row(same ? words::hours_head(name, minute_at(0) % 60 * 60) : name, "local", site,
                  [&](std::size_t h) {
                    return same ? fmt::format("{:02}", minute_at(h) / 60) : clock_short(minute_at(h));
                  });
}

/// The site's clock; before and after, where it is changed within the trip.
std::string here_rows(const kit::Trip& trip, const kit::Site& place, const advice::PictureSite& site) {
  std::string out;
  for (const auto& clock :
       words::clock_rows(sun::clock_spans(place.zone, trip.first_day, trip.last_day), caption::here)) {
    out += hour_row(clock.head, "local", site,
                    [&](std::size_t h) { return words::hour_cell(static_cast<int>(h), clock.offset_s); });
  }
  return out;
}

std::string light_row(const char* name, const std::array<double, 24>& sun_deg) {
  return info_row(name, "light", [&](std::size_t h) {
    return fmt::format("<td class=\"{0}\" title=\"{1}\">{2}</td>", light_word(sun_deg[h]),
                       fmt::format(caption::sun_height, light_word(sun_deg[h]), plus_zero(sun_deg[h], 0)),
                       light_sign(sun_deg[h]));
  });
}

/// `weak` stands before a number of days that is fewer than wanted.
std::string band_row(const std::string& band, std::size_t index, const advice::PictureWay& way,
                     const advice::PictureSite& site, std::size_t bands, double want, const char* weak = "") {
  std::string out = fmt::format("<tr data-band=\"{}\"><th scope=\"row\">{}</th>", index, markup(band));
  for (std::size_t h = 0; h < 24; ++h) {
    const auto& cell = way.cells[h * bands + index];
    std::string kind =
        cell.open() ? fmt::format("d{}", words::days_class(cell.days_both)) : std::string("shut");
    if (cell.open() && cell.days_both >= want) kind += " good";
    if (site.minutes[h] > 0) kind += " on";
    const auto sign = words::days_sign(cell.open(), cell.days_both);
    const bool is_weak = sign[0] >= '0' && sign[0] <= '9' && cell.days_both < want;
    out += fmt::format("<td class=\"{}\">{}{}</td>", kind, is_weak ? weak : "", sign);
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
  std::string out = fmt::format("<table class=\"cardgrid\"><caption>{}, {}</caption><thead>",
                                fmt::format(caption::from, bdi(trip.sites[s].name)),
                                markup(geodesy::to_text(trip.sites[s].at, 2)));
  out += hour_row(caption::utc, "utc", site, [](std::size_t h) { return fmt::format("{:02}", h); });
  out += here_rows(trip, nth(trip.sites, site.site), site);
  out += hour_row(caption::sun, "local", site, [&](std::size_t h) { return light_sign(site.sun_deg[h]); });
  out += "</thead>";
  for (const std::size_t t : regions) {
    const auto& way = picture.ways[s * trip.targets.size() + t];
    const double km = way.path.distance_km;
    out += fmt::format("<tbody><tr class=\"regionrow\"><th colspan=\"25\" scope=\"rowgroup\">{}</th></tr>",
                       fmt::format(caption::card_region, bdi(trip.targets[t].region.name),
                                   std::fmod(std::round(way.path.bearing_deg), 360),
                                   std::fmod(std::round(way.path.bearing_deg) + 180, 360), km,
                                   markup(words::clock_words(way.far_zone, start_of(picture.day)))));
    const auto chosen = best_bands(way, site, bands, most_bands);
    if (chosen.empty())
      out += fmt::format("<tr><th scope=\"row\">-</th><td colspan=\"24\">{}</td></tr>", caption::card_closed);
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
    const auto clock = [&](const auto& when) { return words::local_clock(site.zone, when); };
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
    out += "<li>" + bdi(site.name) + ": ";
    const auto add = [&](const advice::DayPlan& day) {
      out +=
          fmt::format(caption::card_day, to_iso(day.date).substr(5), clock(day.sun.rise), clock(day.sun.set));
      if (site.descent_minutes) out += " <b>" + (caption::card_leave + clock(day.turn_back)) + "</b>";
    };
    add(*first);
    if (last != first) {
      out += "; ";
      add(*last);
    }
    out += late ? caption::card_late : "";
    if (const auto change = words::change_text(sun::clock_spans(site.zone, trip.first_day, trip.last_day));
        !change.empty())
      out += "; " + markup(change);
    out += "</li>";
  }
  return fmt::format("<h3>{}</h3><ul>{}</ul>", caption::card_sun, out);
}

std::string card_kit(const kit::Trip& trip, const advice::Advice& a) {
  std::string out =
      "<h3>" + fmt::format(caption::card_kit, words::mass(a.kit.mass_g)) + "</h3><p class=\"kitline\">";
  bool first = true;
  for (const auto& item : a.items) {
    if (!item.carry) continue;
    const auto& thing = nth(a.inventory.things, item.thing);
    out += fmt::format("{}&#9744;&#160;{}", first ? "" : " &#160; ", bdi(thing.name));
    first = false;
  }
  out += fmt::format("</p><h3>{}</h3><ul class=\"two\">", caption::put_up);
  for (const auto& use : a.uses) {
    if (!use.in_plan) continue;
    out += "<li>" + bdi(words::setup_label(trip, a, use.setup));
    if (use.turns) out += fmt::format(caption::card_wire, use.wire_azimuth_deg);
    out += "</li>";
  }
  out += fmt::format("</ul><h3>{}</h3><ul class=\"two\">", caption::card_battery);
  for (const auto& p : a.power) {
    out +=
        "<li>" +
        fmt::format(caption::card_lasts, bdi(nth(trip.rigs, p.rig).item.name), p.lasts_hours, p.need_hours) +
        "</li>";
  }
  if (a.power.empty()) out += fmt::format("<li>{}</li>", caption::card_no_battery);
  return out + "</ul>";
}

/// All that concerns the place and the work there; of air travel and licence the first word of each, as the
/// page holds the rest.
std::string card_cautions(const kit::Trip& trip, const advice::Advice& a) {
  std::string out = fmt::format("<h3>{}</h3><ul class=\"cautions\">", caption::card_mind);
  bool air = false;
  for (const auto& c : a.cautions) {
    const auto topic = words::topic_of(c);
    if (topic == words::Topic::air && air) continue;
    air = air || topic == words::Topic::air;
    out += fmt::format("<li><b>{}:</b> {}</li>", words::topic_text(topic),
                       markup(words::caution_text(trip, a, c)));
  }
  return out + "</ul>";
}

}  // namespace

const char* light_sign(double sun_deg) {
  const std::string_view word = light_word(sun_deg);
  return word == "day" ? "&#9675;" : word == "grey" ? "&#9680;" : "&#9679;";
}

int far_minute(const advice::PictureWay& way, Day day, std::size_t hour) {
  return ((static_cast<int>(hour) * 60 + way.far_zone.offset_s(start_of(day)) / 60) % 1440 + 1440) % 1440;
}

const char* light_word(double sun_deg) {
  if (sun_deg > sun::twilight_high_deg) return "day";
  return sun_deg >= sun::twilight_low_deg ? "grey" : "night";
}

std::string strip_html(const kit::Trip& trip, const advice::Picture& picture, std::size_t w) {
  const auto& way = picture.ways[w];
  const auto& site = nth(picture.sites, way.site);
  const std::size_t bands = trip.bands.size();
  const auto region = markup(nth(trip.targets, way.target).region.name);
  std::string out = fmt::format(
      "<div class=\"scroll\" role=\"group\" aria-label=\"{}\" tabindex=\"0\"><table class=\"strip\" "
      "role=\"grid\" data-way=\"{}\" aria-label=\"{}\"><thead>",
      fmt::format(caption::strip_scrolls, region), w, fmt::format(caption::strip_table, region));
  out += hour_row(caption::utc, "utc", site, [](std::size_t h) { return fmt::format("{:02}", h); });
  out += here_rows(trip, nth(trip.sites, way.site), site);
  out += clock_row(caption::there, site, [&](std::size_t h) { return far_minute(way, picture.day, h); });
  out += "</thead><tbody>";
  out += light_row(caption::sun_here, site.sun_deg);
  out += light_row(caption::sun_there, way.far_sun_deg);
  std::string missing;
  for (std::size_t b = 0; b < bands; ++b) {
    if (way.cells[b].no_setup) {
      missing += (missing.empty() ? "" : ", ") + markup(trip.bands[b].id);
    } else {
      out += band_row(trip.bands[b].id, b, way, site, bands, trip.want_days_in_ten);
    }
  }
  out += "</tbody></table></div>";
  if (!missing.empty()) out += "<p class=\"fine\">" + fmt::format(caption::no_setup, missing) + "</p>";
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
  out += "<p class=\"fine\">" +
         fmt::format(caption::card_key, trip.want_days_in_ten,
                     trip.targets.size() > card_regions ? caption::card_regions : "",
                     trip.sites.size() > sites ? caption::card_sites : "", most_bands) +
         "</p>";
  return out + "<div class=\"cardfoot\">" + card_sun(trip, a) + card_kit(trip, a) + card_cautions(trip, a) +
         "</div>";
}

}  // namespace skerry::page
