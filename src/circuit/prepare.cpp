// Everything about a path that no frequency changes: P.533 sections 2 to 4 and the hourly parts of 5.

#include <algorithm>
#include <memory>
#include <tuple>
#include <unordered_map>

#include "data.hpp"
#include "skerry/core/kept.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/parallel.hpp"
#include "skerry/ionosphere/field.hpp"

namespace skerry::circuit {

namespace {

using geodesy::point_at;

/// Collects the places whose sky is wanted; the same place asked twice in a row is kept once.
class Places {
 public:
  explicit Places(std::size_t first_row) : first_row_(first_row) {}
  std::int32_t add(GeoPoint where) {
    const auto known = rows_.find(key(where));
    if (known != rows_.end() && nth(places_, known->second) == where) {
      return known->second + static_cast<std::int32_t>(first_row_);
    }
    const auto row = static_cast<std::int32_t>(places_.size());
    places_.push_back(where);
    rows_.emplace(key(where), row);
    return row + static_cast<std::int32_t>(first_row_);
  }
  [[nodiscard]] const std::vector<GeoPoint>& all() const { return places_; }

 private:
  static std::size_t key(GeoPoint p) {
    return std::hash<double>{}(p.lat_deg) ^ (std::hash<double>{}(p.lon_deg) * 1000003U);
  }
  std::size_t first_row_;
  std::vector<GeoPoint> places_;
  std::unordered_map<std::size_t, std::int32_t> rows_;
};

void append(ionosphere::Sky& sky, ionosphere::Sky&& more) {
  if (more.size() == 0) return;
  const auto rows = sky.size();
  const auto total = rows + more.size();
  const auto join = [&](auto& table, auto& extra) {
    table.conservativeResize(total, Eigen::NoChange);
    table.bottomRows(extra.rows()) = extra;
  };
  join(sky.fof2_mhz, more.fof2_mhz);
  join(sky.m3000f2, more.m3000f2);
  join(sky.foe_mhz, more.foe_mhz);
  join(sky.zenith_deg, more.zenith_deg);
  const auto join_column = [&](Eigen::ArrayXd& table, const Eigen::ArrayXd& extra) {
    table.conservativeResize(total);
    table.tail(extra.size()) = extra;
  };
  join_column(sky.modip_deg, more.modip_deg);
  join_column(sky.dip100_deg, more.dip100_deg);
  join_column(sky.gyro100_mhz, more.gyro100_mhz);
  join_column(sky.gyro300_mhz, more.gyro300_mhz);
  sky.places.insert(sky.places.end(), more.places.begin(), more.places.end());
}

void add_point(PathData& p, Places& places, PointRole role, double share, int order = 0) {
  const GeoPoint where = point_at(p.path, share);
  p.points.push_back({role, places.add(where), static_cast<std::int16_t>(order)});
}

/// What is left of the maps' strength for oblique rays where the magnetic field lies nearly level.
double es_equator_share(GeoPoint where, double field_epoch) {
  using namespace method;
  const double dip_deg = std::abs(ionosphere::field(where, absorption_height_km, field_epoch).dip_deg());
  return std::lerp(es_equator_least, 1.0,
                   std::clamp((dip_deg - es_equator_deg) / (es_whole_from_deg - es_equator_deg), 0.0, 1.0));
}

/// The rays of sporadic E, and the places whose foEs they ask for.
void add_es_ways(PathData& p, Places& places, double field_epoch) {
  if (p.path.distance_km <= 0) return;  // the same place
  for (const int hops : {1, 2}) {
    const auto ray = es_ray(p.path.distance_km, hops);
    if (!ray) continue;
    EsWay& way = nth(p.es, p.es_count++);
    way.ray = *ray;
    way.slant_db = method::free_space_db + 20 * std::log10(ray->slant_km);
    way.absorption_secant = incidence_secant(cos_deg(ray->elevation_deg), method::absorption_height_km);
    for (int k = 0; k < hops; ++k) {
      const GeoPoint middle = point_at(p.path, (k + 0.5) / hops);
      nth(way.rows, k) = places.add(middle);
      way.ray.share *=
          es_latitude_share(ionosphere::geomagnetic_lat_deg(middle)) * es_equator_share(middle, field_epoch);
    }
  }
}

/// What no climate changes of a path: ends, middle, and 1000 km from either end; its hops; sporadic E's rays.
void lay(PathData& p, const geodesy::Path& path, const Settings& settings, double field_epoch, Places& first,
         Places& under_es) {
  p.path = path;
  p.from_row = first.add(p.path.from);
  p.to_row = first.add(p.path.to);
  add_point(p, first, PointRole::middle, 0.5);
  p.middle_row = p.points.front().row;
  p.middle_geomagnetic_lat_deg = ionosphere::geomagnetic_lat_deg(point_at(p.path, 0.5));
  const double d = p.path.distance_km;
  if (d > method::end_points_from_km && by_hops(settings, d)) {
    add_point(p, first, PointRole::from_1000, method::end_point_km / d);
    p.from_1000_row = p.points.back().row;
    add_point(p, first, PointRole::to_1000, 1 - method::end_point_km / d);
    p.to_1000_row = p.points.back().row;
  }
  if (by_hops(settings, d)) cut_into_hops(p);
  if (settings.sporadic_e) add_es_ways(p, under_es, field_epoch);
}

/// One path laid out alone; many questions ask about the same.
struct Laid {
  PathData path;
  Places first{0}, under_es{0};
};
std::shared_ptr<const Laid> kept_laid(const geodesy::Path& path, const Settings& settings,
                                      double field_epoch) {
  using Key = std::tuple<GeoPoint, GeoPoint, double, double, FarMethod, bool, GroundLoss, double>;
  static Kept<Key, Laid, most_kept> kept;
  return kept.of({path.from, path.to, path.bearing_deg, path.distance_km, settings.far, settings.sporadic_e,
                  settings.ground_loss, field_epoch},
                 [&] {
                   Laid out;
                   lay(out.path, path, settings, field_epoch, out.first, out.under_es);
                   // Judgement: shorter hops than these are rare; where they occur they are counted then.
                   if (by_hops(settings, path.distance_km))
                     mark_land(out.path, settings,
                               static_cast<int>(path.distance_km / 2500) + method::f2_modes);
                   return out;
                 });
}

}  // namespace

Circuits::Circuits(std::span<const geodesy::Path> paths, const ionosphere::Climate& climate,
                   const Settings& settings, std::span<const Horizon> horizons)
    : data_(std::make_unique<Data>()) {
  Data& data = *data_;
  data.climate = climate;
  data.settings = settings;
  const UtcTime midnight = start_of(climate.day);
  data.equation_of_time_h = sun::position(midnight + std::chrono::hours(12)).equation_of_time_min / 60;
  if (std::any_of(paths.begin(), paths.end(),
                  [&](const auto& p) { return by_limits(settings, p.distance_km); })) {
    for (std::size_t h = 0; h < 24; ++h) {
      const GeoPoint under = sun::position(midnight + std::chrono::hours(h)).subsolar;
      data.sun_x[h] = cos_deg(under.lat_deg) * cos_deg(under.lon_deg);
      data.sun_y[h] = cos_deg(under.lat_deg) * sin_deg(under.lon_deg);
      data.sun_z[h] = sin_deg(under.lat_deg);
    }
  }

  // First the places that are known at once.
  Places first(0), under_es(0);
  if (paths.size() == 1) {
    const auto laid = kept_laid(paths[0], settings, climate.field_epoch);
    data.paths.push_back(laid->path);
    first = laid->first;
    under_es = laid->under_es;
  } else {
    data.paths.resize(paths.size());
    for (std::size_t i = 0; i < paths.size(); ++i)
      lay(data.paths[i], paths[i], settings, climate.field_epoch, first, under_es);
  }
  for (std::size_t i = 0; i < data.paths.size() && i < horizons.size(); ++i)
    data.paths[i].horizon = horizons[i];
  data.sky = ionosphere::sky(first.all(), climate);
  if (!under_es.all().empty()) data.es = ionosphere::sporadic_e(under_es.all(), climate);

  // Then half a hop from either end, for each hop count that some hour calls for.
  Places second(first.all().size());
  for (auto& p : data.paths) {
    const double d = p.path.distance_km;
    std::uint32_t orders = 0;
    if (by_hops(settings, d)) {
      for (int h = 0; h < 24; ++h) {
        const double dmax_km = shape_at(data.sky, p.middle_row, h).dmax_km;
        const auto lowest = lowest_order(d, data.sky.m3000f2(p.middle_row, h), dmax_km, settings);
        Hour& hour = nth(p.hours, h);
        hour.f2_order = lowest.hops;
        hour.order_share = lowest.next_share;
        if (lowest.hops > 1) orders |= 1U << lowest.hops;
        if (lowest.next_share > 0) orders |= 2U << lowest.hops;
      }
    }
    if (by_limits(settings, d)) {
      p.long_hops = static_cast<int>(std::ceil(d / method::long_hop_km - 1e-9));
      orders |= 1U << p.long_hops;
    }
    for (int n = 1; n < 32; ++n) {
      if ((orders & (1U << n)) == 0) continue;
      add_point(p, second, PointRole::from_half_hop, 0.5 / n, n);
      add_point(p, second, PointRole::to_half_hop, 1 - 0.5 / n, n);
      for (int k = 1; k + 1 < n; ++k) add_point(p, second, PointRole::hop_middle, (k + 0.5) / n, n);
    }
  }
  append(data.sky, ionosphere::sky(second.all(), climate));

  parallel_for(data.paths.size(), 16, [&](std::size_t begin, std::size_t end) {
    for (std::size_t i = begin; i < end; ++i) {
      PathData& p = data.paths[i];
      const double d = p.path.distance_km;
      if (by_hops(settings, d)) prepare_hop_method(p, data);
      if (by_limits(settings, d)) prepare_long_path(p, data);
      for (auto& hour : p.hours) hour.basic_muf_mhz = std::max(hour.f2_muf_mhz, hour.e_muf_mhz);
    }
  });
}

Circuits::Circuits(Circuits&&) noexcept = default;
Circuits& Circuits::operator=(Circuits&&) noexcept = default;
Circuits::~Circuits() = default;

std::size_t Circuits::size() const {
  return data_->paths.size();
}
const geodesy::Path& Circuits::path(std::size_t index) const {
  return data_->paths[index].path;
}
const ionosphere::Climate& Circuits::climate() const {
  return data_->climate;
}

HourMuf Circuits::muf(std::size_t index, int hour) const {
  const PathData& p = data_->paths[index];
  const Hour& at = nth(p.hours, hour);
  const GeoPoint middle = nth(data_->sky.places, p.middle_row);
  const bool day = data_->sky.zenith_deg(p.middle_row, hour) < 90;
  const double ratio =
      method::operational_ratio(static_cast<unsigned>(data_->climate.day.month()), middle.lat_deg < 0, day);
  HourMuf out;
  out.basic_mhz = at.basic_muf_mhz;
  out.operational_mhz = std::max(at.f2_muf_mhz * ratio, at.e_muf_mhz);
  out.optimum_mhz =
      std::max(at.f2_muf_mhz * ratio * method::optimum_f2_share, at.e_muf_mhz * method::optimum_e_share);
  out.long_upper_mhz = at.long_upper_mhz;
  out.long_lower_mhz = at.long_lower_mhz;
  out.limit_mhz = at.f2_order == 0 ? at.long_upper_mhz : std::max(at.basic_muf_mhz, at.long_upper_mhz);
  out.lowest_order_f2 = at.f2_order > 0 ? at.f2_order + (at.order_share >= 0.5 ? 1 : 0) : p.long_hops;
  return out;
}

namespace {
Circuits::EndSky end_sky(const Circuits::Data& data, std::int32_t row, int hour) {
  return {data.sky.fof2_mhz(row, hour), data.sky.zenith_deg(row, hour),
          wrap_24(hour + nth(data.sky.places, row).lon_deg / 15 + data.equation_of_time_h)};
}
}  // namespace

Circuits::EndSky Circuits::from_sky(std::size_t index, int hour) const {
  return end_sky(*data_, data_->paths[index].from_row, hour);
}
Circuits::EndSky Circuits::to_sky(std::size_t index, int hour) const {
  return end_sky(*data_, data_->paths[index].to_row, hour);
}

std::vector<Circuits::ControlPoint> Circuits::control_points(std::size_t index, int hour) const {
  const PathData& p = data_->paths[index];
  const auto& sky = data_->sky;
  std::vector<ControlPoint> out;
  const Hour& at = nth(p.hours, hour);
  for (const auto& point : p.points) {
    // Half-hop points of hop counts that this hour does not use stay out.
    const bool of_next = at.order_share > 0 && point.order == at.f2_order + 1;
    if (point.order != 0 && point.order != at.f2_order && !of_next && point.order != p.long_hops) continue;
    const auto row = point.row;
    const GeoPoint where = nth(sky.places, row);
    out.push_back({point.role, where, end_sky(*data_, row, hour).solar_hour, sky.zenith_deg(row, hour),
                   sky.fof2_mhz(row, hour), sky.m3000f2(row, hour), sky.foe_mhz(row, hour),
                   sky.modip_deg(row), sky.gyro300_mhz(row)});
  }
  return out;
}

}  // namespace skerry::circuit
