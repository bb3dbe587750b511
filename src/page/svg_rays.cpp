// The fan of rays: what leaves the antenna's lobe, what comes down and where, what arrives.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <sstream>

#include "html_parts.hpp"
#include "html_text.hpp"
#include "section.hpp"
#include "skerry/core/embedded.hpp"
#include "skerry/core/needed.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/page/rays.hpp"
#include "skerry/words/style.hpp"
#include "svg.hpp"

namespace skerry::page {

namespace {

/// Judgement: how high the picture is, km; and the shortest way worth its width.
constexpr double top_km = 500, least_km = 1200;
/// Units of the picture that a line may be off by. Judgement: a third of a line's width.
constexpr double line_error = 0.5;
/// Judgement: a ray this far under the lobe's best is drawn as faint as any.
constexpr double faint_db = 20;

struct Dot {
  double x, y;
};

Frame frame_of_fan(const circuit::FanAnswer& a) {
  Frame out;
  const double wanted = std::max({1.06 * a.path.distance_km, a.skip ? 1.4 * a.skip->km : 0, least_km});
  // Beyond the far end the layers were traced only so far.
  out.km = std::max(a.path.distance_km, std::min(wanted, a.f2_peak.back().at_km));
  out.up = (section_ground - section_top) / top_km;
  out.along = std::min((section_width - 2 * section_edge) / out.km, out.up);
  out.from = a.path.from;
  out.bearing_deg = a.path.bearing_deg;
  return out;
}

/// A ray's places on paper, cut where the picture ends.
std::vector<Dot> on_paper(const Frame& frame, const std::vector<rays::RayPoint>& line) {
  std::vector<Dot> out;
  const auto inside = [&](const rays::RayPoint& p) { return p.up_km <= top_km && p.at_km <= frame.km; };
  for (std::size_t i = 0; i < line.size(); ++i) {
    const auto& p = line[i];
    if (inside(p)) {
      out.push_back({frame.x(p.at_km), frame.y(p.up_km)});
      continue;
    }
    if (i > 0) {
      const auto& from = line[i - 1];
      const double by_height = p.up_km > top_km ? (top_km - from.up_km) / (p.up_km - from.up_km) : 1;
      const double by_length = p.at_km > frame.km ? (frame.km - from.at_km) / (p.at_km - from.at_km) : 1;
      const double share = std::clamp(std::min(by_height, by_length), 0.0, 1.0);
      out.push_back(
          {frame.x(std::lerp(from.at_km, p.at_km, share)), frame.y(std::lerp(from.up_km, p.up_km, share))});
    }
    break;
  }
  return out;
}

/// What a line needs of its dots.
std::string path_of(const std::vector<Dot>& dots) {
  if (dots.size() < 2) return {};
  std::vector<std::size_t> kept{0};
  add_needed(kept, 0, dots.size() - 1, [&](std::size_t first, std::size_t last, std::size_t i) {
    const double dx = dots[last].x - dots[first].x, dy = dots[last].y - dots[first].y;
    const double length = std::max(std::hypot(dx, dy), 1e-9);
    return std::abs(dx * (dots[i].y - dots[first].y) - dy * (dots[i].x - dots[first].x)) / length /
           line_error;
  });
  kept.push_back(dots.size() - 1);
  std::string out;
  for (const auto i : kept) out += fmt::format("{}{:.1f} {:.1f}", i == 0 ? 'M' : 'L', dots[i].x, dots[i].y);
  return short_path(out);
}

/// The picture's style as a file of its own, in one of the two palettes.
std::string style_of(bool dark) {
  std::string rules;
  std::istringstream in{std::string(embedded("assets/picture.css"))};
  for (std::string line; std::getline(in, line);) {
    if (line.rfind(".section ", 0) == 0 || line.rfind("svg ", 0) == 0) rules += line + '\n';
  }
  return in_palette(rules + std::string(embedded("assets/rays.css")) + ".sheet{fill:var(--paper)}\n", dark);
}

std::string fan_rays(const circuit::FanAnswer& a, const Frame& frame) {
  const double best = *std::max_element(a.lobe_dbi.begin(), a.lobe_dbi.end());
  std::string out;
  for (const auto& r : a.fan) {
    const double share = std::clamp(1 + (r.gain_dbi - best) / faint_db, 0.0, 1.0);
    out += fmt::format("<path class=\"fan{}\" stroke-width=\"{:.1f}\" stroke-opacity=\"{:.2f}\" d=\"{}\"/>",
                       r.ray.ending == rays::Ending::escaped ? " away" : "", 0.5 + 1.3 * share,
                       0.2 + 0.55 * share, path_of(on_paper(frame, r.line)));
  }
  for (std::size_t i = 0; i < a.arriving.size(); ++i) {
    const auto& r = a.arriving[i];
    const bool heavy = a.best == i;
    // Rays with many more hops than the strongest would hide the picture. Judgement.
    if (!heavy && (r.high || r.ray.hops > a.arriving[*a.best].ray.hops + 1)) continue;
    out += fmt::format("<path class=\"{}\" d=\"{}\"/>", heavy ? "ray" : "also",
                       path_of(on_paper(frame, r.line)));
  }
  return out;
}

}  // namespace

std::string rays_drawing(const circuit::FanAnswer& a) {
  const auto frame = frame_of_fan(a);
  const auto from = words::end_name(a.path.from, a.from_name);
  const auto to = words::end_name(a.path.to, a.to_name);
  const double far_x = frame.x(a.path.distance_km), right_x = frame.x(frame.km);
  // Judgement: room for the near end's name, and from where on the far end's stands to the left of it.
  constexpr double beside_from = 200, half_way = 420;
  std::string skip;
  if (a.skip)
    skip = fmt::format("<path class=\"skipzone\" d=\"M{:g} {:g}H{:.1f}\"/>", section_edge, section_ground + 7,
                       frame.x(std::min(a.skip->km, frame.km)));
  advice::PicturePattern lobe;
  lobe.best_dbi = a.lobe_dbi;
  const auto& middle = a.f2_peak[a.f2_peak.size() / 2];
  return fmt::format(
             "<svg class=\"section rays\" viewBox=\"0 26 {:g} {:g}\" role=\"img\" aria-label=\"{}\">"
             "<path class=\"heaven\" d=\"M{:g} {:g}H{:.1f}v{:g}H{:g}Z\"/>",
             section_width, section_height,
             fmt::format(words::caption::fan_label, markup(words::fan_moment(a)),
                         markup(words::skip_text(a))),
             section_edge, section_top, right_x, section_ground - section_top, section_edge) +
         frame_hour(frame, a.question.climate.day, static_cast<int>(a.hour)) + frame_base(frame, from, "") +
         skip + fmt::format("<path class=\"mirror\" d=\"{}\"/>", path_of(on_paper(frame, a.f2_peak))) +
         fan_rays(a, frame) + fmt::format("<path class=\"lobe\" d=\"{}\"/>", lobe_path(frame, lobe)) +
         fmt::format("<text class=\"layer\" x=\"{:.0f}\" y=\"{:.0f}\">{}</text>",
                     (section_edge + right_x) / 2, frame.y(middle.up_km) - 7, words::caption::fan_peak) +
         fmt::format("<text class=\"end\" x=\"{:.1f}\" y=\"{:g}\"{}>{}</text>",
                     far_x < half_way ? std::max(far_x, beside_from) : far_x + 20, section_ground + 36,
                     far_x < half_way ? "" : " text-anchor=\"end\"", short_name(to)) +
         fmt::format(
             "<circle class=\"mast\" cx=\"{:g}\" cy=\"{:g}\" r=\"5\"/><circle class=\"mast\" cx=\"{:.1f}\" "
             "cy=\"{:g}\" r=\"5\"/></svg>",
             section_edge, section_ground, far_x, section_ground);
}

std::string rays_svg(const circuit::FanAnswer& a) {
  constexpr double border = 24, line_height = 20, drawing_top = 76;
  const auto frame = frame_of_fan(a);
  const std::string title = fmt::format(words::caption::fan_title, words::end_name(a.path.from, a.from_name),
                                        words::end_name(a.path.to, a.to_name));
  std::string key;
  double y = drawing_top + section_height + 26;
  for (const auto& said :
       {words::skip_text(a) + " " + words::arrival_text(a), std::string(words::caption::fan_key),
        fmt::format(caption::stretched, frame.up / frame.along) + " " + words::fan_limits()}) {
    // Letters 14 units high are 8.2 wide on average.
    std::istringstream in(words::wrapped(plain(said), static_cast<std::size_t>(section_width / 8.2), "", ""));
    for (std::string line; std::getline(in, line); y += line_height)
      key += fmt::format("<text x=\"{:g}\" y=\"{:g}\">{}</text>\n", border, y, markup(line));
  }
  auto drawing = rays_drawing(a);
  drawing.insert(5, fmt::format("x=\"{:g}\" y=\"{:g}\" width=\"{:g}\" height=\"{:g}\" ", border, drawing_top,
                                section_width, section_height));
  return fmt::format(
             "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {0:g} "
             "{1:.0f}\" width=\"{0:g}\" height=\"{1:.0f}\" font-family=\"sans-serif\" font-size=\"14\">\n<title>{2}</title>\n"
             "<style>{3}@media (prefers-color-scheme:dark){{{4}}}</style>\n<rect class=\"sheet\" width=\"100%\" "
             "height=\"100%\"/>\n",
             section_width + 2 * border, y, markup(title), style_of(false), style_of(true)) +
         fmt::format(
             "<text x=\"{0:g}\" y=\"36\" font-size=\"21\" font-weight=\"bold\">{1}</text>\n<text x=\"{0:g}\" "
             "y=\"60\">{2}</text>\n",
             border, markup(title), markup(words::fan_moment(a))) +
         drawing + "\n" + key + "</svg>\n";
}

}  // namespace skerry::page
