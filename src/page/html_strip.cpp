// Days in ten, band by hour, on the page.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "hour_rows.hpp"
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

std::string info_row(const char* name, const char* kind, const auto& cell) {
  std::string out = fmt::format("<tr class=\"{}\"><th scope=\"row\">{}</th>", kind, name);
  for (std::size_t h = 0; h < 24; ++h) out += cell(h);
  return out + "</tr>";
}

std::string light_row(const char* name, const std::array<double, 24>& sun_deg) {
  return info_row(name, "light", [&](std::size_t h) {
    return fmt::format("<td class=\"{0}\" title=\"{1}\">{2}</td>", light_word(sun_deg[h]),
                       fmt::format(caption::sun_height, light_word(sun_deg[h]), plus_zero(sun_deg[h], 0)),
                       light_sign(sun_deg[h]));
  });
}

std::string band_row(const std::string& band, std::size_t index, const advice::PictureWay& way,
                     const advice::PictureSite& site, std::size_t bands, double want) {
  std::string out = fmt::format("<tr data-band=\"{}\"><th scope=\"row\">{}</th>", index, markup(band));
  for (std::size_t h = 0; h < 24; ++h) {
    const auto& cell = way.cells[h * bands + index];
    out += fmt::format("<td class=\"{}\">{}</td>", cell_classes(cell, want, site.minutes[h] > 0),
                       words::days_sign(cell.open(), cell.days_both));
  }
  return out + "</tr>";
}

}  // namespace

std::string cell_classes(const PictureCell& cell, double want, bool on_air) {
  std::string out = cell.open() ? fmt::format("d{}", words::days_class(cell.days_both)) : std::string("shut");
  if (cell.open() && cell.days_both >= want) out += " good";
  if (on_air) out += " on";
  return out;
}

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

}  // namespace skerry::page
