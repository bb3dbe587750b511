// Antenna and sky in one picture: the section along a way, the antenna's lobe at its left end, the ray that leaves
// through it, day and night along the ground, the layers that are lit.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "html_text.hpp"
#include "section.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/units.hpp"
#include "skerry/sun/greyline.hpp"
#include "skerry/sun/position.hpp"
#include "skerry/words/numbers.hpp"
#include "skerry/words/page_text.hpp"

namespace skerry::page {

namespace {

/// Judgement: added to what is rounded for the picture: what lies half way goes up, whatever the last bit of the machine's sine.
constexpr double hair = 1e-6;

using advice::PictureCell;

// Sizes in units of the picture.
constexpr double left = section_edge, right = section_edge, ground = section_ground, deep = 14,
                 high = section_ground - section_top;
constexpr double lobe_size = 62, angle_size = 70;
// Heights of the layers that are drawn but not computed. Source: ITU-R P.533 (E mirror 110 km); D: common
// practice, the middle of 60 to 90 km.
constexpr double e_km = 110, d_km = 75;
/// Judgement: higher than any mirror of the method.
constexpr double highest_km = 420;
constexpr int steps = 48;

/// What an angle above the horizon is on paper, where heights are stretched.
double paper_angle(const Frame& frame, double elevation_deg) {
  return std::atan2(frame.up * sin_deg(elevation_deg), frame.along * cos_deg(elevation_deg));
}

std::string spans(const std::array<double, steps>& sun_deg, const Frame& frame, double low, double most,
                  const auto& drawn) {
  std::string out;
  for (int i = 0; i < steps;) {
    const auto in = [&](int k) {
      const double deg = sun_deg[static_cast<std::size_t>(k)];
      return deg >= low && deg < most;
    };
    int end = i;
    while (end < steps && in(end)) ++end;
    if (end > i) out += drawn(frame.x(frame.km * i / steps), frame.x(frame.km * end / steps));
    i = std::max(end, i + 1);
  }
  return out;
}

/// Where a path of "MxyHx" parts has its longest part.
std::optional<double> middle_of_longest(const std::array<double, steps>& sun_deg, const Frame& frame) {
  int best = -1, length = 0;
  for (int i = 0; i < steps;) {
    int end = i;
    while (end < steps && sun_deg[static_cast<std::size_t>(end)] > 0) ++end;
    if (end - i > length) {
      best = i;
      length = end - i;
    }
    i = std::max(end, i + 1);
  }
  // Judgement: a label's length.
  if (best < 0 || frame.along * frame.km * length / steps < 110) return std::nullopt;
  return frame.x(frame.km * (best + length / 2.0) / steps);
}

}  // namespace

std::string short_name(const std::string& name) {
  constexpr std::size_t room = 30;
  const auto text = plain(name);
  if (text.size() <= room) return markup(text);
  std::size_t end = room - 1;
  while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xC0U) == 0x80U) --end;
  return markup(text.substr(0, end)) + "\u2026";
}

double Frame::x(double at_km) const {
  return left + along * at_km + hair;
}
double Frame::y(double up_km) const {
  return ground - up * up_km + hair;
}

Frame frame_of(const advice::PictureWay& way, double km, bool long_way) {
  Frame out;
  out.km = km;
  out.long_way = long_way;
  out.up = high / highest_km;
  out.along = std::min((section_width - left - right) / km, out.up);
  out.from = way.path.from;
  out.bearing_deg = way.path.bearing_deg + (long_way ? 180 : 0);
  return out;
}

double take_off_deg(double hop_km, double mirror_km) {
  // Source: plane geometry of the triangle centre, ground, mirror, as in ITU-R P.533-14 section 5.1.2 (from
  // memory).
  const double half = hop_km / 2 / earth_radius_km;
  return deg_per_rad *
         std::atan2(std::cos(half) - earth_radius_km / (earth_radius_km + mirror_km), std::sin(half));
}

DrawnRay drawn_ray(const PictureCell& cell) {
  const auto& ray = cell.ray();
  DrawnRay out;
  out.hops = ray.hops;
  out.mirror_km = std::round(ray.reflection_height_km);
  out.equal_hops = cell.long_method;
  while (take_off_deg(cell.distance_km / out.hops, out.mirror_km) < 0) {
    ++out.hops;
    out.equal_hops = true;
  }
  const double hop = cell.distance_km / out.hops;
  out.elevation_deg = take_off_deg(hop, out.mirror_km);
  if (cell.skip_km) out.skip_km = std::floor(std::min(*cell.skip_km, hop));
  return out;
}

std::string hop_path(const Frame& frame, const DrawnRay& ray, double km) {
  // In distance and height a straight ray is nearly a parabola, which one curve of second degree is.
  const double half = frame.along * km / ray.hops / 2;
  const double top = frame.up * ray.mirror_km;
  const double rise = frame.up * tan_deg(ray.elevation_deg) * km / ray.hops / 4;
  return fmt::format("q{0:.1f} {1:.1f} {2:.1f} {3:.1f}q{0:.1f} {4:.1f} {2:.1f} {5:.1f}", half / 2 + hair,
                     hair - rise, half + hair, hair - top, top - rise + hair, top + hair);
}

