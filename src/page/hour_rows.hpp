// Head rows of a table of hours. Layer: page (internal).
#pragma once

#include <fmt/format.h>

#include <string>

#include "skerry/advice/picture.hpp"
#include "skerry/sun/clock_spans.hpp"
#include "skerry/words/captions.hpp"
#include "skerry/words/place.hpp"

namespace skerry::page {

/// text: of an hour.
std::string hour_row(const std::string& name, const char* kind, const advice::PictureSite& site,
                     const auto& text) {
  std::string out = fmt::format("<tr class=\"{}\"><th scope=\"row\">{}</th>", kind, name);
  for (std::size_t h = 0; h < 24; ++h) {
    out += fmt::format("<th scope=\"col\"{}>{}</th>", site.minutes[h] > 0 ? " class=\"on\"" : "", text(h));
  }
  return out + "</tr>";
}

/// A row of local hours. Minutes that all of them share stand once, in its head.
std::string clock_row(const char* name, const advice::PictureSite& site, const auto& minute_at) {
  bool same = true;
  for (std::size_t h = 1; h < 24; ++h) same = same && minute_at(h) % 60 == minute_at(0) % 60;
  return hour_row(
      same ? words::hours_head(name, minute_at(0) % 60 * 60) : name, "local", site, [&](std::size_t h) {
        const auto minute = minute_at(h);
        return same || minute % 60 == 0 ? fmt::format("{:02}", minute / 60)
                                        : fmt::format("{:02}<sup>{:02}</sup>", minute / 60, minute % 60);
      });
}

/// The site's clock; before and after, where it is changed within the trip.
inline std::string here_rows(const kit::Trip& trip, const kit::Site& place, const advice::PictureSite& site) {
  std::string out;
  for (const auto& clock :
       words::clock_rows(sun::clock_spans(place.zone, trip.first_day, trip.last_day), words::caption::here)) {
    out += hour_row(clock.head, "local", site,
                    [&](std::size_t h) { return words::hour_cell(static_cast<int>(h), clock.offset_s); });
  }
  return out;
}

}  // namespace skerry::page
