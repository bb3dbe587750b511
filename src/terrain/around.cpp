#include "skerry/terrain/around.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>

#include "skerry/core/parallel.hpp"
#include "skerry/core/units.hpp"
#include "skerry/geodesy/path.hpp"

namespace skerry::terrain {

namespace {

/// Judgement: a great circle is straight on the grid from one knot to the next: 0.5 m off at 80 degrees of latitude
/// (geometry).
constexpr double knot_m = 2000;
/// Judgement: over which the slope is taken, every so far: finer than any file.
constexpr double slope_step_m = 10;

/// One direction on the grid.
class Ray {
 public:
  Ray(const Terrain& terrain, GeoPoint at, double azimuth_deg, double reach_m,
      std::vector<Terrain::Cell>& knots)
      : terrain_(terrain), knots_(knots), reach_m_(reach_m) {
    knots_.clear();
    for (double d = 0; d < reach_m + knot_m; d += knot_m)
      knots_.push_back(terrain.cell_of(geodesy::destination(at, azimuth_deg, d / 1000)));
    unwrap();
  }
  [[nodiscard]] std::size_t pieces() const { return knots_.size() - 1; }
  [[nodiscard]] static double start_m(std::size_t piece) { return knot_m * static_cast<double>(piece); }
  [[nodiscard]] double end_m(std::size_t piece) const { return std::min(start_m(piece + 1), reach_m_); }
  [[nodiscard]] double highest_m(std::size_t piece) const {
    return terrain_.highest_m(knots_[piece], knots_[piece + 1]);
  }
  [[nodiscard]] double height_m(std::size_t piece, double distance_m) const {
    const double share = distance_m / knot_m - static_cast<double>(piece);
    const auto &a = knots_[piece], &b = knots_[piece + 1];
    return terrain_.height_m(
        Terrain::Cell{a.column + share * (b.column - a.column), a.row + share * (b.row - a.row)});
  }

 private:
  /// Near a pole a step may turn more than half round.
  void unwrap() {
    for (std::size_t i = 1; i < knots_.size(); ++i) {
      const double turn = terrain_.columns_per_turn();
      knots_[i].column -= turn * std::round((knots_[i].column - knots_[i - 1].column) / turn);
    }
  }

  const Terrain& terrain_;
  std::vector<Terrain::Cell>& knots_;
  double reach_m_;
};

/// From one height to the next: near by, where angles change with every metre, by shares of the distance; then half a
/// cell; far away, where half a cell is a small angle, by shares again. Judgement: the shares; measured, they keep what around()
/// promises.
double step_m(double distance_m, double cell_m) {
  return std::max(std::min(0.5 * cell_m, distance_m / 200), distance_m / 2000);
}

geodesy::Skyline skyline_of(const Ray& ray, double eye_m, double reach_m, double cell_m) {
  const double per_m = 1 / (2 * effective_earth * 1000 * earth_radius_km);
  constexpr double nearest_m = 1000 * geodesy::nearest_skyline_km;
  double best = -1e9, best_m = reach_m;
  std::size_t best_piece = 0;
  const auto look = [&](std::size_t piece, double d) {
    const double slope = (ray.height_m(piece, d) - eye_m) / d - d * per_m;
    if (slope <= best) return;
    best = slope;
    best_m = d;
    best_piece = piece;
  };
  for (std::size_t piece = 0; piece < ray.pieces(); ++piece) {
    const double start = std::max(nearest_m, Ray::start_m(piece)), end = ray.end_m(piece);
    if (start > end) continue;
    // As steep as its highest cell could stand at the better end.
    const double above = ray.highest_m(piece) - eye_m;
    if (above / (above > 0 ? start : end) - start * per_m <= best) continue;
    for (double d = start; d <= end; d += step_m(d, cell_m)) look(piece, d);
  }
  // The edge itself lies within a step of the best one. Judgement: looked for in so many parts of it.
  constexpr int parts = 16;
  const double step = step_m(best_m, cell_m), middle = best_m;
  for (int i = -parts; i <= parts; ++i) {
    const double d = middle + step * i / parts;
    const bool on = d >= std::max(nearest_m, Ray::start_m(best_piece)) && d <= ray.end_m(best_piece);
    if (on) look(best_piece, d);
  }
  return {std::clamp(std::atan(best) * deg_per_rad, -5.0, 85.0), best_m / 1000};
}

double fall_of(const Ray& ray, double ground_m) {
  double along = 0, squares = 0;
  for (double d = slope_step_m; d <= 1000 * geodesy::nearest_skyline_km; d += slope_step_m) {
    along += d * (ray.height_m(0, d) - ground_m);
    squares += d * d;
  }
  return std::clamp(-std::atan(along / squares) * deg_per_rad, -30.0, 30.0);
}

std::optional<Shore> shore_of(const Ray& ray, double reach_m, double cell_m) {
  std::optional<double> from;
  double d = 0;
  for (std::size_t piece = 0; piece < ray.pieces(); ++piece) {
    const double end = ray.end_m(piece);
    if (!from && d > 1000 * furthest_shore_km) return std::nullopt;
    if (ray.highest_m(piece) < lowest_land_m) {
      if (!from) from = d;
      d = end;
      continue;
    }
    for (; d < end; d += (d < knot_m ? 0.5 : 1.0) * cell_m) {
      if (ray.height_m(piece, d) < lowest_land_m) {
        if (!from) from = d;
      } else if (from) {
        if (d - *from >= 1000 * open_sea_km) return Shore{std::max(1.0, *from), (d - *from) / 1000};
        from.reset();
      }
    }
    d = std::max(d, end);
  }
  if (!from || *from > 1000 * furthest_shore_km || reach_m - *from < 1000 * open_sea_km) return std::nullopt;
  return Shore{std::max(1.0, *from), (reach_m - *from) / 1000};
}

}  // namespace

double Around::azimuth_deg(std::size_t i) const {
  return 360.0 * static_cast<double>(i) / static_cast<double>(skyline.size());
}

geodesy::Horizon Around::horizon() const {
  geodesy::Horizon out;
  for (std::size_t i = 0; i < skyline.size(); ++i) out.points.push_back({azimuth_deg(i), skyline[i]});
  return out;
}

Around around(const Terrain& terrain, GeoPoint at, const View& view) {
  assert(view.azimuths >= 4 && view.azimuths <= 3600 && view.reach_km > 0 && view.reach_km <= 200);
  Around out;
  out.ground_m = terrain.height_m(at);
  out.known = terrain.knows(at);
  const auto count = static_cast<std::size_t>(view.azimuths);
  out.skyline.resize(count);
  out.fall_deg.resize(count);
  out.shore.resize(count);
  const double reach_m = 1000 * view.reach_km, cell_m = terrain.cell_m();
  // Judgement: a sixteenth of the circle is work enough to be handed out.
  parallel_for(count, std::max<std::size_t>(1, count / 16), [&](std::size_t begin, std::size_t end) {
    std::vector<Terrain::Cell> knots;
    for (std::size_t i = begin; i < end; ++i) {
      const Ray ray(terrain, at, out.azimuth_deg(i), reach_m, knots);
      out.skyline[i] = skyline_of(ray, out.ground_m + view.eye_m, reach_m, cell_m);
      out.fall_deg[i] = fall_of(ray, out.ground_m);
      out.shore[i] = shore_of(ray, reach_m, cell_m);
    }
  });
  return out;
}

}  // namespace skerry::terrain