std::string lobe_path(const Frame& frame, const advice::PicturePattern& pattern) {
  // Judgement: 30 dB down to a gain that is no use to anyone, as in the plots.
  constexpr double low_dbi = -20, high_dbi = 10;
  std::string out = fmt::format("M{:.1f} {:.1f}", frame.x(0), frame.y(0));
  for (std::size_t e = 0; e <= 90; e += e < 30 ? 2 : 5) {
    const double share = std::clamp((pattern.best_dbi[e] - low_dbi) / (high_dbi - low_dbi), 0.0, 1.0);
    const double turn = paper_angle(frame, static_cast<double>(e));
    out += fmt::format("L{:.1f} {:.1f}", frame.x(0) + lobe_size * share * std::cos(turn),
                       frame.y(0) - lobe_size * share * std::sin(turn));
  }
  return out + "Z";
}

std::string frame_base(const Frame& frame, const std::string& from, const std::string& to) {
  const double end = frame.x(frame.km);
  std::string out = fmt::format("<path class=\"earth\" d=\"M{0:.1f} {1:g}H{2:.1f}v{3:g}H{0:.1f}Z\"/>", left,
                                ground, end, deep);
  double last = -100;
  for (const int deg : {0, 3, 5, 10, 15, 20, 30, 45, 90}) {
    const double turn = paper_angle(frame, deg);
    const double c = std::cos(turn);
    const double s = std::sin(turn);
    // Judgement: labels of 12 units need 15 along the arc.
    if (deg > 0 && angle_size * (turn - last) < 22) continue;
    last = turn;
    if (deg == 0) continue;
    out += fmt::format("<path class=\"angle\" d=\"M{:.1f} {:.1f}L{:.1f} {:.1f}\"/>", left, ground,
                       left + angle_size * c, ground - angle_size * s);
    out += fmt::format("<text class=\"deg\" x=\"{:.1f}\" y=\"{:.1f}\">{}&#176;</text>",
                       left + (angle_size + 4) * c, ground - (angle_size + 4) * s + 4 * c, deg);
  }
  out += fmt::format("<text class=\"end\" x=\"{:g}\" y=\"{:g}\">{}</text>", left - 20, ground + 36,
                     short_name(from));
  out += fmt::format("<text class=\"end\" x=\"{:.1f}\" y=\"{:g}\" text-anchor=\"end\">{}</text>",
                     std::max(end + 20, 420.0), ground + 36, short_name(to));
  return out;
}

std::string frame_hour(const Frame& frame, Day day, int hour) {
  const UtcTime when = start_of(day) + std::chrono::hours(hour);
  std::array<double, steps> sun_deg{};
  for (std::size_t i = 0; i < steps; ++i) {
    sun_deg[i] = sun::elevation_deg(geodesy::destination(frame.from, frame.bearing_deg,
                                                         frame.km * (static_cast<double>(i) + 0.5) / steps),
                                    when);
  }
  const auto column = [&](double from, double to) {
    return fmt::format("M{:.0f} {:g}H{:.0f}V{:g}H{:.0f}Z", from, ground, to, ground - high, from);
  };
  const auto line = [&](double km) {
    return [&frame, km](double from, double to) {
      return fmt::format("M{:.0f} {:.0f}H{:.0f}", from, frame.y(km), to);
    };
  };
  std::string out;
  const auto add = [&](const char* kind, const std::string& d) {
    if (!d.empty()) out += fmt::format("<path class=\"{}\" d=\"{}\"/>", kind, d);
  };
  add("greyband", spans(sun_deg, frame, sun::twilight_low_deg, sun::twilight_high_deg, column));
  add("nightband", spans(sun_deg, frame, -91, sun::twilight_low_deg, column));
  // Judgement: lit is where the Sun is up on the ground; at the layer's height it rises some minutes before.
  add("lit", spans(sun_deg, frame, 0, 91, line(d_km)) + spans(sun_deg, frame, 0, 91, line(e_km)));
  if (const auto middle = middle_of_longest(sun_deg, frame)) {
    out += fmt::format(
        "<text class=\"layer\" x=\"{0:.0f}\" y=\"{1:.0f}\">{2}</text><text class=\"layer\" "
        "x=\"{0:.0f}\" y=\"{3:.0f}\">{4}</text>",
        *middle, frame.y(d_km) + 14, caption::d_layer, frame.y(e_km) - 5, caption::e_layer);
  }
  return out;
}

Frame frame_of_cell(Frame frame, const PictureCell& cell) {
  // The end of the way stands still, whichever of the region's people is meant.
  frame.along *= frame.km / cell.distance_km;
  frame.km = cell.distance_km;
  return frame;
}

