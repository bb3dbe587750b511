#include "skerry/sun/greyline.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "skerry/core/units.hpp"
#include "skerry/sun/position.hpp"
#include "track.hpp"

namespace skerry::sun {

namespace {

using std::chrono::seconds;

// Judgement: "along" asks the whole path to stand near the terminator, a little wider than the band of the
// ends.
constexpr double along_low_deg = -12.0;
constexpr double along_high_deg = 3.0;
constexpr double along_step_km = 500.0;

enum class Light { dark, band, day };

Light light(double elevation_deg) {
  if (elevation_deg < twilight_low_deg) return Light::dark;
  return elevation_deg > twilight_high_deg ? Light::day : Light::band;
}

bool climbing(const Track& track, const Vector& place, double s) {
  return track.elevation_deg(place, s + 30.0) > track.elevation_deg(place, s - 30.0);
}

/// Whole seconds after the track's start at which the place enters or leaves the band.
void add_edges(const Track& track, const Vector& place, std::vector<double>& edges) {
  const auto samples = sample_elevations(track, place);
  for (const double level : {twilight_low_deg, twilight_high_deg}) {
    for (const Root& root : roots(track, place, level, samples)) {
      edges.push_back(std::min(std::ceil(root.s), track.length_s()));
    }
  }
}

std::vector<double> sorted_edges(std::vector<double> edges, double length_s) {
  edges.push_back(0.0);
  edges.push_back(length_s);
  std::sort(edges.begin(), edges.end());
  edges.erase(std::unique(edges.begin(), edges.end()), edges.end());
  return edges;
}

UtcTime at(const Track& track, double s) {
  return track.from() + seconds(std::lround(s));
}

/// Number of steps of at most step_km that make up the path, at least one.
int steps_of(const geodesy::Path& path, double step_km) {
  return std::max(1, static_cast<int>(std::ceil(path.distance_km / step_km)));
}

std::vector<Vector> points_along(const geodesy::Path& path, double step_km) {
  const int steps = steps_of(path, step_km);
  std::vector<Vector> out;
  out.reserve(static_cast<std::size_t>(steps) + 1);
  for (int i = 0; i <= steps; ++i) {
    const GeoPoint p = geodesy::point_at(path, static_cast<double>(i) / steps);
    out.push_back(unit_vector(p.lat_deg, p.lon_deg));
  }
  return out;
}

bool all_near_terminator(const Track& track, const std::vector<Vector>& points, double s) {
  static const double low = sin_deg(along_low_deg);
  static const double high = sin_deg(along_high_deg);
  const Vector sun = track.direction(s);
  return std::all_of(points.begin(), points.end(), [&](const Vector& p) {
    const double x = p[0] * sun[0] + p[1] * sun[1] + p[2] * sun[2];
    return x >= low && x <= high;
  });
}

/// Angle 0..90 between a bearing and the terminator, which stands at right angles to the Sun's azimuth.
double to_terminator_deg(GeoPoint where, double bearing_deg, UtcTime when) {
  const double turn = std::fmod(wrap_360(bearing_deg - azimuth_deg(where, when) - 90.0), 180.0);
  return std::min(turn, 180.0 - turn);
}

/// Pieces [start, end) of a span in which the test's answer stays the same, sampled each minute.
struct Piece {
  double start, end;
  bool yes;
};
template <class Test>
std::vector<Piece> pieces(double start, double end, const Test& test) {
  constexpr double minute_s = 60.0;
  std::vector<Piece> out;
  for (double s = start; s < end; s += minute_s) {
    const double stop = std::min(s + minute_s, end);
    const bool yes = test(0.5 * (s + stop));
    if (!out.empty() && out.back().yes == yes) {
      out.back().end = stop;
    } else {
      out.push_back({s, stop, yes});
    }
  }
  return out;
}

}  // namespace

std::vector<TwilightWindow> twilight_windows(GeoPoint where, UtcTime from, UtcTime to) {
  std::vector<TwilightWindow> out;
  if (to <= from) return out;
  const Track track(from, to);
  const Vector place = unit_vector(where.lat_deg, where.lon_deg);
  std::vector<double> edges;
  add_edges(track, place, edges);
  edges = sorted_edges(std::move(edges), track.length_s());

  const auto middles = roots(track, place, 0.5 * (twilight_low_deg + twilight_high_deg));
  for (std::size_t i = 0; i + 1 < edges.size(); ++i) {
    const double start = edges[i];
    const double end = edges[i + 1];
    if (light(track.elevation_deg(place, 0.5 * (start + end))) != Light::band) continue;
    const auto middle = std::find_if(middles.begin(), middles.end(),
                                     [&](const Root& root) { return root.s >= start && root.s <= end; });
    const bool rising = middle != middles.end() ? middle->rising : climbing(track, place, start);
    // A Sun that only touches an edge leaves the band for less than a second: one window.
    if (!out.empty() && out.back().end == at(track, start)) {
      out.back().end = at(track, end);
    } else {
      out.push_back({at(track, start), at(track, end), rising});
    }
  }
  return out;
}

std::vector<GreyWindow> grey_windows(const geodesy::Path& path, UtcTime from, UtcTime to) {
  std::vector<GreyWindow> out;
  if (to <= from) return out;
  const Track track(from, to);
  const Vector here = unit_vector(path.from.lat_deg, path.from.lon_deg);
  const Vector there = unit_vector(path.to.lat_deg, path.to.lon_deg);
  std::vector<double> edges;
  add_edges(track, here, edges);
  add_edges(track, there, edges);
  edges = sorted_edges(std::move(edges), track.length_s());
  const std::vector<Vector> points = points_along(path, along_step_km);

  const auto add = [&](double start, double end, GreyKind kind, bool from_in, bool to_in) {
    if (!out.empty() && out.back().end == at(track, start) && out.back().kind == kind &&
        out.back().from_in_band == from_in && out.back().to_in_band == to_in) {
      out.back().end = at(track, end);
    } else {
      GreyWindow window;
      window.start = at(track, start);
      window.end = at(track, end);
      window.kind = kind;
      window.from_in_band = from_in;
      window.to_in_band = to_in;
      out.push_back(window);
    }
  };
  for (std::size_t i = 0; i + 1 < edges.size(); ++i) {
    const double start = edges[i];
    const double end = edges[i + 1];
    const double middle = 0.5 * (start + end);
    const Light a = light(track.elevation_deg(here, middle));
    const Light b = light(track.elevation_deg(there, middle));
    if (a == Light::band && b == Light::band) {
      const auto test = [&](double s) { return all_near_terminator(track, points, s); };
      for (const Piece& piece : pieces(start, end, test)) {
        add(piece.start, piece.end, piece.yes ? GreyKind::along : GreyKind::double_end, true, true);
      }
    } else if ((a == Light::band && b == Light::dark) || (a == Light::dark && b == Light::band)) {
      add(start, end, GreyKind::single_end, a == Light::band, b == Light::band);
    }
  }

  for (GreyWindow& window : out) {
    const UtcTime middle = window.start + (window.end - window.start) / 2;
    const double s = static_cast<double>((middle - from).count());
    window.rising_from = window.from_in_band && climbing(track, here, s);
    window.rising_to = window.to_in_band && climbing(track, there, s);
    double sum = 0;
    if (window.from_in_band) sum += to_terminator_deg(path.from, path.bearing_deg, middle);
    if (window.to_in_band) sum += to_terminator_deg(path.to, path.return_bearing_deg, middle);
    window.path_to_terminator_deg = sum / (window.from_in_band && window.to_in_band ? 2.0 : 1.0);
  }
  return out;
}

std::vector<GeoPoint> terminator(UtcTime when, double depression_deg, int count) {
  assert(count >= 0 && std::abs(depression_deg) <= 90.0);
  const Position sun = position(when);
  const double sin_dec = sin_deg(sun.declination_deg);
  const double cos_dec = cos_deg(sun.declination_deg);
  const double rho_deg = 90.0 + depression_deg;
  std::vector<GeoPoint> out;
  out.reserve(static_cast<std::size_t>(count));
  for (int i = 0; i < count; ++i) {
    // Source: direct problem on the sphere; psi is the bearing at the subsolar point.
    const double psi_deg = 360.0 * i / count;
    const double sin_lat =
        std::clamp(sin_dec * cos_deg(rho_deg) + cos_dec * sin_deg(rho_deg) * cos_deg(psi_deg), -1.0, 1.0);
    const double lon_deg =
        sun.subsolar.lon_deg + deg_per_rad * std::atan2(sin_deg(psi_deg) * sin_deg(rho_deg) * cos_dec,
                                                        cos_deg(rho_deg) - sin_dec * sin_lat);
    out.push_back(GeoPoint{asin_deg(sin_lat), wrap_180(lon_deg)});
  }
  return out;
}

}  // namespace skerry::sun
