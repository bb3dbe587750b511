// The field card of the page: one sheet for the pocket.

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <span>
#include <utility>

#include "hour_rows.hpp"
#include "html_parts.hpp"
#include "html_text.hpp"
#include "skerry/advice/field_card.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/words/card.hpp"
#include "skerry/words/numbers.hpp"
#include "skerry/words/setup.hpp"
#include "skerry/words/verdict.hpp"

namespace skerry::page {

namespace {

// Measured: an A4 sheet held 41 to 46 rows of 8 points above the examples' cautions in 7.5 points. A region takes
// a row for its name and one for each band.
constexpr std::size_t card_sites = 2, sheet_rows = 40, rows_of_a_site = 4;
constexpr std::size_t most_regions = 9, most_bands = 7, least_bands = 2;

/// Letters of what is put up: a setup and a mode each.
class Letters {
 public:
  std::string of(const advice::BandService& s) {
    const auto key = std::make_pair(s.setup.value(), s.mode.value());
    const auto at = std::find(known_.begin(), known_.end(), key);
    const auto index = at - known_.begin();
    if (at == known_.end()) known_.push_back(key);
    return std::string(1, static_cast<char>('A' + index % 26));
  }
  [[nodiscard]] const std::vector<std::pair<int, int>>& known() const { return known_; }

