// The picture of a map: plain vector shapes, cells of one colour merged along each row.

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "html_text.hpp"
#include "skerry/core/decimal.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/units.hpp"
#include "skerry/page/map.hpp"
#include "skerry/words/conditions.hpp"
#include "skerry/words/map.hpp"
#include "skerry/words/numbers.hpp"

namespace skerry::page {

namespace {

// Sizes in units of the picture, at any zoom. Judgement: readable on a phone and on A4.
constexpr const char* night_colour = "#dcdcdc";
constexpr double margin = 24, gap = 18, title = 20, head = 92, foot = 64, one_width = 960, sheet_width = 1440;

struct Layout {
  int columns = 1, rows = 1;
  double panel = one_width, width = 0, height = 0;
};
Layout layout_of(std::size_t panels) {
  Layout out;
  out.columns = panels == 1 ? 1 : panels <= 4 ? 2 : panels <= 9 ? 3 : 4;
  out.rows = static_cast<int>((panels + static_cast<std::size_t>(out.columns) - 1) /
                              static_cast<std::size_t>(out.columns));
  const double inner = panels == 1 ? one_width : sheet_width;
  out.panel = (inner - gap * (out.columns - 1)) / out.columns;
  out.width = inner + 2 * margin;
  out.height = head + out.rows * (out.panel / 2 + title + gap) + foot;
  return out;
}

void point(std::string& out, double x, double y) {
  append_fixed(out, x, 2);
  out += ' ';
  append_fixed(out, y, 2);
}

/// All rings of the coast in degrees from the picture's corner (180 W, 90 N), a tenth of a degree fine.
std::string coast_path(const std::vector<std::vector<GeoPoint>>& rings) {
  std::string out;
  for (const auto& ring : rings) {
    if (ring.size() < 3) continue;
    long last_x = 0;
    long last_y = 0;
    bool first = true;
    for (const auto& p : ring) {
      const long x = std::lround(10 * (p.lon_deg + 180));
      const long y = std::lround(10 * (90 - p.lat_deg));
      if (!first && x == last_x && y == last_y) continue;
      out += first ? 'M' : 'L';
      append_fixed(out, static_cast<double>(x) / 10, 1);
      out += ' ';
      append_fixed(out, static_cast<double>(y) / 10, 1);
      first = false;
      last_x = x;
      last_y = y;
    }
    out += 'Z';
  }
  return out;
}

/// The cells of each class as one path: runs of equal cells along a row are one rectangle.
std::string cell_paths(const circuit::Grid& grid, const std::uint8_t* classes) {
  std::array<std::string, 11> paths;
  const int columns = grid.columns();
  const double step = grid.step_deg;
  for (int row = 0; row < grid.rows(); ++row) {
    const std::uint8_t* line = classes + static_cast<std::size_t>(row) * static_cast<std::size_t>(columns);
    for (int from = 0; from < columns;) {
      int to = from + 1;
      while (to < columns && line[to] == line[from]) ++to;
      if (line[from] >= 1 && line[from] <= 10) {
        auto& path = paths[line[from]];
        path += 'M';
        point(path, from * step, row * step);
        path += 'h';
        append_fixed(path, (to - from) * step, 2);
        path += 'v';
        append_fixed(path, step, 2);
        path += 'h';
        append_fixed(path, (from - to) * step, 2);
        path += 'z';
      }
      from = to;
    }
  }
  std::string out;
  for (int days = 1; days <= 10; ++days) {
    const auto& path = nth(paths, days);
    if (!path.empty()) out += fmt::format("<path fill=\"{}\" d=\"{}\"/>\n", words::days_colour(days), path);
  }
  return out;
}

/// The terminator from 180 W to 180 E, as the middle of a path.
std::string terminator_path(const MapSheet::Night& night) {
  if (night.edge.empty()) return {};
  auto edge = night.edge;
  std::sort(edge.begin(), edge.end(), [](GeoPoint a, GeoPoint b) {
    return a.lon_deg != b.lon_deg ? a.lon_deg < b.lon_deg : a.lat_deg < b.lat_deg;
  });
  // Where it leaves the picture: between its last and first points, round the back of the map.
  const double step = edge.front().lon_deg + 360 - edge.back().lon_deg;
  const double share = step > 0 ? (180 - edge.back().lon_deg) / step : 0;
  const double side_lat = std::lerp(edge.back().lat_deg, edge.front().lat_deg, share);
  std::string out;
  point(out, 0, 90 - side_lat);
  for (const auto& p : edge) {
    out += 'L';
    point(out, p.lon_deg + 180, 90 - p.lat_deg);
  }
  out += 'L';
  point(out, 360, 90 - side_lat);
  return out;
}

std::string legend(const Layout& at) {
  constexpr double box = 34;
  const double y = at.height - foot + 8;
  std::string out =
      fmt::format("<g transform=\"translate({:g} {:g})\" font-size=\"12\">\n<text y=\"11\">{}</text>\n",
                  margin, y, caption::days_both_ways);
  double x = 150;
  for (int days = 1; days <= 10; ++days) {
    out += fmt::format(
        "<rect x=\"{:g}\" width=\"{:g}\" height=\"14\" fill=\"{}\"/><text x=\"{:g}\" y=\"28\" "
        "text-anchor=\"middle\">{}</text>\n",
        x, box, words::days_colour(days), x + box / 2, days);
    x += box;
  }
  out += fmt::format(
      "<rect x=\"{:g}\" width=\"{:g}\" height=\"14\" fill=\"#fff\" stroke=\"#aaa\"/><text x=\"{:g}\" "
      "y=\"28\" text-anchor=\"middle\">{}</text>\n",
      x + 40, box, x + 40 + box / 2, caption::fewer);
  x += 40 + box + 56;
  out += fmt::format(
      "<circle cx=\"{:g}\" cy=\"7\" r=\"5\" fill=\"#d5006d\" stroke=\"#fff\"/><text x=\"{:g}\" "
      "y=\"11\">{}</text>\n",
      x, x + 12, caption::site);
  out += fmt::format(
      "<rect x=\"{:g}\" width=\"{:g}\" height=\"14\" fill=\"{}\"/><text x=\"{:g}\" y=\"11\">{}</text>\n</g>\n",
      x + 60, box, night_colour, x + 66 + box, caption::night);
  return out;
}

std::string heading(const MapSheet& sheet) {
  const auto& q = sheet.question;
  const std::string name = sheet.site_name.empty() ? geodesy::to_text(q.from.at) : sheet.site_name;
  const char* way = q.way == circuit::WayChoice::best       ? "best"
                    : q.way == circuit::WayChoice::long_way ? "long"
                                                            : "short";
  std::string out = fmt::format("<text x=\"{:g}\" y=\"40\" font-size=\"22\">{}</text>\n", margin,
                                fmt::format(caption::world_from, markup(name)));
  out += fmt::format(
      "<text x=\"{:g}\" y=\"62\" font-size=\"13\">{}</text>\n", margin,
      fmt::format(caption::world_stations, to_iso(month_of(start_of(q.climate.day))), q.climate.r12,
                  markup(q.mode.name), q.from.power_w, words::antenna_text(q.from.gain_dbi),
                  noise::to_text(q.from.environment), q.to.power_w, words::antenna_text(q.to.gain_dbi),
                  noise::to_text(q.to.environment), way));
  out += fmt::format("<text x=\"{:g}\" y=\"80\" font-size=\"13\" fill=\"#555\">{}</text>\n", margin,
                     fmt::format(caption::world_sky, q.grid.step_deg, words::atmospheric_note));
  return out;
}

}  // namespace

std::uint8_t days_class(const circuit::CoverageValue& value) {
  return value.open ? static_cast<std::uint8_t>(std::lround(value.both_days_in_ten())) : closed_class;
}

std::string map_svg(const MapSheet& sheet) {
  const auto& q = sheet.question;
  const std::size_t panels = q.hours.size() * q.frequencies.size();
  const Layout at = layout_of(panels);
  const double scale = at.panel / 360;
  std::string out = fmt::format(
      "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" viewBox=\"0 0 "
      "{0:g} {1:g}\" width=\"{0:g}\" height=\"{1:g}\" font-family=\"sans-serif\" fill=\"#222\">\n"
      "<title>{2}</title>\n<rect width=\"100%\" height=\"100%\" fill=\"#fff\"/>\n",
      at.width, at.height, caption::world);
  out += "<defs><path id=\"coast\" d=\"" + coast_path(sheet.coast) + "\"/></defs>\n";
  out += heading(sheet);
  for (std::size_t i = 0; i < panels; ++i) {
    const std::size_t f = i / q.hours.size();
    const std::size_t h = i % q.hours.size();
    const int column = static_cast<int>(i) % at.columns;
    const int row = static_cast<int>(i) / at.columns;
    const double x = margin + column * (at.panel + gap);
    const double y = head + row * (at.panel / 2 + title + gap);
    out += fmt::format(
        "<g transform=\"translate({:.2f} {:.2f})\">\n<text y=\"13\" font-size=\"14\">{}</text>\n", x, y,
        fmt::format(caption::world_panel, words::frequency_name(q.frequencies[f]), q.hours[h]));
    out += fmt::format(
        "<svg y=\"{:g}\" width=\"{:.2f}\" height=\"{:.2f}\" viewBox=\"0 0 360 180\">\n"
        "<g shape-rendering=\"crispEdges\">\n",
        title, at.panel, at.panel / 2);
    // The night lies under the cells, so that it changes none of their colours.
    const auto edge = terminator_path(sheet.nights[h]);
    if (!edge.empty()) {
      const int pole_y = sheet.nights[h].north_dark ? 0 : 180;
      out += fmt::format("<path fill=\"{}\" d=\"M0 {}L{}L360 {}Z\"/>\n", night_colour, pole_y, edge, pole_y);
    }
    out += cell_paths(q.grid, sheet.classes.data() + (h * q.frequencies.size() + f) * q.grid.cells());
    out += "</g>\n";
    if (!edge.empty()) {
      out += fmt::format(
          "<path fill=\"none\" stroke=\"#000\" stroke-opacity=\"0.6\" stroke-width=\"{:.3f}\" "
          "stroke-dasharray=\"2 1.5\" d=\"M{}\"/>\n",
          0.8 / scale, edge);
    }
    // A light line under the dark one keeps the coast visible on dark cells.
    out += fmt::format(
        "<use xlink:href=\"#coast\" fill=\"none\" stroke=\"#fff\" stroke-opacity=\"0.7\" "
        "stroke-width=\"{:.3f}\"/><use xlink:href=\"#coast\" fill=\"none\" stroke=\"#222\" "
        "stroke-width=\"{:.3f}\"/>\n",
        1.6 / scale, 0.6 / scale);
    out += fmt::format(
        "<circle cx=\"{:.2f}\" cy=\"{:.2f}\" r=\"{:.3f}\" fill=\"#d5006d\" stroke=\"#fff\" "
        "stroke-width=\"{:.3f}\"/>\n",
        q.from.at.lon_deg + 180, 90 - q.from.at.lat_deg, 4.5 / scale, 1.2 / scale);
    out +=
        "<rect width=\"360\" height=\"180\" fill=\"none\" stroke=\"#888\" stroke-width=\"0.5\"/>\n</svg>\n"
        "</g>\n";
  }
  out += legend(at);
  out += "</svg>\n";
  return out;
}

}  // namespace skerry::page
