// The chart round the site.

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "html_text.hpp"
#include "skerry/core/decimal.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/units.hpp"
#include "skerry/sun/greyline.hpp"
#include "svg.hpp"

namespace skerry::page {

namespace {

// Sizes in units of the picture. Judgement: on a phone 328 pixels wide a unit is 0.3 pixels.
constexpr double rim = 490, marker = 23, label_size = 30;
constexpr double half_round_km = std::numbers::pi * earth_radius_km;
/// Longest step on paper before a line is divided, and how often at most.
constexpr double longest_step = 12;
constexpr int deepest = 9;

struct Vec {
  double x = 0, y = 0, z = 0;
};
Vec vec_of(double lat_deg, double lon_deg) {
  return {cos_deg(lat_deg) * cos_deg(lon_deg), cos_deg(lat_deg) * sin_deg(lon_deg), sin_deg(lat_deg)};
}

class Paper {
 public:
  explicit Paper(GeoPoint centre) : centre_(centre) {}

  [[nodiscard]] ChartPoint at(double lat_deg, double lon_deg) const {
    const auto p = on_chart(centre_, {lat_deg, lon_deg});
    return {p.x * rim, p.y * rim};
  }

  /// A line straight in latitude and longitude, divided until it is smooth on paper; `from` is already drawn.
  void line(std::string& out, GeoPoint from, GeoPoint to, int depth = 0) const {
    const auto a = at(from.lat_deg, from.lon_deg);
    const auto b = at(to.lat_deg, to.lon_deg);
    if (std::hypot(a.x - b.x, a.y - b.y) > longest_step) {
      if (depth < deepest) {
        double turn = to.lon_deg - from.lon_deg;
        if (std::abs(turn) > 180) turn -= std::copysign(360, turn);
        const GeoPoint middle{(from.lat_deg + to.lat_deg) / 2, from.lon_deg + turn / 2};
        line(out, from, middle, depth + 1);
        line(out, middle, to, depth + 1);
        return;
      }
      round_the_rim(out, a, b);
    }
    step(out, 'L', b);
  }

  void step(std::string& out, char letter, ChartPoint p) const {
    out += letter;
    append_fixed(out, p.x, 1);
    out += ' ';
    append_fixed(out, p.y, 1);
  }

  /// A closed ring as one sub-path; nothing when empty.
  void ring(std::string& out, const std::vector<GeoPoint>& points) const {
    if (points.size() < 3) return;
    step(out, 'M', at(points.front().lat_deg, points.front().lon_deg));
    for (std::size_t i = 1; i < points.size(); ++i) line(out, points[i - 1], points[i]);
    line(out, points.back(), points.front());
    out += 'Z';
  }

  /// The whole disc, to be struck out of an even-odd path: what holds the antipode fills the outside of its
  /// outline.
  static std::string disc() {
    return fmt::format("M{0:g} 0A{0:g} {0:g} 0 1 0 -{0:g} 0A{0:g} {0:g} 0 1 0 {0:g} 0Z", rim);
  }

