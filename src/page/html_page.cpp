// The page: the slots of its template filled with text, and with lists, tables and pictures built here and
// elsewhere.

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <cmath>

#include "html_parts.hpp"
#include "html_text.hpp"
#include "skerry/core/embedded.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/words/air.hpp"
#include "skerry/words/cautions.hpp"
#include "skerry/words/numbers.hpp"
#include "skerry/words/pack.hpp"
#include "skerry/words/setup.hpp"
#include "skerry/words/verdict.hpp"
#include "svg.hpp"

namespace skerry::page {

namespace {

using advice::Advice;
using advice::Picture;

struct Slot {
  std::string_view name;
  std::string html;
};

/// The template with each {{name}} replaced by its slot; what is put in is not looked at again.
std::string filled(std::string_view page, const std::vector<Slot>& slots) {
  std::string out;
  for (auto open = page.find("{{"); open != std::string_view::npos; open = page.find("{{")) {
    const auto close = page.find("}}", open);
    const auto name = page.substr(open + 2, close - open - 2);
    const auto slot = std::find_if(slots.begin(), slots.end(), [&](const Slot& s) { return s.name == name; });
    assert(slot != slots.end());
    out += page.substr(0, open);
    if (slot != slots.end()) out += slot->html;
    page.remove_prefix(close + 2);
  }
  return out.append(page);
}

/// Colours of the days: fill and a letter colour that can be read on it.
std::string scale_styles() {
  std::string out;
  for (int days = 0; days <= 10; ++days) {
    out += fmt::format(".d{}{{background:{};color:{}}}\n", days, words::days_colour(days),
                       words::light_letters(days) ? "#fff" : "#000");
  }
  return out;
}

std::string items_html(const kit::Trip& trip, const Advice& a, bool carry) {
  std::string out;
  for (const auto& item : a.items) {
    if (item.carry != carry) continue;
    const auto& thing = nth(a.inventory.things, item.thing);
    const auto name = "<span class=\"name\">" + bdi(thing.name) + "</span>";
    const auto mass = "<span class=\"mass\">" + words::mass(thing.mass_g) + "</span>";
    const auto worth = "<span class=\"worth\">" + bdi(words::item_reason(trip, a, item)) + "</span>";
    out += carry ? fmt::format(
                       "<li><label><input type=\"checkbox\" data-tick=\"{}\"> {}</label>\n"
                       "{} <span class=\"where\">{}</span> {}</li>\n",
                       markup(thing.id), name, mass, markup(words::place_text(thing.air)), worth)
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

std::string ways_html(const kit::Trip& trip, const Picture& picture) {
  std::string out;
  for (std::size_t s = 0; s < trip.sites.size(); ++s) {
    for (std::size_t w = 0; w < picture.ways.size(); ++w) {
      const auto& way = picture.ways[w];
      if (way.site != static_cast<int>(s)) continue;
      out += fmt::format(
          "<option value=\"{}\">{}. {}{}</option>", w, way.target + 1,
          markup(nth(trip.targets, way.target).region.name),
          trip.sites.size() > 1 ? fmt::format(caption::from_after_region, markup(trip.sites[s].name)) : "");
    }
  }
  return out;
}

std::string bands_html(const kit::Trip& trip) {
  std::string out;
  for (std::size_t b = 0; b < trip.bands.size(); ++b)
    out += fmt::format("<label><input type=\"radio\" name=\"band\" value=\"{}\"><span>{}</span></label>", b,
                       markup(trip.bands[b].id));
  return out;
}

std::string maps_html(const kit::Trip& trip, const Picture& picture, std::size_t hour) {
  std::string out;
  for (std::size_t m = 0; m < picture.maps.size(); ++m)
    out += fmt::format("<div class=\"map\" data-map=\"{}\">{}</div>", m, chart_svg(trip, picture, m, hour));
  return out;
}

std::string scale_html() {
  std::string out;
  for (int days = 0; days <= 10; ++days) out += fmt::format("<span class=\"d{0}\">{0}</span>", days);
  return out;
}

std::string strips_html(const kit::Trip& trip, const Advice& a, const Picture& picture) {
  std::string out;
  for (std::size_t s = 0; s < trip.sites.size(); ++s) {
    if (trip.sites.size() > 1) out += "<h3>" + fmt::format(caption::from, bdi(trip.sites[s].name)) + "</h3>";
    out += '\n';
    for (std::size_t w = 0; w < picture.ways.size(); ++w) {
      const auto& way = picture.ways[w];
      if (way.site != static_cast<int>(s)) continue;
      const auto t = static_cast<std::size_t>(way.target);
      out += fmt::format(
          "<article class=\"region\"><h4><span class=\"n\">{}</span> {}</h4>\n<p class=\"fine\">{}</p>\n{}\n"
          "</article>\n",
          way.target + 1, bdi(trip.targets[t].region.name),
          fmt::format(caption::region_line, way.path.bearing_deg, way.path.distance_km,
                      markup(words::percent(t < a.targets.size() ? a.targets[t].reach : 0))),
          strip_html(trip, picture, w));
    }
  }
  return out;
}

/// Plots of one setup stand together under its name.
std::string patterns_html(const kit::Trip& trip, const Advice& a, const Picture& picture) {
  std::string out;
  int setup = -1;
  for (const auto& p : picture.patterns) {
    const auto label = bdi(words::setup_label(trip, a, p.setup));
    if (p.setup != setup) {
      if (setup >= 0) out += "</div>\n";
      out += "<h3 class=\"setup\">" + label + "</h3>\n<div class=\"plots\">\n";
      setup = p.setup;
    }
    out += fmt::format(
        "<figure>{}<figcaption><b>{}</b><span class=\"unseen\"> {}</span></figcaption></figure>\n",
        pattern_svg(trip, p), markup(nth(trip.bands, p.band).id), label);
  }
  return setup < 0 ? out : out + "</div>\n";
}

std::string days_html(const kit::Trip& trip, const Advice& a) {
  std::string out;
  for (const auto& day : a.days) {
    const auto& site = nth(trip.sites, day.site);
    out += fmt::format(
        "<tr><th scope=\"row\">{}</th><td>{}</td><td>{}</td><td>{}</td><td>{}</td><td>{}</td></tr>\n",
        to_iso(day.date), bdi(site.name), words::local_clock(site.zone, day.sun.rise),
        words::local_clock(site.zone, day.sun.set),
        !site.descent_minutes ? caption::not_asked : words::local_clock(site.zone, day.turn_back),
        day.sun.state == sun::DayState::polar_day     ? caption::never_sets
        : day.sun.state == sun::DayState::polar_night ? caption::never_rises
        : day.session_after                           ? caption::session_after
                                                      : "");
  }
  return out;
}

std::string power_html(const kit::Trip& trip, const Advice& a) {
  std::string out;
  for (const auto& p : a.power)
    out += "<li>" + bdi(nth(trip.rigs, p.rig).item.name) + ": " + bdi(words::power_why(trip, p)) + "</li>";
  for (const auto& p : a.power) {
    for (const auto& note : words::power_notes(trip, p))
      out += "<li>" + bdi(nth(trip.rigs, p.rig).item.name) + ": " + bdi(note) + "</li>";
  }
  if (const auto charged = words::charging_text(trip); !charged.empty())
    out += "<li>" + bdi(charged) + "</li>";
  return out.empty() ? fmt::format("<li>{}</li>", caption::no_battery) : out;
}

std::string cautions_html(const kit::Trip& trip, const Advice& a) {
  std::string out;
  for (const auto& c : a.cautions)
    out += fmt::format("<li><b>{}:</b> {}</li>\n", words::topic_text(words::topic_of(c)),
                       bdi(words::caution_text(trip, a, c)));
  return out;
}

/// A list that is opened by whoever wants it; nothing where the list is empty.
std::string folded(const char* title, const char* kind, const std::string& items) {
  if (items.empty()) return {};
  return fmt::format("<details><summary>{}</summary>{}{}</ul></details>", title, kind, items);
}

std::string impossible_html(const kit::Trip& trip, const Advice& a) {
  std::string out;
  for (const auto& i : words::cannot_be(trip, a)) out += "<li>" + bdi(i.what) + ": " + bdi(i.why) + "</li>\n";
  return out;
}

}  // namespace

std::string report_html(const kit::Trip& trip, const Advice& a, const Picture& picture,
                        const std::vector<PlainWords>& words) {
  const std::string style = "\n" + std::string(embedded("assets/picture.css")) +
                            std::string(embedded("assets/report.css")) + scale_styles();
  const std::string script = "\n" + std::string(embedded("assets/report.js"));
  const auto start = page_start(trip, picture);
  const bool any_sea =
      std::any_of(picture.patterns.begin(), picture.patterns.end(), [](const auto& p) { return p.has_sea; });
  const auto firm = words::firm_text(trip, a);
  const auto why = words.empty() ? std::string()
                                 : filled(embedded("assets/why.html"), {{"words", words_html(trip, words)},
                                                                        {"glossary", glossary_html(words)}});
  return filled(
      embedded("assets/report.html"),
      {{"style", style},
       {"script", script},
       {"style_hash", policy_hash(style)},
       {"script_hash", policy_hash(script)},
       {"title", markup(trip.name)},
       {"first_day", to_iso(trip.first_day)},
       {"last_day", to_iso(trip.last_day)},
       {"verdict", markup(words::verdict_text(trip, a, words::Reader::of_page))},
       {"why_firm",
        firm.empty() ? "" : "<p class=\"fine\">" + fmt::format(caption::how_firm, bdi(firm)) + "</p>"},
       {"r12", fmt::format("{:.0f}", trip.climate.r12)},
       {"activity_source", markup(words::activity_source(trip.activity_source))},
       {"sun_day", to_iso(picture.day)},
       {"card", card_html(trip, a, picture)},
       {"mass", words::mass(a.kit.mass_g)},
       {"limit", std::isfinite(a.limit_g) ? words::mass(a.limit_g) : caption::any_mass},
       {"carry", items_html(trip, a, true)},
       {"left", folded(caption::left, "\n<ul class=\"left\">\n", items_html(trip, a, false))},
       {"plan", plan_html(trip, a)},
       {"start_hour", std::to_string(start.hour)},
       {"ways", ways_html(trip, picture)},
       {"bands", bands_html(trip)},
       {"maps", maps_html(trip, picture, start.hour)},
       {"scale", scale_html()},
       {"strips", strips_html(trip, a, picture)},
       {"why", why},
       {"over_sea", any_sea ? caption::over_sea : ""},
       {"patterns", patterns_html(trip, a, picture)},
       {"frontier", frontier_svg(a, picture)},
       {"frontier_note", picture.frontier.complete ? caption::no_better_kit : caption::search_stopped},
       {"days", days_html(trip, a)},
       {"power", power_html(trip, a)},
       {"cautions", cautions_html(trip, a)},
       {"impossible", folded(caption::cannot_be, "<ul>", impossible_html(trip, a))},
       {"data", script_json(page_json(trip, a, picture))}});
}

}  // namespace skerry::page
