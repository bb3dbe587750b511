#include "skerry/geodesy/region.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "places.hpp"
#include "shape.hpp"
#include "skerry/core/text.hpp"
#include "vec.hpp"

namespace skerry::geodesy {

namespace {

/// Places inside the region, by falling population.
std::vector<const Place*> inside(const Shape& shape) {
  std::vector<const Place*> out;
  for (const Place& place : places()) {
    if (shape.contains(place.where)) out.push_back(&place);
  }
  return out;
}

/// The largest places that keep `apart_rad` from each other; the distance is halved until there are
/// enough.
std::vector<const Place*> spread_out(const std::vector<const Place*>& all, std::size_t count,
                                     double apart_rad) {
  if (all.size() <= count) return all;
  std::vector<const Place*> chosen;
  std::vector<bool> taken(all.size(), false);
  // Judgement: after eight halvings the places stand where they stand and the rule is dropped.
  constexpr int rounds = 8;
  for (int round = 0; round <= rounds && chosen.size() < count; ++round, apart_rad /= 2) {
    const double apart_cosine = round == rounds ? 2.0 : std::cos(apart_rad);
    for (std::size_t i = 0; i < all.size() && chosen.size() < count; ++i) {
      if (taken[i]) continue;
      const bool close = std::any_of(chosen.begin(), chosen.end(), [&](const Place* other) {
        return dot(other->vec, all[i]->vec) > apart_cosine;
      });
      if (close) continue;
      taken[i] = true;
      chosen.push_back(all[i]);
    }
  }
  return chosen;
}

}  // namespace

bool contains(const Region& region, GeoPoint where) {
  return Shape(region).contains(where);
}

std::vector<WeightedPoint> sample_people(const Region& region, int count) {
  assert(count >= 1 && count <= 200);
  const Shape shape(region);
  const std::vector<const Place*> all = inside(shape);
  if (all.empty()) return {{shape.middle(), 1.0, region.name}};
  // Judgement: 0.6 of the side of each point's fair share of the area keeps neighbouring towns together
  // and still lets the crowded parts of a region take more points than the empty ones.
  const double apart_rad = 0.6 * std::sqrt(shape.area_km2() / count) / mean_radius_km;
  const auto chosen = spread_out(all, static_cast<std::size_t>(count), std::min(apart_rad, 1.0));
  std::vector<WeightedPoint> out(chosen.size());
  std::vector<double> largest(chosen.size(), 0.0);
  double people = 0;
  for (const Place* place : all) {
    std::size_t nearest = 0;
    double best = -2;
    for (std::size_t i = 0; i < chosen.size(); ++i) {
      const double closeness = dot(chosen[i]->vec, place->vec);
      if (closeness > best) {
        best = closeness;
        nearest = i;
      }
    }
    WeightedPoint& point = out[nearest];
    point.weight += place->gathered;
    people += place->gathered;
    if (place->people > largest[nearest]) {
      largest[nearest] = place->people;
      point.name = place->name;
    }
  }
  for (std::size_t i = 0; i < out.size(); ++i) {
    out[i].where = chosen[i]->where;
    out[i].weight /= people;
  }
  std::stable_sort(out.begin(), out.end(),
                   [](const WeightedPoint& a, const WeightedPoint& b) { return a.weight > b.weight; });
  return out;
}

}  // namespace skerry::geodesy