 private:
  /// Past the antipode the picture tears: follow the rim the short way between the two sides of the tear.
  void round_the_rim(std::string& out, ChartPoint a, ChartPoint b) const {
    const double from = std::atan2(a.y, a.x);
    double turn = std::atan2(b.y, b.x) - from;
    if (std::abs(turn) > std::numbers::pi) turn -= std::copysign(2 * std::numbers::pi, turn);
    for (int i = 0; i <= 24; ++i) {
      const double angle = from + turn * i / 24;
      step(out, 'L', {rim * std::cos(angle), rim * std::sin(angle)});
    }
  }
  GeoPoint centre_;
};

bool seam(GeoPoint a, GeoPoint b) {
  const auto on_seam = [](GeoPoint p) { return std::abs(p.lon_deg) >= 180 || p.lat_deg <= -90; };
  return on_seam(a) && on_seam(b);
}

std::string coast_fill(const Paper& paper, const advice::Picture& picture, bool antipode_on_land) {
  std::string out;
  for (const auto& ring : picture.coast) paper.ring(out, ring);
  if (antipode_on_land) out += Paper::disc();
  return out;
}

std::string coast_line(const Paper& paper, const advice::Picture& picture) {
  std::string out;
  for (const auto& ring : picture.coast) {
    bool drawing = false;
    for (std::size_t i = 1; i < ring.size(); ++i) {
      if (seam(ring[i - 1], ring[i])) {
        drawing = false;
        continue;
      }
      if (!drawing) paper.step(out, 'M', paper.at(ring[i - 1].lat_deg, ring[i - 1].lon_deg));
      drawing = true;
      paper.line(out, ring[i - 1], ring[i]);
    }
  }
  return out;
}

std::string rings_and_bearings() {
  std::string out;
  for (const int km : {2500, 5000, 7500, 10000, 12500, 15000, 17500}) {
    const double r = rim * km / half_round_km;
    out += fmt::format("<circle class=\"ring{}\" r=\"{:.1f}\"/>", km % 5000 == 0 ? "" : " fine", r);
  }
  for (int deg = 0; deg < 360; deg += 30) {
    const double x = sin_deg(deg);
    const double y = -cos_deg(deg);
    out += fmt::format("<path class=\"ring fine\" d=\"M{:.1f} {:.1f}L{:.1f} {:.1f}\"/>", plus_zero(30 * x, 1),
                       plus_zero(30 * y, 1), plus_zero(rim * x, 1), plus_zero(rim * y, 1));
    out += fmt::format("<text class=\"bearing\" x=\"{:.1f}\" y=\"{:.1f}\">{}</text>", (rim + 26) * x,
                       (rim + 26) * y + 8,
                       deg == 0     ? "N"
                       : deg == 90  ? "E"
                       : deg == 180 ? "S"
                       : deg == 270 ? "W"
                                    : fmt::format("{}", deg));
  }
  return out;
}

std::string ring_labels() {
  std::string out;
  for (const int km : {5000, 10000, 15000}) {
    out += fmt::format("<text class=\"km\" x=\"6\" y=\"{:.1f}\">{} km</text>", -rim * km / half_round_km - 5,
                       km);
  }
  return out;
}

struct Spot {
  ChartPoint place, label;
};

/// Each label beside its place, where it covers no earlier one.
std::vector<Spot> spots_of(const Paper& paper, const std::vector<const advice::PictureWay*>& ways) {
  std::vector<Spot> out;
  for (const auto* way : ways) {
    const auto place = paper.at(way->path.to.lat_deg, way->path.to.lon_deg);
    Spot spot{place, place};
    const auto free = [&](ChartPoint p) {
      return std::hypot(p.x, p.y) < rim - marker && std::hypot(p.x, p.y) > 2 * marker &&
             std::none_of(out.begin(), out.end(), [&](const Spot& s) {
               return std::hypot(s.label.x - p.x, s.label.y - p.y) < 3.1 * marker;
             });
    };
    bool found = free(place);
    for (int shell = 1; shell <= 5 && !found; ++shell) {
      for (int turn = 0; turn < 12 && !found; ++turn) {
        const ChartPoint p{place.x + shell * 1.5 * marker * cos_deg(30 * turn),
                           place.y + shell * 1.5 * marker * sin_deg(30 * turn)};
        if (free(p)) {
          spot.label = p;
          found = true;
        }
      }
    }
    out.push_back(spot);
  }
  return out;
}

/// The regions' names beside their marks where they cover neither marks nor each other; the others go by number.
std::string names_of_spots(const kit::Trip& trip, const std::vector<const advice::PictureWay*>& ways,
                           const std::vector<Spot>& spots) {
  // Judgement: size on a wide screen, and mean width, of a letter.
  constexpr double size = 26, wide = 0.55 * size;
  constexpr std::size_t room = 24;
  struct Box {
    double left, top, right, bottom;
  };
  std::vector<Box> taken;
  for (const auto& s : spots)
    taken.push_back({s.label.x - marker, s.label.y - marker, s.label.x + marker, s.label.y + marker});
  taken.push_back({-16, -16, 16, 16});
  std::string out;
  for (std::size_t i = 0; i < ways.size(); ++i) {
    const auto name = plain(nth(trip.targets, ways[i]->target).region.name);
    if (name.size() > room) continue;
    const double long_way = wide * static_cast<double>(name.size());
    const auto& at = spots[i].label;
    // Right, left, below, above.
    const std::array<Box, 4> places{
        {{at.x + marker + 6, at.y - size / 2, at.x + marker + 6 + long_way, at.y + size / 2},
         {at.x - marker - 6 - long_way, at.y - size / 2, at.x - marker - 6, at.y + size / 2},
         {at.x - long_way / 2, at.y + marker, at.x + long_way / 2, at.y + marker + size},
         {at.x - long_way / 2, at.y - marker - size, at.x + long_way / 2, at.y - marker}}};
    for (const auto& box : places) {
      const bool inside = std::hypot(std::max(std::abs(box.left), std::abs(box.right)),
                                     std::max(std::abs(box.top), std::abs(box.bottom))) < rim;
      const bool free = std::none_of(taken.begin(), taken.end(), [&](const Box& b) {
        return b.left < box.right && box.left < b.right && b.top < box.bottom && box.top < b.bottom;
      });
      if (!inside || !free) continue;
      taken.push_back(box);
      out += fmt::format("<text class=\"placename\" data-target=\"{}\" x=\"{:.0f}\" y=\"{:.0f}\">{}</text>",
                         ways[i]->target, box.left, box.bottom - size * 0.22, markup(name));
      break;
    }
  }
  return out;
}

}  // namespace

ChartPoint on_chart(GeoPoint centre, GeoPoint where) {
  const Vec p = vec_of(where.lat_deg, where.lon_deg - centre.lon_deg);
  const double sin_lat = sin_deg(centre.lat_deg);
  const double cos_lat = cos_deg(centre.lat_deg);
  const double east = p.y;
  const double north = cos_lat * p.z - sin_lat * p.x;
  const double up = sin_lat * p.z + cos_lat * p.x;
  const double across = std::hypot(east, north);
  const double share = std::atan2(across, up) / std::numbers::pi;
  // The antipode is the whole rim; its southern point stands for it.
  if (across < 1e-12) return up > 0 ? ChartPoint{} : ChartPoint{0, 1};
  return {share * east / across, -share * north / across};
}

namespace {

/// Everything inside the rim on the dark side of an edge at that height of the Sun.
std::string darker_than(const kit::Trip& trip, const advice::Picture& picture, std::size_t map,
                        std::size_t hour, const std::vector<GeoPoint>& edge, double sun_deg) {
  const auto centre = nth(trip.sites, picture.maps[map].site).at;
  const Paper paper(centre);
  std::string out;
  paper.ring(out, edge);
  // What holds the antipode fills the outside of its outline; there the Sun stands as far below as here above.
  const Vec a = vec_of(centre.lat_deg, centre.lon_deg);
  const Vec s = vec_of(picture.nights[hour].subsolar.lat_deg, picture.nights[hour].subsolar.lon_deg);
  if (-(a.x * s.x + a.y * s.y + a.z * s.z) < sin_deg(sun_deg)) out += Paper::disc();
  return out;
}

}  // namespace

std::string night_path(const kit::Trip& trip, const advice::Picture& picture, std::size_t map,
                       std::size_t hour) {
  return short_path(darker_than(trip, picture, map, hour, picture.nights[hour].edge, 0));
}

std::string dark_path(const kit::Trip& trip, const advice::Picture& picture, std::size_t map,
                      std::size_t hour) {
  // Judgement: points of an edge, as of the night's own.
  constexpr int points = 90;
  const UtcTime when = start_of(picture.day) + std::chrono::hours(hour);
  return short_path(darker_than(trip, picture, map, hour,
                                sun::terminator(when, -sun::twilight_low_deg, points),
                                sun::twilight_low_deg));
}

std::string bounce_path(GeoPoint from, GeoPoint to, bool long_way, int hops) {
  const auto end = on_chart(from, to);
  const double far = std::max(1e-9, std::hypot(end.x, end.y));
  std::string out;
  for (int i = 0; i < hops; ++i) {
    // On the long way round beyond the antipode: from the rim opposite inwards.
    const double along = (i + 0.5) / hops * (long_way ? 2 - far : far);
    const double r = !long_way ? along : along <= 1 ? -along : 2 - along;
    out += fmt::format("M{:.1f} {:.1f}h0", plus_zero(rim * r * end.x / far, 1),
                       plus_zero(rim * r * end.y / far, 1));
  }
  return out;
}

std::string chart_svg(const kit::Trip& trip, const advice::Picture& picture, std::size_t map,
                      std::size_t hour) {
  const auto& sheet = picture.maps[map];
  const auto& site = nth(trip.sites, sheet.site);
  const Paper paper(site.at);
  std::vector<const advice::PictureWay*> ways;
  for (const auto& way : picture.ways) {
    if (way.site == sheet.site) ways.push_back(&way);
  }
  std::string out = fmt::format(
      "<svg class=\"chart\" data-map=\"{}\" viewBox=\"-540 -540 1080 1080\" role=\"img\" aria-label=\"{}\">",
      map, fmt::format(caption::chart, markup(site.name)));
  out += fmt::format("<circle class=\"sea\" r=\"{:g}\"/>", rim);
  out +=
      "<path class=\"land\" d=\"" + short_path(coast_fill(paper, picture, sheet.antipode_on_land)) + "\"/>";
  out += "<path class=\"night\" d=\"" + night_path(trip, picture, map, hour) + "\"/>";
  out += "<path class=\"deepnight\" d=\"" + dark_path(trip, picture, map, hour) + "\"/>";
  out += rings_and_bearings();
  out += "<path class=\"coast\" d=\"" + short_path(coast_line(paper, picture)) + "\"/>";
  out += fmt::format("<circle class=\"rim\" r=\"{:g}\"/>", rim);
  for (const auto* way : ways) {
    std::string outline;
    const auto& region = nth(trip.targets, way->target).region;
    for (const auto& ring : region.rings) paper.ring(outline, ring);
    for (const auto& hole : region.holes) paper.ring(outline, hole.ring);
    // Bearing of the sphere, so that the line ends where the place is drawn.
    const auto end = paper.at(way->path.to.lat_deg, way->path.to.lon_deg);
    const double far = std::max(1e-9, std::hypot(end.x, end.y));
    const double x = end.x / far;
    const double y = end.y / far;
    out += fmt::format("<g class=\"way\" data-target=\"{}\"><path class=\"region\" d=\"{}\"/>", way->target,
                       short_path(outline));
    out += fmt::format("<path class=\"short\" d=\"M0 0L{:.1f} {:.1f}\"/>", end.x, end.y);
    out += fmt::format("<path class=\"long\" d=\"M0 0L{:.1f} {:.1f}M{:.1f} {:.1f}L{:.1f} {:.1f}\"/>",
                       -rim * x, -rim * y, rim * x, rim * y, end.x, end.y);
    out += "<title>" +
           fmt::format(caption::way_title, markup(nth(trip.targets, way->target).region.name),
                       way->path.bearing_deg, way->path.distance_km) +
           "</title></g>";
  }
  out += "<path class=\"bounce\" d=\"\"/>";
  const auto spots = spots_of(paper, ways);
  // Leads lie under all marks, so that none crosses a number.
  for (const auto& s : spots) {
    if (s.label.x == s.place.x && s.label.y == s.place.y) continue;
    out += fmt::format(
        "<path class=\"lead\" d=\"M{0:.1f} {1:.1f}L{2:.1f} {3:.1f}\"/><circle class=\"place\" cx=\"{0:.1f}\" "
        "cy=\"{1:.1f}\" r=\"5\"/>",
        s.place.x, s.place.y, s.label.x, s.label.y);
  }
  for (std::size_t i = 0; i < ways.size(); ++i) {
    const auto& s = spots[i];
    out += fmt::format(
        "<g class=\"spot\" data-target=\"{}\"><circle class=\"mark\" cx=\"{:.1f}\" cy=\"{:.1f}\" "
        "r=\"{:g}\"/><text class=\"number\" x=\"{:.1f}\" y=\"{:.1f}\">{}</text></g>",
        ways[i]->target, s.label.x, s.label.y, marker, s.label.x, s.label.y + label_size * 0.36,
        ways[i]->target + 1);
  }
  out += ring_labels();
  out += names_of_spots(trip, ways, spots);
  out += "<circle class=\"home\" r=\"11\"/><circle class=\"home-dot\" r=\"3.5\"/></svg>";
  return out;
}

}  // namespace skerry::page