namespace {

std::string rays(const Frame& frame, const PictureCell& cell) {
  std::string skip, mirror, ray, name, more;
  double y = 0;
  if (cell.open() && cell.ray().hops > 0) {
    const Frame own = frame_of_cell(frame, cell);
    const auto drawn = drawn_ray(cell);
    if (drawn.skip_km > 0.0)
      skip = fmt::format("M{:g} {:g}H{:.1f}", left, ground + deep / 2, own.x(*drawn.skip_km));
    y = own.y(drawn.mirror_km);
    mirror = fmt::format("M{:g} {:.1f}H{:.1f}", left, y, own.x(own.km));
    ray = frame_start;
    for (int i = 0; i < drawn.hops; ++i) ray += hop_path(own, drawn, own.km);
    name = filled_in(caption::hop_mirror,
                     {words::layer_text(cell.ray().layer), fmt::format("{:.0f}", drawn.mirror_km)});
  }
  return fmt::format(
      "<path class=\"skipzone\" d=\"{}\"/><path class=\"mirror\" d=\"{}\"/><path class=\"ray\" d=\"{}\"/><text "
      "class=\"layer mirrorname\" x=\"{:.0f}\" y=\"{:.0f}\">{}</text>",
      skip, mirror, ray, (left + frame.x(frame.km)) / 2, y - 7, name);
}

}  // namespace

std::string section_svg(const kit::Trip& trip, const advice::Picture& picture, const PageStart& at) {
  const auto& way = picture.ways[at.way];
  const auto& cell = way.cells[at.hour * trip.bands.size() + at.band];
  const bool long_way = cell.open() && cell.way == geodesy::Way::long_way;
  const auto frame = frame_of(way, long_way ? cell.distance_km : way.path.distance_km, long_way);
  const auto& from = nth(trip.sites, way.site).name;
  const auto& to = nth(trip.targets, way.target).region.name;
  std::string lobe;
  for (const auto& pattern : picture.patterns) {
    if (cell.by && pattern.setup == cell.by->setup.value() && pattern.band == static_cast<int>(at.band))
      lobe = lobe_path(frame, pattern);
  }
  return fmt::format(
      "<svg class=\"section\" viewBox=\"0 26 {:g} {:g}\" role=\"img\" aria-label=\"{}\">"
      "<path class=\"heaven\" d=\"M{:g} {:g}H{:.1f}v{:g}H{:g}Z\"/><g class=\"hours\">{}</g>"
      "<g class=\"base\">{}</g><path class=\"lobe\" d=\"{}\"/><g class=\"rays\">{}</g>"
      "<circle class=\"home\" cx=\"{:g}\" cy=\"{:g}\" r=\"5\"/></svg>",
      section_width, section_height, fmt::format(caption::section_label, markup(from), markup(to)), left,
      ground - high, frame.x(frame.km), high, left, frame_hour(frame, picture.day, static_cast<int>(at.hour)),
      frame_base(frame, from, to), lobe, rays(frame, cell), left, ground);
}

std::string cell_text(const kit::Trip& trip, const advice::PictureWay& way, const PictureCell& cell,
                      std::size_t hour, std::size_t band) {
  const auto& id = trip.bands[band].id;
  const auto& from = nth(trip.sites, way.site).name;
  const auto& to = nth(trip.targets, way.target).region.name;
  const int days = words::days_class(cell.days_both);
  std::vector<std::string> values{id, fmt::format("{:02}", hour), from, to, fmt::format("{}", days)};
  if (cell.no_setup) return filled_in(caption::hop_no_setup_short, values);
  if (!cell.open()) {
    values[4] = fmt::format("{:.1f}", way.muf_mhz[hour]);
    return filled_in(caption::hop_closed_short, values) +
           (trip.bands[band].mhz > way.muf_mhz[hour] ? caption::below_band : caption::too_weak);
  }
  if (cell.ray().hops <= 0) return filled_in(caption::hop_faint_short, values);
  const auto ray = drawn_ray(cell);
  values.push_back(ray.hops == 1 ? caption::hop_one
                                 : filled_in(caption::hop_many, {fmt::format("{}", ray.hops)}));
  values.push_back(words::layer_text(cell.ray().layer));
  values.push_back(cell.way == geodesy::Way::long_way ? caption::cell_long : "");
  values.push_back(fmt::format("{:.0f}", std::abs(ray.elevation_deg)));
  values.push_back(ray.equal_hops ? caption::drawn_hops : "");
  std::string out = filled_in(caption::hop_open, values);
  if (cell.es_days >= 0.5)
    out += filled_in(caption::hop_es, {fmt::format("{}", words::days_class(cell.es_days))});
  return out + (!ray.skip_km         ? std::string(caption::hop_end)
                : *ray.skip_km > 0.0 ? filled_in(caption::hop_skip, {fmt::format("{:.0f}", *ray.skip_km)})
                                     : std::string(caption::hop_no_skip));
}

}  // namespace skerry::page
