#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <sstream>

#include "html_text.hpp"
#include "skerry/core/units.hpp"
#include "skerry/page/horizon.hpp"
#include "skerry/words/style.hpp"

namespace skerry::page {

namespace {

// Sizes in units of the picture, at any zoom.
constexpr double width = 960, edge = 60, middle_x = 480, middle_y = 330, rim = 210, strip_top = 620,
                 strip_height = 190, strip_left = edge, strip_width = width - 2 * edge;

using words::HorizonAnswer;

/// The angle at the top of the strip and in the middle of the round picture.
double top_deg(const HorizonAnswer& a) {
  double most = 8;
  for (const auto& s : a.around.skyline) most = std::max(most, 1.1 * s.deg);
  for (const auto& m : a.marks) {
    if (m.leaves) most = std::max(most, std::min(40.0, 1.1 * m.leaves->usual_deg));
  }
  return 5 * std::ceil(most / 5);
}

struct Point {
  double x = 0, y = 0;
};
Point round_point(double azimuth_deg, double share) {
  return {middle_x + rim * (1 - share) * sin_deg(azimuth_deg),
          middle_y - rim * (1 - share) * cos_deg(azimuth_deg)};
}
Point strip_point(double azimuth_deg, double share) {
  return {strip_left + strip_width * azimuth_deg / 360, strip_top + strip_height * (1 - share)};
}

std::string round_part(const HorizonAnswer& a, double top) {
  std::string out =
      fmt::format("<circle class=\"sky\" cx=\"{0:g}\" cy=\"{1:g}\" r=\"{2:g}\"/>\n", middle_x, middle_y, rim);
  std::string ground = "<path class=\"ground\" d=\"";
  for (std::size_t i = 0; i < a.around.skyline.size(); ++i) {
    const auto p = round_point(a.around.azimuth_deg(i), std::max(0.0, a.around.skyline[i].deg) / top);
    ground += fmt::format("{}{:.1f} {:.1f}", i == 0 ? 'M' : 'L', p.x, p.y);
  }
  // The rim the other way round, so that only what stands above the level is filled.
  ground += fmt::format("ZM{0:g} {1:g}A{2:g} {2:g} 0 1 0 {3:g} {1:g}A{2:g} {2:g} 0 1 0 {0:g} {1:g}Z\"/>\n",
                        middle_x - rim, middle_y, rim, middle_x + rim);
  out += ground;
  for (double deg = 5; deg < top; deg += 5) {
    out += fmt::format(
        "<circle class=\"ring\" cx=\"{0:g}\" cy=\"{1:g}\" r=\"{2:.1f}\"/><text class=\"tick\" x=\"{0:g}\" "
        "y=\"{3:.1f}\">{4:g}</text>\n",
        middle_x, middle_y, rim * (1 - deg / top), middle_y - rim * (1 - deg / top) + 13, deg);
  }
  // The sea: a dashed arc outside the rim.
  const auto count = a.around.shore.size();
  const double half = 180.0 / static_cast<double>(count);
  std::string sea;
  for (std::size_t i = 0; i < count; ++i) {
    if (!a.around.shore[i]) continue;
    const auto from = round_point(a.around.azimuth_deg(i) - half, -0.05),
               to = round_point(a.around.azimuth_deg(i) + half, -0.05);
    sea += fmt::format("M{:.1f} {:.1f}L{:.1f} {:.1f}", from.x, from.y, to.x, to.y);
  }
  if (!sea.empty()) out += fmt::format("<path class=\"shore\" d=\"{}\"/>\n", sea);
  for (int azimuth = 0; azimuth < 360; azimuth += 30) {
    static constexpr const char* winds[] = {"N", "E", "S", "W"};
    const auto p = round_point(azimuth, -0.13);
    out += fmt::format("<text class=\"mid\" x=\"{:.1f}\" y=\"{:.1f}\">{}</text>\n", p.x, p.y + 5,
                       azimuth % 90 == 0 ? std::string(winds[azimuth / 90]) : fmt::format("{}", azimuth));
  }
  return out;
}

std::string strip_part(const HorizonAnswer& a, double top) {
  std::string out;
  std::string ground =
      fmt::format("<path class=\"ground\" d=\"M{:g} {:g}", strip_left, strip_top + strip_height);
  const auto add = [&](double azimuth, double deg) {
    const auto p = strip_point(azimuth, std::max(0.0, deg) / top);
    ground += fmt::format("L{:.1f} {:.1f}", p.x, p.y);
  };
  for (std::size_t i = 0; i < a.around.skyline.size(); ++i)
    add(a.around.azimuth_deg(i), a.around.skyline[i].deg);
  add(360, a.around.skyline.front().deg);
  ground += fmt::format("L{:g} {:g}Z\"/>\n", strip_left + strip_width, strip_top + strip_height);
  out += ground;
  for (double deg = 0; deg <= top; deg += 5) {
    const auto p = strip_point(0, deg / top);
    out += fmt::format(
        "<path class=\"ring\" d=\"M{:g} {:.1f}h{:g}\"/><text class=\"end\" x=\"{:g}\" y=\"{:.1f}\">{:g}</text>\n",
        p.x, p.y, strip_width, p.x - 8, p.y + 5, deg);
  }
  for (int azimuth = 0; azimuth <= 360; azimuth += 45) {
    static constexpr const char* winds[] = {"N", "NE", "E", "SE", "S", "SW", "W", "NW", "N"};
    out += fmt::format("<text class=\"mid\" x=\"{:.1f}\" y=\"{:g}\">{}</text>\n", strip_point(azimuth, 0).x,
                       strip_top + strip_height + 22, winds[azimuth / 45]);
  }
  return out;
}

/// Where a region's openings leave: a bar over all of their angles, the usual one a dot with the region's number.
std::string marks_part(const HorizonAnswer& a, double top) {
  std::string out;
  for (std::size_t i = 0; i < a.marks.size(); ++i) {
    const auto& m = a.marks[i];
    if (!m.leaves) continue;
    const auto share = [&](double deg) { return std::clamp(deg / top, 0.0, 1.0); };
    for (const auto place : {round_point, strip_point}) {
      const auto low = place(m.bearing_deg, share(m.leaves->lowest_deg)),
                 high = place(m.bearing_deg, share(m.leaves->highest_deg));
      const auto at = place(m.bearing_deg, share(m.leaves->usual_deg));
      out += fmt::format(
          "<path class=\"bar\" d=\"M{:.1f} {:.1f}L{:.1f} {:.1f}\"/><circle class=\"dot\" cx=\"{:.1f}\" cy=\"{:.1f}\" "
          "r=\"11\"/><text class=\"mid\" x=\"{:.1f}\" y=\"{:.1f}\">{}</text>\n",
          low.x, low.y, high.x, high.y, at.x, at.y, at.x, at.y + 5, i + 1);
    }
  }
  return out;
}

}  // namespace

std::string horizon_svg(const HorizonAnswer& a) {
  const double top = top_deg(a);
  std::vector<std::string> lines{plain(caption::horizon_key)};
  for (std::size_t i = 0; i < a.marks.size(); ++i)
    lines.push_back(plain(fmt::format("{}  {}.", i + 1, words::mark_text(a.marks[i]))));
  std::string key;
  double y = strip_top + strip_height + 58;
  for (const auto& line : lines) {
    // Of letters 14 units high.
    std::istringstream in(words::wrapped(line, static_cast<std::size_t>(strip_width / 8.4), "", "   "));
    for (std::string one; std::getline(in, one); y += 20)
      key +=
          fmt::format("<text x=\"{:g}\" y=\"{:g}\" xml:space=\"preserve\">{}</text>\n", edge, y, markup(one));
  }
  const std::string where = a.named ? std::string(a.named->name) : geodesy::to_text(a.at, 2);
  const std::string title = fmt::format(caption::horizon_title, plain(where));
  std::string out = fmt::format(
      "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {0:g} {1:g}\" "
      "width=\"{0:g}\" height=\"{1:g}\" font-family=\"sans-serif\" font-size=\"14\">\n<title>{2}</title>\n"
      "<style>.sky{{fill:#eef4fa;stroke:#000;stroke-width:2}}.ground{{fill:#8a8a7a;fill-rule:evenodd;stroke:#000;"
      "stroke-width:1.2}}.ring{{fill:none;stroke:#000;stroke-opacity:.25}}.shore{{fill:none;stroke:#1f5f8b;stroke-width:6;"
      "stroke-opacity:.8}}.bar{{stroke:#000;stroke-width:2.5;fill:none}}.dot{{fill:#fff;stroke:#000;stroke-width:2}}"
      ".mid{{text-anchor:middle}}.end{{text-anchor:end}}.tick{{font-size:11px;text-anchor:middle}}</style>\n"
      "<rect width=\"100%\" height=\"100%\" fill=\"#fff\"/>\n"
      "<text x=\"{3:g}\" y=\"44\" font-size=\"21\" font-weight=\"bold\">{2}</text>\n<text x=\"{3:g}\" y=\"68\">{4}</text>\n",
      width, y + 16, markup(title), edge,
      markup(fmt::format(caption::horizon_below, a.around.ground_m, a.view.eye_m, a.view.reach_km)));
  out += round_part(a, top) + strip_part(a, top) + marks_part(a, top) + key;
  return out + "</svg>\n";
}

}  // namespace skerry::page
