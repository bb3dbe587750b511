// Small plots: elevation patterns and the frontier.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "html_text.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/words/numbers.hpp"
#include "skerry/words/page_text.hpp"
#include "svg.hpp"

namespace skerry::page {

namespace {

// A plot's box, in units of the picture.
constexpr double left = 46, top = 14, width = 300, height = 150;
/// Judgement: what leaves higher up serves nothing that one flies to an island for.
constexpr int highest_deg = 45;

double x_of(double share) {
  return left + share * width;
}
double y_of(double share) {
  return top + (1 - share) * height;
}

std::string trace(const std::array<double, 91>& gain_dbi, double low_dbi, double high_dbi, const char* kind) {
  std::string line;
  for (std::size_t e = 0; e <= highest_deg; ++e) {
    const double share = std::clamp((gain_dbi[e] - low_dbi) / (high_dbi - low_dbi), 0.0, 1.0);
    line += fmt::format("{}{:.1f} {:.1f}", e == 0 ? 'M' : 'L', x_of(static_cast<double>(e) / highest_deg),
                        y_of(share));
  }
  return fmt::format("<path class=\"{}\" d=\"{}\"/>", kind, short_path(line));
}

std::string head(const char* kind, const std::string& label, double full_height) {
  return fmt::format("<svg class=\"{}\" viewBox=\"0 0 360 {:g}\" role=\"img\" aria-label=\"{}\">", kind,
                     full_height, label);
}

std::string axis(const char* name) {
  return fmt::format("<text class=\"tick mid\" x=\"{:g}\" y=\"{:g}\">{}</text>", left + width / 2,
                     top + height + 34, name);
}

}  // namespace

std::string pattern_svg(const kit::Trip& trip, const advice::PicturePattern& p) {
  // Judgement: 30 dB down to a gain that is no use to anyone, on the same scale for all antennas.
  constexpr double low_dbi = -20, high_dbi = 10;
  const auto& band = nth(trip.bands, p.band).id;
  std::size_t most = 0;
  for (std::size_t i = 1; i < p.needed.size(); ++i) {
    if (p.needed[i] > p.needed[most]) most = i;
  }
  std::string out = head(
      "pattern",
      fmt::format(caption::pattern, markup(band), 5 * most, 5 * most + 5, p.best_dbi[5 * most + 2]), 206);
  const double tallest = std::max(1e-9, p.needed[most]);
  double beyond = 0;
  for (std::size_t i = 0; i < p.needed.size(); ++i) {
    if (5 * static_cast<int>(i) >= highest_deg) beyond += p.needed[i];
    if (p.needed[i] <= 0 || 5 * static_cast<int>(i) >= highest_deg) continue;
    const double h = height * p.needed[i] / tallest;
    out += fmt::format(
        "<rect class=\"needed\" x=\"{:.1f}\" y=\"{:.1f}\" width=\"{:.1f}\" height=\"{:.1f}\"/>",
        x_of(5.0 * static_cast<double>(i) / highest_deg), top + height - h, 5 * width / highest_deg, h);
  }
  for (int dbi = -20; dbi <= 10; dbi += 10) {
    const double y = y_of((dbi - low_dbi) / (high_dbi - low_dbi));
    out += fmt::format(
        "<path class=\"grid\" d=\"M{0:g} {1:.1f}h{2:g}\"/><text class=\"tick end\" x=\"{3:g}\" "
        "y=\"{4:.1f}\">{5}</text>",
        left, y, width, left - 5, y + 4, dbi);
  }
  for (int e = 0; e <= highest_deg; e += 15) {
    out += fmt::format("<text class=\"tick mid\" x=\"{:.1f}\" y=\"{:g}\">{}&#176;</text>",
                       x_of(static_cast<double>(e) / highest_deg), top + height + 16, e);
  }
  out += trace(p.mean_dbi, low_dbi, high_dbi, "mean");
  if (p.has_sea) out += trace(p.towards_sea_dbi, low_dbi, high_dbi, "seaward");
  out += trace(p.best_dbi, low_dbi, high_dbi, "best");
  // Named where they run, at the right end.
  const auto name_line = [&](const std::array<double, 91>& gain_dbi, const char* name, double lift) {
    const double share = std::clamp((gain_dbi[highest_deg] - low_dbi) / (high_dbi - low_dbi), 0.0, 1.0);
    out += fmt::format("<text class=\"tick end line\" x=\"{:.1f}\" y=\"{:.1f}\">{}</text>", x_of(1) - 3,
                       y_of(share) + lift, name);
  };
  name_line(p.best_dbi, caption::pattern_best, -7);
  name_line(p.mean_dbi, caption::pattern_mean, 16);
  out += fmt::format(
      "<text class=\"tick used\" x=\"{:.1f}\" y=\"{:g}\">{}</text>", x_of(0) + 4, top + 4,
      fmt::format(caption::pattern_used, 5 * most, 5 * most + 5) +
          (beyond > 0.005 ? fmt::format(caption::pattern_beyond, words::percent(beyond), highest_deg)
                          : std::string()));
  out += axis(caption::pattern_axis) + "</svg>";
  return out;
}

std::string frontier_svg(const advice::Advice& a, const advice::Picture& picture) {
  double most_g = std::max(a.limit_g, a.kit.mass_g);
  for (const auto& kit : picture.frontier.kits) most_g = std::max(most_g, kit.mass_g);
  double everything_g = 0;
  for (const auto& thing : a.inventory.things) {
    if (!thing.excluded) everything_g += thing.mass_g;
  }
  if (!std::isfinite(most_g)) most_g = everything_g;  // no limit was set
  const double most = std::max(everything_g, most_g) * 1.04 + 1;
  std::string out =
      head("frontier",
           fmt::format(caption::frontier, words::mass(a.kit.mass_g), words::percent(a.kit.reach),
                       words::mass(everything_g), words::percent(a.reach_of_everything)),
           206);
  for (int p = 0; p <= 100; p += 25) {
    out += fmt::format(
        "<path class=\"grid\" d=\"M{0:g} {1:.1f}h{2:g}\"/><text class=\"tick end\" x=\"{3:g}\" "
        "y=\"{4:.1f}\">{5} %</text>",
        left, y_of(p / 100.0), width, left - 5, y_of(p / 100.0) + 4, p);
  }
  const double step_g = most > 12000 ? 4000 : most > 6000 ? 2000 : most > 2500 ? 1000 : 500;
  for (double g = 0; g < most; g += step_g) {
    out += fmt::format("<text class=\"tick mid\" x=\"{:.1f}\" y=\"{:g}\">{:g}</text>", x_of(g / most),
                       top + height + 16, g / 1000);
  }
  if (std::isfinite(a.limit_g)) {
    out += fmt::format("<path class=\"limit\" d=\"M{:.1f} {:g}v{:g}\"/>",
                       x_of(std::min(1.0, a.limit_g / most)), top, height);
  }
  std::string stairs;
  double last_y = y_of(0);
  for (const auto& kit : picture.frontier.kits) {
    const double x = x_of(kit.mass_g / most);
    stairs += fmt::format("{}{:.1f} {:.1f}", stairs.empty() ? 'M' : 'L', x, last_y);
    last_y = y_of(kit.reach);
    stairs += fmt::format("L{:.1f} {:.1f}", x, last_y);
  }
  if (!stairs.empty()) out += "<path class=\"best\" d=\"" + stairs + "\"/>";
  for (const auto& kit : picture.frontier.kits) {
    out += fmt::format(
        "<circle class=\"kit\" cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"3.5\"><title>{}: {}</title></circle>",
        x_of(kit.mass_g / most), y_of(kit.reach), words::mass(kit.mass_g), words::percent(kit.reach));
  }
  out += fmt::format("<circle class=\"chosen\" cx=\"{:.1f}\" cy=\"{:.1f}\" r=\"7\"/>",
                     x_of(a.kit.mass_g / most), y_of(a.kit.reach));
  const double ex = x_of(everything_g / most);
  const double ey = y_of(a.reach_of_everything);
  out += fmt::format("<path class=\"all\" d=\"M{:.1f} {:.1f}l5 -5l5 5l-5 5z\"/>", ex - 5, ey);
  out += axis(caption::frontier_axis) + "</svg>";
  return out;
}

}  // namespace skerry::page
