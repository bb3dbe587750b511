#include "skerry/geodesy/towns.hpp"

#include "places.hpp"
#include "skerry/geodesy/path.hpp"

namespace skerry::geodesy {

std::optional<Town> nearest_town(GeoPoint where, double most_km) {
  const auto all = places();
  const Vec here = unit_vector(where);
  const Place* nearest = nullptr;
  double most_cosine = -2;
  for (const auto& place : all) {
    const double cosine = dot(place.vec, here);
    if (cosine <= most_cosine) continue;
    most_cosine = cosine;
    nearest = &place;
  }
  if (nearest == nullptr) return std::nullopt;
  const auto path = make_path(nearest->where, where, Way::short_way);
  if (path.distance_km > most_km) return std::nullopt;
  return Town{std::string(nearest->name), nearest->where, path.distance_km, path.bearing_deg};
}

}  // namespace skerry::geodesy
