// The page: a template filled with plain text, and with pictures and tables built elsewhere.

#include <fmt/format.h>

#include <cassert>
#include <cmath>
#include <kainjow/mustache.hpp>

#include "html_parts.hpp"
#include "html_text.hpp"
#include "skerry/core/embedded.hpp"
#include "skerry/words/days.hpp"
#include "skerry/words/pack.hpp"
#include "svg.hpp"

namespace skerry::page {

namespace {

using kainjow::mustache::data;
using kainjow::mustache::mustache;

/// Text of any origin; the template escapes it.
void put(data& where, const char* key, const std::string& text) {
  where.set(key, plain(text));
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

std::string place_text(const kit::Verdict& v) {
  std::string out = kit::to_text(v.place);
  if (v.approval) out += ", airline must agree";
  if (v.arguable) out += ", ask";
  return out;
}

/// Notes that name a band each and say the same are told once.
std::vector<std::string> told_once(const std::vector<std::string>& notes) {
  std::vector<std::string> out;
  std::string tuned;
  for (const auto& note : notes) {
    const auto at = note.find(": needs a tuner");
    if (at == std::string::npos) {
      out.push_back(note);
    } else {
      tuned += (tuned.empty() ? "" : ", ") + note.substr(0, at);
    }
  }
  if (!tuned.empty()) out.push_back("needs the tuner on " + tuned);
  return out;
}

/// What is left of the reach: in the words of the packing text.
std::string without_text(double left) {
  return left < 0.0005 ? std::string(words::nothing_left) : "without it " + percent_text(left) + " remain";
}

void put_items(data& page, const advice::Advice& a) {
  data carry{data::type::list};
  data left{data::type::list};
  for (const auto& item : a.items) {
    const auto& thing = a.inventory.things[static_cast<std::size_t>(item.thing)];
    data one;
    put(one, "id", thing.id);
    put(one, "name", thing.name);
    put(one, "mass", mass_text(thing.mass_g));
    put(one, "place", place_text(thing.air));
    put(one, "reason", thing.excluded ? thing.why_excluded : item.reason);
    (item.carry ? carry : left).push_back(one);
  }
  page.set("any_left", !left.is_empty_list());
  page.set("carry", carry);
  page.set("left", left);
  data plan{data::type::list};
  for (const auto& use : a.uses) {
    if (!use.in_plan) continue;
    const auto& setup = a.setups.possible[static_cast<std::size_t>(use.setup)];
    data one;
    put(one, "label", setup.label);
    one.set("wire", use.turns ? data(fmt::format("{:.0f}", use.wire_azimuth_deg)) : data(false));
    put(one, "alone", percent_text(use.alone));
    put(one, "without", without_text(use.without));
    std::string notes;
    for (const auto& note : told_once(setup.notes)) notes += (notes.empty() ? "" : "; ") + note;
    one.set("notes", notes.empty() ? data(false) : data(plain(notes)));
    plan.push_back(one);
  }
  page.set("plan", plan);
}

void put_hours(data& page, const kit::Trip& trip, const advice::Advice& a, const advice::Picture& picture) {
  const auto start = page_start(trip, picture);
  put(page, "start_hour", std::to_string(start.hour));
  const bool many = trip.sites.size() > 1;
  data ways{data::type::list};
  data sites{data::type::list};
  for (std::size_t s = 0; s < trip.sites.size(); ++s) {
    data strips{data::type::list};
    for (std::size_t w = 0; w < picture.ways.size(); ++w) {
      const auto& way = picture.ways[w];
      if (way.site != static_cast<int>(s)) continue;
      const auto t = static_cast<std::size_t>(way.target);
      data one;
      put(one, "index", std::to_string(w));
      put(one, "number", std::to_string(way.target + 1));
      put(one, "region", trip.targets[t].region.name);
      one.set("from", many ? data(plain(trip.sites[s].name)) : data(false));
      put(one, "bearing", fmt::format("{:.0f}", way.path.bearing_deg));
      put(one, "km", fmt::format("{:.0f}", way.path.distance_km));
      put(one, "reach", percent_text(t < a.targets.size() ? a.targets[t].reach : 0));
      one.set("strip", strip_html(trip, picture, w));
      strips.push_back(one);
      ways.push_back(one);
    }
    data site;
    put(site, "name", trip.sites[s].name);
    site.set("many", many);
    site.set("strips", strips);
    sites.push_back(site);
  }
  page.set("ways", ways);
  page.set("sites", sites);
  data bands{data::type::list};
  for (std::size_t b = 0; b < trip.bands.size(); ++b) {
    data one;
    put(one, "index", std::to_string(b));
    put(one, "id", trip.bands[b].id);
    bands.push_back(one);
  }
  page.set("bands", bands);
  data scale{data::type::list};
  for (int days = 0; days <= 10; ++days) {
    data one;
    put(one, "days", std::to_string(days));
    scale.push_back(one);
  }
  page.set("scale", scale);
  data maps{data::type::list};
  for (std::size_t m = 0; m < picture.maps.size(); ++m) {
    data one;
    put(one, "index", std::to_string(m));
    one.set("chart", chart_svg(trip, picture, m, start.hour));
    maps.push_back(one);
  }
  page.set("maps", maps);
}

void put_pictures(data& page, const kit::Trip& trip, const advice::Advice& a,
                  const advice::Picture& picture) {
  // Plots of one setup stand together under its name.
  data setups{data::type::list};
  bool any_sea = false;
  for (std::size_t i = 0; i < picture.patterns.size();) {
    const int setup = picture.patterns[i].setup;
    data one;
    put(one, "label", picture.patterns[i].label);
    const std::string label = picture.patterns[i].label;
    data plots{data::type::list};
    for (; i < picture.patterns.size() && picture.patterns[i].setup == setup; ++i) {
      const auto& p = picture.patterns[i];
      data plot;
      plot.set("plot", pattern_svg(trip, p));
      put(plot, "band", trip.bands[static_cast<std::size_t>(p.band)].id);
      put(plot, "label", label);
      any_sea = any_sea || p.has_sea;
      plots.push_back(plot);
    }
    one.set("plots", plots);
    setups.push_back(one);
  }
  page.set("patterns", setups);
  page.set("any_sea", any_sea);
  page.set("frontier", frontier_svg(a, picture));
  put(page, "frontier_note",
      picture.frontier.complete ? std::string("No better kit of any mass exists.")
                                : std::string("The search was stopped: better kits may exist."));
}

void put_days(data& page, const kit::Trip& trip, const advice::Advice& a) {
  data days{data::type::list};
  for (const auto& day : a.days) {
    const auto& site = trip.sites[static_cast<std::size_t>(day.site)];
    const auto clock = [&](const std::optional<UtcTime>& when) {
      return when ? site.zone.local_clock(*when) : std::string("none");
    };
    data one;
    put(one, "date", to_iso(day.date));
    put(one, "site", site.name);
    put(one, "rise", clock(day.sun.rise));
    put(one, "set", clock(day.sun.set));
    put(one, "leave", site.descent_minutes < 0 ? "not asked" : clock(day.turn_back));
    std::string note = day.session_after ? "a session runs past it" : "";
    if (day.sun.state == sun::DayState::polar_day) note = "the Sun does not set";
    if (day.sun.state == sun::DayState::polar_night) note = "the Sun does not rise";
    put(one, "note", note);
    days.push_back(one);
  }
  page.set("days", days);
  data power{data::type::list};
  for (const auto& p : a.power) {
    data one;
    put(one, "rig", trip.rigs[static_cast<std::size_t>(p.rig)].item.name);
    put(one, "why", p.why);
    power.push_back(one);
  }
  page.set("power", power);
  data cautions{data::type::list};
  for (const auto& c : a.cautions) {
    data one;
    put(one, "topic", c.topic);
    put(one, "text", c.text);
    cautions.push_back(one);
  }
  page.set("cautions", cautions);
  data impossible{data::type::list};
  for (const auto& i : a.impossible) {
    data one;
    put(one, "what", i.what);
    put(one, "why", i.why);
    impossible.push_back(one);
  }
  page.set("any_impossible", !a.impossible.empty());
  page.set("impossible", impossible);
}

}  // namespace

std::string report_html(const kit::Trip& trip, const advice::Advice& a, const advice::Picture& picture,
                        const std::vector<PlainWords>& words) {
  mustache page_template{std::string(embedded("assets/report.mustache"))};
  assert(page_template.is_valid());
  const std::string style = "\n" + std::string(embedded("assets/picture.css")) +
                            std::string(embedded("assets/report.css")) + scale_styles();
  const std::string script = "\n" + std::string(embedded("assets/report.js"));
  data page;
  page.set("style", style);
  page.set("script", script);
  page.set("style_hash", policy_hash(style));
  page.set("script_hash", policy_hash(script));
  put(page, "title", trip.name);
  put(page, "first_day", to_iso(trip.first_day));
  put(page, "last_day", to_iso(trip.last_day));
  put(page, "verdict", a.verdict);
  page.set("why_firm", a.firmness.why.empty() ? data(false) : data(plain(a.firmness.why)));
  put(page, "r12", fmt::format("{:.0f}", trip.climate.r12));
  put(page, "activity_source", a.activity_source);
  put(page, "sun_day", to_iso(picture.day));
  put(page, "mass", mass_text(a.kit.mass_g));
  put(page, "limit", std::isfinite(a.limit_g) ? mass_text(a.limit_g) : std::string("any mass"));
  page.set("card", card_html(trip, a, picture));
  put_items(page, a);
  put_hours(page, trip, a, picture);
  put_pictures(page, trip, a, picture);
  put_days(page, trip, a);
  page.set("any_words", !words.empty());
  page.set("words", words_html(trip, words));
  page.set("glossary", glossary_html(words));
  page.set("data", script_json(page_json(trip, a, picture)));
  return page_template.render(page);
}

}  // namespace skerry::page
