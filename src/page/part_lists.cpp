// What `pack` prints below its verdict, as lists and tables of the page.

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <sstream>

#include "html_parts.hpp"
#include "html_text.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/words/air.hpp"
#include "skerry/words/numbers.hpp"
#include "skerry/words/pack.hpp"
#include "skerry/words/page_text.hpp"
#include "skerry/words/setup.hpp"
#include "skerry/words/verdict.hpp"

namespace skerry::page {

namespace {

using advice::Advice;

std::string row(const std::string& head, const std::vector<std::string>& cells) {
  std::string out = "<tr><th scope=\"row\">" + head + "</th>";
  for (const auto& cell : cells) out += "<td>" + cell + "</td>";
  return out + "</tr>\n";
}

std::string table(const std::vector<const char*>& heads, const std::string& rows) {
  std::string out = "<table class=\"plain\"><thead><tr>";
  for (const auto* head : heads) out += fmt::format("<th scope=\"col\">{}</th>", head);
  return out + "</tr></thead><tbody>\n" + rows + "</tbody></table>";
}

std::string shares(const std::vector<advice::Share>& all, const char* head, const auto& name) {
  std::string rows;
  for (const auto& share : all) {
    if (share.alone >= 0.0005)
      rows += row(name(share.index), {words::percent(share.alone), words::percent(share.without)});
  }
  return rows.empty() ? rows : table({head, caption::worth_head, caption::worth_without}, rows);
}

}  // namespace

std::string list_html(const std::string& lines) {
  std::string out;
  std::istringstream in(lines);
  for (std::string line; std::getline(in, line);) {
    const auto begin = line.find_first_not_of(' ');
    if (begin == std::string::npos) continue;
    const bool item = line.compare(begin, 2, "- ") == 0;
    const auto text = bdi(line.substr(begin + (item ? 2 : 0)));
    // Further in than the line that it belongs to.
    if (!item && begin >= 4 && !out.empty()) {
      out.insert(out.size() - std::string_view("</li>\n").size(),
                 "<br><span class=\"fine\">" + text + "</span>");
    } else {
      out += "<li>" + text + "</li>\n";
    }
  }
  return out;
}

std::string section_html(words::Section section, const kit::Trip& trip, const Advice& a) {
  const auto items = list_html(words::section_lines(section, trip, a));
  return items.empty() ? items : "<ul>\n" + items + "</ul>";
}

std::string items_html(const kit::Trip& trip, const Advice& a, bool carry) {
  std::string out;
  for (const auto& item : a.items) {
    if (item.carry != carry) continue;
    const auto& thing = nth(a.inventory.things, item.thing);
    const auto id = markup(thing.id);
    const auto name = "<span class=\"name\">" + bdi(thing.name) + "</span>";
    const auto mass = "<span class=\"mass\">" + words::mass(thing.mass_g) + "</span>";
    const auto worth = fmt::format("<span class=\"worth\" data-why=\"{}\">{}</span>", id,
                                   bdi(words::item_reason(trip, a, item)));
    out += carry ? fmt::format(
                       "<li><label><input type=\"checkbox\" data-tick=\"{}\"> {}</label>\n"
                       "{} <span class=\"where\">{}</span> {}</li>\n",
                       id, name, mass, markup(words::place_text(thing.air)), worth)
                 : fmt::format("<li>{} {} {}</li>\n", name, mass, worth);
  }
  return out;
}

std::string plan_html(const kit::Trip& trip, const Advice& a) {
  std::string out;
  for (const auto& use : a.uses) {
    if (!use.in_plan) continue;
    const auto& setup = nth(a.setups.possible, use.setup);
    out += "<li>" + bdi(words::setup_label(trip, setup));
    if (use.turns) out += fmt::format(caption::lay_along, use.wire_azimuth_deg);
    out += fmt::format(caption::alone, markup(words::percent(use.alone)),
                       markup(words::without_text(use.without)));
    const auto notes = fmt::format("{}", fmt::join(words::setup_notes(trip, setup, true), "; "));
    if (!notes.empty()) out += " <span class=\"fine\">" + bdi(notes) + ".</span>";
    out += "</li>\n";
  }
  return out;
}

std::string worth_html(const kit::Trip& trip, const Advice& a) {
  const auto bands =
      shares(a.bands, caption::worth_bands, [&](int i) { return markup(nth(trip.bands, i).id); });
  const auto antennas = shares(a.antennas, caption::worth_antennas,
                               [&](int i) { return bdi(nth(trip.antennas, i).item.name); });
  return bands.empty() && antennas.empty() ? std::string()
                                           : "<div class=\"beside\">" + bands + antennas + "</div>";
}

std::string cases_html(const kit::Trip& trip, const Advice& a) {
  const auto& r = a.robustness;
  if (r.scenarios.empty()) return {};
  const bool rival = a.firmness.runner_up.has_value();
  std::string rows;
  for (const auto& s : r.scenarios) {
    std::vector<std::string> cells{words::percent(s.kit), words::percent(s.best)};
    if (rival) cells.push_back(words::percent(s.runner_up));
    rows += row(bdi(words::scenario_name(trip, s)), cells);
  }
  std::vector<const char*> heads{caption::case_head, caption::case_kit, caption::case_best};
  if (rival) heads.push_back(caption::case_rival);
  return "<div class=\"scroll\" role=\"group\" aria-label=\"If things are otherwise\" tabindex=\"0\">" +
         table(heads, rows) + "</div>";
}

std::string days_html(const kit::Trip& trip, const Advice& a) {
  std::string out;
  for (const auto& day : a.days) {
    const auto& site = nth(trip.sites, day.site);
    out += row(to_iso(day.date) + " " + site.zone.label(day.sun.noon),
               {bdi(site.name), words::local_clock(site.zone, day.sun.rise),
                words::local_clock(site.zone, day.sun.set),
                !site.descent_minutes ? caption::not_asked : words::local_clock(site.zone, day.turn_back),
                day.sun.state == sun::DayState::polar_day     ? caption::never_sets
                : day.sun.state == sun::DayState::polar_night ? caption::never_rises
                : day.session_after                           ? caption::session_after
                                                              : ""});
  }
  return out;
}

std::string power_html(const kit::Trip& trip, const Advice& a) {
  const auto items = list_html(words::section_lines(words::Section::power, trip, a));
  return items.empty() ? fmt::format("<li>{}</li>", caption::no_battery) : items;
}

std::string cautions_html(const kit::Trip& trip, const Advice& a) {
  std::string out;
  for (const auto& c : a.cautions)
    out += fmt::format("<li><b>{}:</b> {}</li>\n", words::topic_text(words::topic_of(c)),
                       bdi(words::caution_text(trip, a, c)));
  return out;
}

std::string cannot_html(const kit::Trip& trip, const Advice& a) {
  std::string items;
  for (const auto& i : words::cannot_be(trip, a))
    items += "<li>" + bdi(i.what) + ": " + bdi(i.why) + "</li>\n";
  if (items.empty()) return {};
  return fmt::format("<details><summary>{}</summary><ul>{}</ul></details>", caption::cannot_be, items);
}

}  // namespace skerry::page
