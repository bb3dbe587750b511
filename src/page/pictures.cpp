// Pictures with a title, a key and a style of their own, to be used outside the page.

#include "skerry/page/pictures.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <sstream>

#include "html_parts.hpp"
#include "html_text.hpp"
#include "section.hpp"
#include "skerry/core/embedded.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/words/numbers.hpp"
#include "skerry/words/page_text.hpp"
#include "skerry/words/place.hpp"
#include "skerry/words/setup.hpp"
#include "skerry/words/style.hpp"
#include "svg.hpp"

namespace skerry::page {

namespace {

// Sizes in units of the picture.
constexpr double edge = 24, title_line = 30, key_line = 20;

/// "--name:value" of the first :root block, the light palette, or of the second, the dark one.
std::map<std::string, std::string> palette(bool dark) {
  const std::string_view css = embedded("blocks/style");
  const std::string_view begin = ":root{";
  auto open = css.find(begin) + begin.size();
  if (dark) open = css.find(begin, open) + begin.size();
  std::istringstream in{std::string(css.substr(open, css.find('}', open) - open))};
  std::map<std::string, std::string> out;
  for (std::string part; std::getline(in, part, ';');) {
    const auto colon = part.find(':');
    if (part.rfind("--", 0) == 0) out[part.substr(0, colon)] = part.substr(colon + 1);
  }
  // On white paper of its own, not on the page's.
  if (!dark) out["--paper"] = out["--mark"] = "#fff";
  return out;
}

/// Lower case words joined by '-', from an id of the trip.
std::string file_word(const std::string& id) {
  std::string out;
  for (const char c : id) {
    const char low = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    if ((low >= 'a' && low <= 'z') || (low >= '0' && low <= '9')) {
      out += low;
    } else if (!out.empty() && out.back() != '-') {
      out += '-';
    }
  }
  while (!out.empty() && out.back() == '-') out.pop_back();
  return out.empty() ? "x" : out.substr(0, 40);
}

std::array<double, 2> size_of(const std::string& svg) {
  std::istringstream in(svg.substr(svg.find("viewBox=\"") + 9));
  double x = 0, y = 0, width = 1, height = 1;
  in >> x >> y >> width >> height;
  return {width, height};
}

struct Words {
  std::string title, below;      ///< plain text
  std::vector<std::string> key;  ///< plain text, wrapped
};

/// One of the page's pictures inside a sheet of its own.
std::string sheet(const std::string& inner, double width, const Words& words, const std::string& extra = "") {
  const auto size = size_of(inner);
  const double height = width * size[1] / size[0];
  std::vector<std::string> lines;
  const auto columns = static_cast<std::size_t>(width / 8.2);  // of letters 14 units high
  for (const auto& paragraph : words.key) {
    std::istringstream in(words::wrapped(plain(paragraph), columns, "", ""));
    for (std::string line; std::getline(in, line);) lines.push_back(line);
  }
  std::vector<std::string> heads;
  std::istringstream in(words::wrapped(plain(words.title), static_cast<std::size_t>(width / 13.5), "", ""));
  for (std::string line; std::getline(in, line);) heads.push_back(line);
  const double head = edge + title_line * static_cast<double>(heads.size()) + key_line + 8;
  const double key_top = head + height + 26 + (extra.empty() ? 0 : 34);
  const double tall = key_top + key_line * static_cast<double>(lines.size()) + edge - 8;
  std::string out = fmt::format(
      "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 "
      "{0:g} {1:.0f}\" width=\"{0:g}\" height=\"{1:.0f}\" font-family=\"sans-serif\" font-size=\"14\">\n"
      "<title>{2}</title>\n<style>{3}</style>\n<rect width=\"100%\" height=\"100%\" fill=\"#fff\"/>\n",
      width + 2 * edge, tall, markup(words.title), picture_style());
  for (std::size_t i = 0; i < heads.size(); ++i) {
    out += fmt::format("<text x=\"{:g}\" y=\"{:g}\" font-size=\"21\" font-weight=\"bold\">{}</text>\n", edge,
                       edge + 20 + title_line * static_cast<double>(i), markup(heads[i]));
  }
  out += fmt::format("<text x=\"{:g}\" y=\"{:g}\">{}</text>\n", edge, head - 12, markup(words.below));
  out += fmt::format("<svg x=\"{:g}\" y=\"{:g}\" width=\"{:g}\" height=\"{:.1f}\" {}\n", edge, head, width,
                     height, inner.substr(5));
  if (!extra.empty())
    out += fmt::format("<g transform=\"translate({:g} {:.1f})\">{}</g>\n", edge, head + height + 8, extra);
  for (std::size_t i = 0; i < lines.size(); ++i) {
    out += fmt::format("<text x=\"{:g}\" y=\"{:.1f}\">{}</text>\n", edge,
                       key_top + key_line * static_cast<double>(i), markup(lines[i]));
  }
  return out + "</svg>\n";
}

std::string sky_line(const kit::Trip& trip) {
  return fmt::format(caption::median_sky, to_iso(trip.first_day), to_iso(trip.last_day), trip.climate.r12);
}

std::string chart_sheet(const kit::Trip& trip, const advice::Picture& picture, std::size_t map,
                        std::size_t hour) {
  const int site = picture.maps[map].site;
  Words words{fmt::format(caption::chart_title, nth(trip.sites, site).name),
              fmt::format(caption::chart_below, to_iso(picture.day), hour),
              {caption::chart_key}};
  std::string list;
  for (const auto& way : picture.ways) {
    if (way.site != site) continue;
    list += (list.empty() ? "" : "; ") + fmt::format(caption::chart_region, way.target + 1,
                                                     nth(trip.targets, way.target).region.name,
                                                     way.path.bearing_deg, way.path.distance_km);
  }
  words.key.push_back(list + ".");
  return sheet(chart_svg(trip, picture, map, hour), 760, words);
}

/// The scale of days: colours and numbers.
std::string scale() {
  std::string out = fmt::format("<text y=\"16\">{}</text>", caption::days_both_ways);
  for (int days = 1; days <= 10; ++days) {
    const double x = 160 + days * 30;
    out += fmt::format(
        "<rect x=\"{:g}\" width=\"28\" height=\"22\" fill=\"{}\"/><text class=\"{}\" x=\"{:g}\" y=\"16\" "
        "text-anchor=\"middle\">{}</text>",
        x, words::days_colour(days), words::light_letters(days) ? "palemark" : "deepmark", x + 14, days);
  }
  return out;
}

std::string strip_sheet(const kit::Trip& trip, const advice::Picture& picture, std::size_t w) {
  const auto& way = picture.ways[w];
  const auto& from = nth(trip.sites, way.site).name;
  const auto& to = nth(trip.targets, way.target).region.name;
  return sheet(strip_svg(trip, picture, w), 908,
               {fmt::format(caption::strip_title, from, to),
                fmt::format(caption::strip_below, way.path.bearing_deg, way.path.distance_km, sky_line(trip)),
                {fmt::format(caption::strip_key, trip.want_days_in_ten, nth(trip.sites, way.site).zone.name(),
                             words::clock_words(way.far_zone, start_of(picture.day)))}},
               scale());
}

std::string hop_sheet(const kit::Trip& trip, const advice::Picture& picture, std::size_t w) {
  const auto& way = picture.ways[w];
  const auto best = way_start(trip, picture, w);
  const auto& cell = way.cells[best.hour * trip.bands.size() + best.band];
  const auto& from = nth(trip.sites, way.site).name;
  const auto& to = nth(trip.targets, way.target).region.name;
  const bool round = cell.open() && cell.way == geodesy::Way::long_way;
  const auto frame = frame_of(way, round ? cell.distance_km : way.path.distance_km, round);
  return sheet(
      section_svg(trip, picture, best), section_width,
      {fmt::format(caption::hops_title, from, to, trip.bands[best.band].id, best.hour),
       !cell.open() ? fmt::format(caption::hops_below_closed, way.path.distance_km)
                    : fmt::format(caption::hops_below,
                                  words::counted(cell.ray().hops > 0 ? drawn_ray(cell).hops : 0, "hop"),
                                  words::whole_days(cell.days_both), cell.distance_km,
                                  cell.way == geodesy::Way::long_way ? caption::long_way_round : ""),
       {cell_text(trip, way, cell, best.hour, best.band),
        fmt::format(caption::stretched, frame.up / frame.along)}});
}

}  // namespace

std::string picture_style() {
  return in_palette(std::string(embedded("assets/picture.css")), false);
}

std::string in_palette(std::string css, bool dark) {
  for (const auto& [name, value] : palette(dark)) {
    const std::string use = "var(" + name + ")";
    for (auto at = css.find(use); at != std::string::npos; at = css.find(use, at))
      css.replace(at, use.size(), value);
  }
  return css;
}

std::vector<NamedPicture> pictures(const kit::Trip& trip, const advice::Advice& a,
                                   const advice::Picture& picture) {
  std::vector<NamedPicture> out;
  std::set<std::string> used;
  const auto add = [&](const std::string& stem, std::string svg) {
    std::string name = stem;
    for (int i = 2; !used.insert(name).second; ++i) name = fmt::format("{}-{}", stem, i);
    out.push_back({name + ".svg", std::move(svg)});
  };
  const auto start = page_start(trip, picture);
  for (std::size_t m = 0; m < picture.maps.size(); ++m) {
    add("map-" + file_word(nth(trip.sites, picture.maps[m].site).id),
        chart_sheet(trip, picture, m, start.hour));
  }
  for (std::size_t w = 0; w < picture.ways.size(); ++w) {
    const auto& way = picture.ways[w];
    const std::string ends =
        file_word(nth(trip.sites, way.site).id) + "-" + file_word(nth(trip.targets, way.target).region.id);
    add("hours-" + ends, strip_sheet(trip, picture, w));
    add("hops-" + ends, hop_sheet(trip, picture, w));
  }
  for (std::size_t p = 0; p < picture.patterns.size(); ++p) {
    const auto& one = picture.patterns[p];
    const auto& band = nth(trip.bands, one.band).id;
    add(fmt::format("antenna-{:02}-{}", p + 1, file_word(band)),
        sheet(pattern_svg(trip, one), 640,
              {band + ": " + words::setup_label(trip, a, one.setup),
               caption::pattern_below,
               {fmt::format(caption::pattern_key, one.has_sea ? caption::over_sea : "")}}));
  }
  add("reach-against-mass", sheet(frontier_svg(a, picture), 640,
                                  {fmt::format(caption::frontier_title, trip.name),
                                   caption::frontier_below,
                                   {caption::frontier_key}}));
  return out;
}

}  // namespace skerry::page
