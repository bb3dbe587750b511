// One table of all regions: in each hour of a session the best band and its days in ten.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "html_parts.hpp"
#include "html_text.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/sun/greyline.hpp"
#include "skerry/sun/position.hpp"
#include "skerry/words/numbers.hpp"
#include "skerry/words/page_text.hpp"

namespace skerry::page {

namespace {

using advice::Advice;

struct Column {
  int site = 0, hour = 0;
  bool first = false;  ///< of its site
};

std::vector<Column> columns_of(const kit::Trip& trip) {
  std::vector<Column> out;
  for (const auto& hour : advice::session_hours(trip))
    out.push_back({hour.site, hour.utc_hour, out.empty() || out.back().site != hour.site});
  return out;
}

UtcTime moment(const kit::Trip& trip, int hour) {
  return start_of(trip.climate.day) + std::chrono::hours(hour);
}

/// The hour and where the minutes are not whole the minutes as well.
std::string clock_head(const sun::Zone& zone, UtcTime when) {
  const auto text = zone.local_clock(when);
  return text.substr(3) == "00" ? text.substr(0, 2)
                                : text.substr(0, 2) + "<span class=\"min\">" + text.substr(3) + "</span>";
}

/// How many columns each site has, in their order.
std::string heads(const kit::Trip& trip, const std::vector<Column>& columns) {
  std::string sites, utc, local;
  for (std::size_t c = 0; c < columns.size(); ++c) {
    const auto& column = columns[c];
    const auto& site = nth(trip.sites, column.site);
    const auto when = moment(trip, column.hour);
    const char* first = column.first && c > 0 ? " first" : "";
    if (column.first) {
      const auto many = std::count_if(columns.begin(), columns.end(),
                                      [&](const Column& other) { return other.site == column.site; });
      sites += fmt::format("<th scope=\"colgroup\" colspan=\"{}\" class=\"{}\">{}</th>", many, first,
                           bdi(site.name));
    }
    utc += fmt::format("<th scope=\"col\" class=\"{}{}\">{:02}</th>",
                       light_word(sun::elevation_deg(site.at, when)), first, column.hour);
    local += fmt::format("<td class=\"{}{}\">{}</td>", light_word(sun::elevation_deg(site.at, when)), first,
                         clock_head(site.zone, when));
  }
  std::string out = "<thead>";
  if (trip.sites.size() > 1)
    out += "<tr class=\"sites\"><td class=\"nameless\"></td>" + sites + "<td class=\"reach\"></td></tr>";
  out += fmt::format(
      "<tr class=\"utc\"><th scope=\"col\" class=\"rowname\">{}</th>{}<th scope=\"col\" "
      "class=\"reach\">{}</th></tr>",
      caption::utc, utc, caption::reach_head);
  return out +
         fmt::format(
             "<tr class=\"local\"><td class=\"rowname\">{}</td>{}<td class=\"reach\"></td></tr></thead>",
             caption::from_here_clock, local);
}

std::string cell(const kit::Trip& trip, const Advice& a, const Column& column, std::size_t target,
                 const std::string& first) {
  const int t = static_cast<int>(target);
  std::optional<int> best;
  const auto slot_of = [&](int b) -> const advice::Slot& {
    return a.openings.at(column.site, t, column.hour, b);
  };
  for (int b = 0; b < static_cast<int>(trip.bands.size()); ++b) {
    if (slot_of(b).open() && (!best || slot_of(b).days_both > slot_of(*best).days_both)) best = b;
  }
  const auto& region = trip.targets[target];
  const auto& far = nth(region.people, advice::largest_group(region)).where;
  const bool night = sun::elevation_deg(far, moment(trip, column.hour)) < sun::twilight_high_deg;
  const auto place =
      fmt::format("data-way=\"{}\" data-hour=\"{}\"",
                  static_cast<std::size_t>(column.site) * trip.targets.size() + target, column.hour);
  const auto clock = fmt::format("{:02} UTC", column.hour);
  if (!best || slot_of(*best).days_both < 0.5) {
    return fmt::format("<td class=\"cell shut{}{}\" {} data-band=\"{}\" aria-label=\"{}\"><b>{}</b></td>",
                       night ? " dark" : "", first, place, best.value_or(0),
                       fmt::format(caption::cell_closed, clock), best ? "-" : "&#183;");
  }
  const auto& slot = slot_of(*best);
  const auto days = words::days_class(slot.days_both);
  const bool round = slot.way == geodesy::Way::long_way;
  const auto& band = nth(trip.bands, *best).id;
  return fmt::format(
      "<td class=\"cell{}{}{}\" {} data-band=\"{}\" aria-label=\"{}\"><span class=\"chip d{}\"><b>{}</b> "
      "<i>{}</i></span></td>",
      night ? " dark" : "", round ? " round" : "", first, place, *best,
      markup(fmt::format(caption::cell_label, days, band, clock, round ? caption::cell_long : "",
                         night ? caption::cell_night : "")),
      days, days, markup(band));
}

/// The best run of hours of a region, as a sentence: "19 to 22 local: Europe on 20m, 9 of 10 days".
std::string finding_of(const kit::Trip& trip, const Advice& a) {
  const advice::Window* best = nullptr;
  double most = 0;
  for (const auto& w : a.windows) {
    const double worth = w.days * w.hours * nth(trip.targets, w.target).weight;
    if (best == nullptr || worth > most) {
      best = &w;
      most = worth;
    }
  }
  if (best == nullptr) return {};
  const auto& zone = nth(trip.sites, best->site).zone;
  const auto first = moment(trip, best->first_hour) - std::chrono::minutes(30);
  return fmt::format(
      caption::finding, zone.local_clock(first), zone.local_clock(first + std::chrono::hours(best->hours)),
      bdi(nth(trip.targets, best->target).region.name), markup(nth(trip.bands, best->band).id),
      words::days_class(best->days), best->way == geodesy::Way::long_way ? caption::cell_long : "");
}

}  // namespace

std::string regions_html(const kit::Trip& trip, const Advice& a) {
  const auto columns = columns_of(trip);
  if (columns.empty() || a.openings.slots.empty()) return {};
  std::string rows;
  for (std::size_t t = 0; t < trip.targets.size(); ++t) {
    const auto name = bdi(trip.targets[t].region.name);
    const auto reach = t < a.targets.size() ? words::percent(a.targets[t].reach) : std::string();
    // The name in a row of its own is for narrow screens, the one beside the cells for wide ones.
    rows += fmt::format(
        "<tr class=\"over\"><th colspan=\"{}\" scope=\"rowgroup\"><span class=\"n\">{}</span> {} <small>{}</small></th></tr>"
        "<tr data-target=\"{}\"><th scope=\"row\" class=\"rowname\"><span class=\"n\">{}</span> {}</th>",
        columns.size(), t + 1, name, reach, t, t + 1, name);
    for (std::size_t c = 0; c < columns.size(); ++c)
      rows += cell(trip, a, columns[c], t, columns[c].first && c > 0 ? " first" : "");
    rows += fmt::format("<td class=\"reach\" data-v=\"reach-{}\">{}</td></tr>\n", t, reach);
  }
  const auto finding = finding_of(trip, a);
  return (finding.empty() ? std::string() : "<p class=\"finding\">" + finding + "</p>\n") +
         fmt::format(
             "<div class=\"scroll\" role=\"group\" aria-label=\"{0}, scrolls sideways\" tabindex=\"0\"><table "
             "class=\"regions n{1}\" id=\"regions\" role=\"grid\" aria-label=\"{0}\">{2}<tbody>{3}</tbody></table></div>",
             caption::regions_label, std::min<std::size_t>(columns.size(), 9), heads(trip, columns), rows);
}

}  // namespace skerry::page