 private:
  std::vector<std::pair<int, int>> known_;
};

/// Which regions stand on the card, how many bands each, and what is said of the rest.
struct Plan {
  std::vector<advice::RegionHours> shown;
  std::size_t sites = 1, bands = most_bands;
  std::vector<std::string> left;
};

Plan plan_of(const kit::Trip& trip, const advice::Advice& a) {
  Plan out;
  out.sites = std::min(card_sites, trip.sites.size());
  const auto all = advice::regions_by_opening(trip, a);
  const auto open =
      static_cast<std::size_t>(std::count_if(all.begin(), all.end(), [](const auto& r) { return r.open(); }));
  // A change of clocks takes a row of hours more, and its words below.
  std::size_t clocks = 1;
  for (const auto& site : trip.sites)
    clocks = std::max(clocks, sun::clock_spans(site.zone, trip.first_day, trip.last_day).size());
  const std::size_t rows = sheet_rows / out.sites - rows_of_a_site - 2 * (clocks - 1);
  // As many regions as leave two bands each; what is left over goes to bands.
  const std::size_t fit = std::max<std::size_t>(1, rows / (least_bands + 1));
  const std::size_t regions =
      std::min({std::max<std::size_t>(1, open), fit, most_regions, std::max<std::size_t>(1, all.size())});
  out.bands = std::clamp(rows / regions - 1, least_bands, most_bands);
  for (std::size_t i = 0; i < all.size(); ++i) {
    if (i < regions) {
      out.shown.push_back(all[i]);
    } else {
      out.left.push_back(words::left_off_text(all[i], nth(trip.targets, all[i].target).region.name));
    }
  }
  return out;
}

/// A band's row: '~' before days that are fewer than wanted, 'L' before those that go the long way.
std::string card_row(const std::string& name, std::size_t index, const advice::PictureWay& way,
                     const advice::PictureSite& site, std::size_t bands, double want) {
  std::string out = fmt::format("<tr><th scope=\"row\">{}</th>", name);
  for (std::size_t h = 0; h < 24; ++h) {
    const auto& cell = way.cells[h * bands + index];
    const auto sign = words::days_sign(cell.open(), cell.days_both);
    const bool number = sign[0] >= '0' && sign[0] <= '9';
    out += fmt::format("<td class=\"{}\">{}{}{}</td>", cell_classes(cell, want, site.minutes[h] > 0),
                       number && cell.days_both < want ? "~" : "",
                       number && cell.way == geodesy::Way::long_way ? "L" : "", sign);
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
  // A row without a number tells nothing.
  std::erase_if(out, [&](std::size_t b) {
    for (std::size_t h = 0; h < 24; ++h) {
      if (way.cells[h * bands + b].days_both >= 0.5) return false;
    }
    return true;
  });
  std::sort(out.begin(), out.end());
  return out;
}

std::string card_grid(const kit::Trip& trip, const advice::Advice& a, const advice::Picture& picture,
                      std::size_t s, const Plan& plan, Letters& letters) {
  const auto& site = picture.sites[s];
  const std::size_t bands = trip.bands.size();
  std::string out = fmt::format("<table class=\"cardgrid\"><caption>{}, {}</caption><thead>",
                                fmt::format(caption::from, bdi(trip.sites[s].name)),
                                markup(geodesy::to_text(trip.sites[s].at, 2)));
  out += hour_row(caption::utc, "utc", site, [](std::size_t h) { return fmt::format("{:02}", h); });
  out += here_rows(trip, nth(trip.sites, site.site), site);
  out += hour_row(caption::sun, "local", site, [&](std::size_t h) { return light_sign(site.sun_deg[h]); });
  out += "</thead>";
  for (const auto& region : plan.shown) {
    const auto& way = picture.ways[s * trip.targets.size() + static_cast<std::size_t>(region.target)];
    out +=
        fmt::format("<tbody><tr class=\"regionrow\"><th colspan=\"25\" scope=\"rowgroup\">{}</th></tr>",
                    fmt::format(caption::card_region, bdi(nth(trip.targets, region.target).region.name),
                                std::fmod(std::round(way.path.bearing_deg), 360),
                                std::fmod(std::round(way.path.bearing_deg) + 180, 360), way.path.distance_km,
                                markup(words::clock_words(way.far_zone, start_of(picture.day))),
                                region.open_h, region.session_h));
    const auto chosen = best_bands(way, site, bands, plan.bands);
    if (chosen.empty())
      out += fmt::format("<tr><th scope=\"row\">-</th><td colspan=\"24\">{}</td></tr>", caption::card_closed);
    for (const std::size_t b : chosen) {
      const auto service = advice::band_service(trip, a, static_cast<int>(s), std::span(&region.target, 1),
                                                static_cast<int>(b));
      const auto name = markup(trip.bands[b].id) + (service ? " " + letters.of(*service) : std::string());
      out += card_row(name, b, way, site, bands, trip.want_days_in_ten);
    }
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

/// What to put up, by the letters of the grids, with the mode; then the rest of the plan.
std::string card_setups(const kit::Trip& trip, const advice::Advice& a, const Letters& letters) {
  const auto wire = [&](int setup) {
    for (const auto& use : a.uses) {
      if (use.setup == setup && use.turns) return fmt::format(caption::card_wire, use.wire_azimuth_deg);
    }
    return std::string();
  };
  std::string out;
  for (std::size_t i = 0; i < letters.known().size(); ++i) {
    const auto& [setup, mode] = letters.known()[i];
    out += "<li>" +
           fmt::format(caption::card_with, static_cast<char>('A' + i % 26),
                       bdi(words::setup_label(trip, a, setup)) + wire(setup),
                       markup(nth(trip.modes, mode).name)) +
           "</li>";
  }
  for (const auto& use : a.uses) {
    const bool lettered = std::any_of(letters.known().begin(), letters.known().end(),
                                      [&](const auto& k) { return k.first == use.setup; });
    if (use.in_plan && !lettered)
      out += "<li>" + bdi(words::setup_label(trip, a, use.setup)) + wire(use.setup) + "</li>";
  }
  return out;
}

std::string card_kit(const kit::Trip& trip, const advice::Advice& a, const Letters& letters) {
  std::string out =
      "<h3>" + fmt::format(caption::card_kit, words::mass(a.kit.mass_g)) + "</h3><p class=\"kitline\">";
  bool first = true;
  for (const auto& item : a.items) {
    if (!item.carry) continue;
    const auto& thing = nth(a.inventory.things, item.thing);
    out += fmt::format("{}&#9744;&#160;{}", first ? "" : " &#160; ", bdi(thing.name));
    first = false;
  }
  out +=
      fmt::format("</p><h3>{}</h3><ul class=\"two\">{}</ul>", caption::put_up, card_setups(trip, a, letters));
  out += fmt::format("<h3>{}</h3><ul class=\"two\">", caption::card_battery);
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

std::string card_html(const kit::Trip& trip, const advice::Advice& a, const advice::Picture& picture) {
  std::string out;
  const auto plan = plan_of(trip, a);
  Letters letters;
  if (!picture.ways.empty()) {
    for (std::size_t s = 0; s < plan.sites; ++s) out += card_grid(trip, a, picture, s, plan, letters);
  }
  if (!plan.left.empty())
    out += "<p class=\"fine\">" +
           fmt::format(caption::card_left, bdi(fmt::format("{}", fmt::join(plan.left, ", ")))) + "</p>";
  out += "<p class=\"fine\">" +
         fmt::format(caption::card_key, trip.want_days_in_ten, plan.bands,
                     trip.sites.size() > plan.sites ? caption::card_sites : "") +
         "</p>";
  return out + "<div class=\"cardfoot\">" + card_sun(trip, a) + card_kit(trip, a, letters) +
         card_cautions(trip, a) + "</div>";
}

}  // namespace skerry::page
