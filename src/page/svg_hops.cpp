// The side view of one cell: hops over the curved Earth, everything to one scale.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "html_text.hpp"
#include "skerry/core/decimal.hpp"
#include "skerry/core/units.hpp"
#include "skerry/words/numbers.hpp"
#include "svg.hpp"

namespace skerry::page {

namespace {

using advice::PictureCell;

// Sizes in units of the picture. The page's script draws the same for any cell (assets/report.js, drawHops).
constexpr double width = 720, side = 74, top = 40, below = 62;
// Heights of the layers that are drawn but not computed. Source: ITU-R P.533 (E mirror 110 km); D: common
// practice, the middle of 60 to 90 km.
constexpr double e_km = 110, d_km = 75, f2_nominal_km = 300;

/// Along the way and up, to paper.
class Section {
 public:
  Section(double km, double highest_km) : angle_(km / earth_radius_km), highest_(highest_km) {
    const double half = std::min(angle_ / 2, std::numbers::pi);
    const double wide = half >= std::numbers::pi / 2 ? earth_radius_km + highest_
                                                     : (earth_radius_km + highest_) * std::sin(half);
    const double low =
        half >= std::numbers::pi ? earth_radius_km + highest_ : -earth_radius_km * std::cos(half);
    scale_ = (width / 2 - side) / wide;
    height_ = top + (low + earth_radius_km + highest_) * scale_ + below;
    deep_km_ = std::min(wide * 0.05 + 20, 300.0);
  }
  [[nodiscard]] double height() const { return height_; }
  [[nodiscard]] double deep_km() const { return deep_km_; }
  [[nodiscard]] ChartPoint at(double along_km, double up_km) const {
    const double a = along_km / earth_radius_km - angle_ / 2;
    const double r = earth_radius_km + up_km;
    return {width / 2 + r * std::sin(a) * scale_,
            top + (earth_radius_km + highest_ - r * std::cos(a)) * scale_};
  }
  [[nodiscard]] std::string arc(char first, double up_km, double from_km, double to_km) const {
    const int steps = std::max(8, static_cast<int>(std::ceil(std::abs(to_km - from_km) / 120)));
    std::string out;
    for (int i = 0; i <= steps; ++i)
      step(out, i == 0 ? first : 'L', at(std::lerp(from_km, to_km, static_cast<double>(i) / steps), up_km));
    return out;
  }
  static void step(std::string& out, char letter, ChartPoint p) {
    out += letter;
    append_fixed(out, p.x, 1);
    out += ' ';
    append_fixed(out, p.y, 1);
  }
  /// The direction of the horizon at the start, so far on paper.
  [[nodiscard]] ChartPoint level(double units) const {
    const auto here = at(0, 0);
    return {here.x + units * std::cos(angle_ / 2), here.y - units * std::sin(angle_ / 2)};
  }

 private:
  double angle_, highest_, scale_ = 1, height_ = 0, deep_km_ = 0;
};

std::string label(ChartPoint p, const char* anchor, const std::string& text, const char* kind = "") {
  return fmt::format("<text{} x=\"{:.1f}\" y=\"{:.1f}\" text-anchor=\"{}\">{}</text>", kind, p.x, p.y, anchor,
                     text);
}

}  // namespace

std::string hop_svg(const advice::PictureWay& way, const PictureCell& cell) {
  const circuit::Mode& ray = cell.ray();
  const bool off_e = ray.layer != circuit::Layer::f2;
  const char* layer = !off_e ? "F2" : ray.layer == circuit::Layer::e ? "E" : "Es";
  const bool drawn = cell.open() && ray.hops > 0;
  const double km = drawn ? cell.distance_km : way.path.distance_km;
  const double mirror_km = std::round(ray.reflection_height_km);
  const bool f2 = !drawn || !off_e;
  const double f2_km = drawn ? mirror_km : f2_nominal_km;
  const Section paper(km, std::max(drawn ? mirror_km : 0, 320.0));
  const std::string said =
      drawn ? fmt::format(caption::hops, words::counted(ray.hops, "hop"), layer, mirror_km, ray.elevation_deg)
            : std::string(caption::hops_closed);
  std::string out =
      fmt::format("<svg class=\"hop\" viewBox=\"0 0 {:g} {:.1f}\" role=\"img\" aria-label=\"{}\">", width,
                  paper.height(), said);
  std::string ground = paper.arc('M', 0, 0, km);
  if (km < 2 * std::numbers::pi * earth_radius_km - 1) {
    ground += paper.arc('L', -paper.deep_km(), km, 0) + "Z";
  }
  out += "<path class=\"earth\" d=\"" + ground + "\"/>";
  out += "<path class=\"layer d\" d=\"" + paper.arc('M', d_km, 0, km) + "\"/>";
  out += "<path class=\"layer e\" d=\"" + paper.arc('M', e_km, 0, km) + "\"/>";
  if (f2) out += "<path class=\"layer\" d=\"" + paper.arc('M', f2_km, 0, km) + "\"/>";
  if (cell.skip_km > 0.0) {
    out += fmt::format("<path class=\"skipzone\" d=\"{}\" data-skip=\"{:.0f}\"/>",
                       paper.arc('M', 0, 0, std::min(km, *cell.skip_km)), *cell.skip_km);
  }
  const auto here = paper.at(0, 0);
  const auto there = paper.at(km, 0);
  if (drawn) {
    std::string way_up;
    const double hop = km / ray.hops;
    for (int i = 0; i <= 2 * ray.hops; ++i)
      Section::step(way_up, i == 0 ? 'M' : 'L', paper.at(i * hop / 2, i % 2 == 1 ? mirror_km : 0));
    std::string horizon;
    Section::step(horizon, 'M', here);
    Section::step(horizon, 'L', paper.level(90));
    out += "<path class=\"level\" d=\"" + horizon + "\"/>";
    out += fmt::format("<path class=\"ray\" d=\"{}\" data-hops=\"{}\"/>", way_up, ray.hops);
    out += label({here.x - 8, here.y - 4}, "end", fmt::format("{:.1f}&#176;", ray.elevation_deg));
  }
  // Round most of the Earth the two ends meet again: their names stay apart.
  const double apart = std::max(0.0, 60 - (there.x - here.x) / 2);
  out += label({here.x - apart, paper.height() - 36}, "middle", caption::here);
  out += label({there.x + apart, paper.height() - 36}, "middle", caption::there);
  out += label({width / 2, paper.at(km / 2, f2 ? f2_km : e_km).y - 10}, "middle",
               drawn ? fmt::format(caption::mirror, layer, mirror_km) : std::string(caption::f2_about));
  out += label({width / 2, paper.height() - 10}, "middle",
               fmt::format(caption::layers, f2 ? caption::layers_f2 : ""), " class=\"key\"");
  return out + "</svg>";
}

}  // namespace skerry::page
