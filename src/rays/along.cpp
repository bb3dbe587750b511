// The layers of the maps along a way.

#include "skerry/rays/slice.hpp"

namespace skerry::rays {

/// Judgement: distance from one place of the sky to the next; the maps change by a few per cent in it.
constexpr double place_step_km = 100;

Along along(const geodesy::Path& path, const ionosphere::Climate& climate, double beyond_km) {
  Along out;
  out.r12 = climate.r12;
  out.step_km = place_step_km;
  std::vector<GeoPoint> places;
  const double all_km = path.distance_km + beyond_km;
  for (int i = 0; i == 0 || (i - 1) * place_step_km < all_km; ++i) {
    const double km = i * place_step_km;
    places.push_back(
        km <= path.distance_km && path.distance_km > 0
            ? geodesy::point_at(path, km / path.distance_km)
            : geodesy::destination(path.to, path.return_bearing_deg + 180, km - path.distance_km));
  }
  out.sky = ionosphere::sky(places, climate);
  return out;
}

Slice slice(const Along& along, int hour) {
  std::vector<Layers> at;
  at.reserve(static_cast<std::size_t>(along.sky.size()));
  for (Eigen::Index i = 0; i < along.sky.size(); ++i)
    at.push_back(layers(along.sky.fof2_mhz(i, hour), along.sky.foe_mhz(i, hour), along.sky.m3000f2(i, hour),
                        along.r12));
  return {std::move(at), along.step_km};
}

}  // namespace skerry::rays
