// The page: the slots of its template filled with its pieces, its style and its script.

#include <fmt/format.h>

#include <algorithm>
#include <cassert>
#include <cmath>
#include <nlohmann/json.hpp>

#include "html_parts.hpp"
#include "html_text.hpp"
#include "section.hpp"
#include "skerry/core/embedded.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/words/numbers.hpp"
#include "skerry/words/setup.hpp"
#include "svg.hpp"

namespace skerry::page {

namespace {

using advice::Advice;
using advice::Picture;

/// Beside the page in the folder of hosted_files().
constexpr const char* hosted_links =
    "<link rel=\"manifest\" href=\"skerry.webmanifest\">\n<link rel=\"icon\" href=\"icon.svg\" type=\"image/svg+xml\">\n"
    "<link rel=\"apple-touch-icon\" href=\"icon-192.png\">\n";

std::string scale_html() {
  std::string out;
  for (int days = 0; days <= 10; ++days) out += fmt::format("<span class=\"d{0}\">{0}</span>", days);
  return out;
}

/// Text of several lines for a box in which it is edited.
std::string lines_markup(std::string_view text) {
  std::string out;
  while (!text.empty()) {
    const auto line = text.substr(0, text.find('\n'));
    out += markup(line);
    text.remove_prefix(line.size());
    if (text.empty()) break;
    out += '\n';
    text.remove_prefix(1);
  }
  return out;
}

/// Keys of the trip file for the editor, as JSON: table, key, what it takes, what it means.
std::string fields_json(const std::vector<FieldHelp>& fields) {
  nlohmann::ordered_json out = nlohmann::ordered_json::array();
  for (const auto& f : fields) out.push_back({f.table, f.key, f.accepted, f.help});
  return out.dump(-1, ' ', false, nlohmann::json::error_handler_t::replace);
}

}  // namespace

std::string filled(std::string_view page, const std::vector<Part>& parts) {
  std::string out;
  for (auto open = page.find("{{"); open != std::string_view::npos; open = page.find("{{")) {
    const auto close = page.find("}}", open);
    const auto name = page.substr(open + 2, close - open - 2);
    const auto part = std::find_if(parts.begin(), parts.end(), [&](const Part& p) { return name == p.name; });
    assert(part != parts.end());
    out += page.substr(0, open);
    if (part != parts.end()) out += part->html;
    page.remove_prefix(close + 2);
  }
  return out.append(page);
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

std::string strips_html(const kit::Trip& trip, const Picture& picture) {
  std::string out;
  for (std::size_t s = 0; s < trip.sites.size(); ++s) {
    if (trip.sites.size() > 1) out += "<h3>" + fmt::format(caption::from, bdi(trip.sites[s].name)) + "</h3>";
    out += '\n';
    for (std::size_t w = 0; w < picture.ways.size(); ++w) {
      const auto& way = picture.ways[w];
      if (way.site != static_cast<int>(s)) continue;
      out += fmt::format(
          "<details class=\"region\"><summary><span class=\"n\">{}</span> {} <small>{}</small></summary>\n{}\n"
          "</details>\n",
          way.target + 1, bdi(nth(trip.targets, way.target).region.name),
          fmt::format(caption::region_line_short, way.path.bearing_deg, way.path.distance_km),
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

std::string report_html(const kit::Trip& trip, const Advice& a, const Picture& picture,
                        const std::vector<PlainWords>& words, const Engine& engine) {
  const auto start = page_start(trip, picture);
  const bool any_sea =
      std::any_of(picture.patterns.begin(), picture.patterns.end(), [](const auto& p) { return p.has_sea; });
  const bool live = !engine.worker.empty();
  auto parts = quick_parts(trip, a);
  for (auto& part : slow_parts(trip, a, picture, words)) parts.push_back(std::move(part));
  for (auto& part : std::vector<Part>{
           {"style", std::string(embedded("blocks/style"))},
           {"script", std::string(embedded("blocks/script"))},
           {"style_hash", std::string(embedded("blocks/style_hash"))},
           {"script_hash", std::string(embedded("blocks/script_hash"))},
           // A worker of the page's own text, and the engine that it is given: no address is asked.
           {"engine_policy",
            live ? engine.hosted
                       ? " 'wasm-unsafe-eval'; worker-src blob: 'self'; manifest-src 'self'; img-src 'self'"
                       : " 'wasm-unsafe-eval'; worker-src blob:"
                 : ""},
           {"hosted", live && engine.hosted ? hosted_links : ""},
           {"title", markup(trip.name)},
           {"first_day", to_iso(trip.first_day)},
           {"last_day", to_iso(trip.last_day)},
           {"sun_day", to_iso(picture.day)},
           {"start_hour", std::to_string(start.hour)},
           {"scale", scale_html()},
           {"over_sea", any_sea ? caption::over_sea : ""},
           {"frontier_note", picture.frontier.complete ? caption::no_better_kit : caption::search_stopped},
           {"data", script_json(page_json(trip, a, picture))},
           {"fields", script_json(fields_json(engine.fields))},
           {"trip", lines_markup(engine.trip)},
           {"worker", live ? script_json(nlohmann::json(engine.worker).dump()) : "\"\""},
           {"engine", engine.packed}}) {
    parts.push_back(std::move(part));
  }
  return filled(embedded("assets/report.html"), parts);
}

}  // namespace skerry::page
