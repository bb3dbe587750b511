// Days in ten of one way as a picture: bands by hours, with clocks and Sun at both ends.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "html_parts.hpp"
#include "html_text.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/words/numbers.hpp"
#include "skerry/words/place.hpp"
#include "svg.hpp"

namespace skerry::page {

namespace {

// Sizes in units of the picture.
constexpr double name_width = 92, cell_width = 34, row_height = 26;

std::string text(double x, double y, const char* anchor, const std::string& said,
                 const std::string& more = "") {
  return fmt::format("<text x=\"{:g}\" y=\"{:g}\" text-anchor=\"{}\"{}>{}</text>", x, y, anchor, more, said);
}

double middle_of(std::size_t hour) {
  return name_width + (static_cast<double>(hour) + 0.5) * cell_width;
}

std::string row(double y, const std::string& name, const auto& cell, const std::string& more = "") {
  std::string out = text(0, y, "start", name);
  for (std::size_t h = 0; h < 24; ++h) out += text(middle_of(h), y, "middle", cell(h), more);
  return out;
}

std::string clock(int minute) {
  return minute % 60 == 0 ? fmt::format("{:02}", minute / 60) : words::clock_text(minute);
}

}  // namespace

std::string strip_svg(const kit::Trip& trip, const advice::Picture& picture, std::size_t w) {
  const auto& way = picture.ways[w];
  const auto& site = nth(picture.sites, way.site);
  const std::size_t bands = trip.bands.size();
  const auto& region = nth(trip.targets, way.target).region.name;
  std::string cells, frames;
  double y = 18;
  cells += row(
      y, caption::utc, [](std::size_t h) { return fmt::format("{:02}", h); }, " font-weight=\"bold\"");
  y += 2;
  // The site's clock; before and after, where it is changed within the trip.
  for (const auto& here : words::clock_rows(
           sun::clock_spans(nth(trip.sites, way.site).zone, trip.first_day, trip.last_day), caption::here)) {
    cells += row(
        y += 20, here.head,
        [&](std::size_t h) { return words::hour_cell(static_cast<int>(h), here.offset_s); },
        " font-size=\"11\"");
  }
  cells += row(
      y += 20, caption::there, [&](std::size_t h) { return clock(far_minute(way, picture.day, h)); },
      " font-size=\"11\"");
  cells += row(y += 20, caption::sun_here, [&](std::size_t h) { return light_sign(site.sun_deg[h]); });
  cells += row(y += 20, caption::sun_there, [&](std::size_t h) { return light_sign(way.far_sun_deg[h]); });
  y += 10;
  for (std::size_t b = 0; b < bands; ++b) {
    if (way.cells[b].no_setup) continue;
    cells += text(0, y + 18, "start", markup(trip.bands[b].id));
    for (std::size_t h = 0; h < 24; ++h) {
      const auto& cell = way.cells[h * bands + b];
      const int days = words::days_class(cell.days_both);
      const double x = name_width + static_cast<double>(h) * cell_width;
      const bool filled = cell.open() && days > 0;
      if (filled) {
        cells += fmt::format("<rect x=\"{:g}\" y=\"{:g}\" width=\"{:g}\" height=\"{:g}\" fill=\"{}\"/>",
                             x + 1, y + 1, cell_width - 2, row_height - 2, words::days_colour(days));
      }
      // The style sheet's colour of letters would win over an attribute: a class of its own.
      cells += text(
          middle_of(h), y + 18, "middle", words::days_sign(cell.open(), cell.days_both),
          fmt::format(" class=\"{}\"{}",
                      !filled                      ? "plain"
                      : words::light_letters(days) ? "palemark"
                                                   : "deepmark",
                      cell.open() && cell.days_both >= trip.want_days_in_ten ? " font-weight=\"bold\"" : ""));
      if (site.minutes[h] > 0) {
        frames += fmt::format("<rect class=\"onair\" x=\"{:g}\" y=\"{:g}\" width=\"{:g}\" height=\"{:g}\"/>",
                              x + 1, y + 1, cell_width - 2, row_height - 2);
      }
    }
    y += row_height;
  }
  return fmt::format(
             "<svg class=\"hours\" viewBox=\"0 0 {:g} {:g}\" role=\"img\" aria-label=\"{}\" font-size=\"13\">",
             name_width + 24 * cell_width, y + 4, fmt::format(caption::strip_picture, markup(region))) +
         cells + frames + "</svg>";
}

}  // namespace skerry::page
