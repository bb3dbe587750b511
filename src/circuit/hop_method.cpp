// A path hop by hop: what each hour makes of the path before any frequency is named. P.533
// sections 3, 4 and the hourly parts of 5.2.

#include <array>
#include <numeric>

#include "data.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/geodesy/land.hpp"
#include "skerry/ionosphere/field.hpp"

namespace skerry::circuit {

namespace {

using geodesy::point_at;

MirrorShape mirror_at(const ionosphere::Sky& sky, std::int32_t row, int hour, double r12) {
  return mirror_shape(sky.fof2_mhz(row, hour), sky.foe_mhz(row, hour), sky.m3000f2(row, hour), r12);
}

/// Rows of table 1d for one kind of mode at one lowest order: the first `e_count` serve modes without
/// half-hop points.
struct Rows {
  std::array<std::int32_t, 5> row{};
  std::size_t e_count = 0, count = 0;
};

/// The hourly work on one path of the hop method, with what it needs of the path's points at hand.
class HopMethod {
 public:
  HopMethod(PathData& p, const Circuits::Data& data) : p_(p), data_(data), sky_(data.sky) {
    rows_.row[0] = p.middle_row;
    rows_.e_count = 1;
    if (p.from_1000_row >= 0) {
      rows_.row[1] = p.from_1000_row;
      rows_.row[2] = p.to_1000_row;
      rows_.e_count = 3;
    }
    for (std::size_t i = 0; i < rows_.e_count; ++i) load(i);
  }

  void all_hours() {
    p_.e_gyro_mhz = mean(rows_.e_count, [&](std::size_t i) { return points_[i].gyro100_mhz; });
    prepare_e_rays();
    for (int h = 0; h < 24; ++h) {
      Hour& hour = nth(p_.hours, h);
      e_modes(hour, h);
      f2_modes(hour, h);
    }
  }

 private:
  struct Place {
    std::int32_t row = -1;
    double gyro100_mhz = 0, geomagnetic_lat_deg = 0, lon_h = 0;
    bool south = false;
  };

  void load(std::size_t i) {
    const auto row = rows_.row[i];
    if (points_[i].row == row) return;
    const GeoPoint where = nth(sky_.places, row);
    points_[i] = {row, sky_.gyro100_mhz(row), ionosphere::geomagnetic_lat_deg(where),
                  where.lon_deg / 15 + data_.equation_of_time_h, where.lat_deg < 0};
  }

  template <class F>
  static double mean(std::size_t count, F&& value) {
    double sum = 0;
    for (std::size_t i = 0; i < count; ++i) sum += value(i);
    return sum / static_cast<double>(count);
  }

  [[nodiscard]] double absorption_index(std::int32_t row, int h) const {
    const double zenith = sky_.zenith_deg(row, h);
    const auto by_foe = [&] { return absorption_index_foe(sky_.foe_mhz(row, h)); };
    if (data_.settings.absorption == Absorption::foe_index) return by_foe();
    const double by_sun = absorption_index_sun(data_.climate.r12, zenith);
    const double night =
        std::clamp((zenith - method::night_index_zenith_deg) / method::night_index_breadth_deg, 0.0, 1.0);
    return night > 0 ? by_sun + night * std::max(0.0, by_foe() - by_sun) : by_sun;
  }

  void prepare_e_rays() {
    using namespace method;
    const double d = p_.path.distance_km;
    if (d >= e_path_limit_km + e_path_fade_km) return;
    const auto left = [](double km, double end_km, double fade_km) {
      return std::clamp((end_km + fade_km - km) / (2 * fade_km), 0.0, 1.0);
    };
    p_.e_order = d >= e_hop_limit_km + e_hop_fade_km ? 2 : 1;
    for (int k = 0; k < method::e_modes; ++k) {
      const int hops = p_.e_order + k;
      const HopRay ray = hop_ray(nth(p_.cuts, hops), e_height_km);
      EHop& e = nth(p_.e, k);
      e.elevation_deg = ray.elevation_deg;
      e.slant_km = hops * ray.slant_km;
      e.slant_db = free_space_db + 20 * std::log10(e.slant_km);
      e.layer_secant = incidence_secant(ray.cos_elevation, e_height_km);
      e.absorption_secant = incidence_secant(ray.cos_elevation, absorption_height_km);
      e.whole = left(d / hops, e_hop_limit_km, e_hop_fade_km) * left(d, e_path_limit_km, e_path_fade_km);
    }
  }

  void e_modes(Hour& hour, int h) {
    const double middle = sky_.foe_mhz(p_.middle_row, h);
    double lowest = middle;
    hour.screening_foe_mhz = middle;
    if (p_.from_1000_row >= 0) {
      const double a = sky_.foe_mhz(p_.from_1000_row, h);
      const double b = sky_.foe_mhz(p_.to_1000_row, h);
      lowest = std::min(a, b);
      hour.screening_foe_mhz = std::max(a, b);
    }
    if (p_.e_order == 0) return;
    for (std::size_t k = 0; k < method::e_modes; ++k) hour.e_mhz[k] = lowest * p_.e[k].layer_secant;
    hour.e_muf_mhz = std::lerp(hour.e_mhz[1], hour.e_mhz[0], p_.e[0].whole);
    if (p_.e_order > 1) hour.e_muf_mhz = hour.e_mhz[0] * p_.e[0].whole;
  }

  /// What one lowest order makes of an hour.
  struct Order {
    std::array<double, method::f2_modes> f2_mhz{};
    std::array<MirrorShape, 2> ends;
    std::size_t end_count = 0;
    double index = 0, gyro_mhz = 0, auroral_db = 0;
  };

  void f2_modes(Hour& hour, int h) {
    const int n0 = hour.f2_order;  // found when the half-hop points were
    const double next = hour.order_share;
    const Order first = order(hour, n0, h);
    hour.f2_mhz = first.f2_mhz;
    hour.f2_index = first.index;
    hour.f2_gyro_mhz = first.gyro_mhz;
    hour.auroral_db = first.auroral_db;
    hour.f2_muf_mhz = first.f2_mhz[0];
    hour.mirrors[0] = mirror_at(sky_, p_.middle_row, h, data_.climate.r12);
    hour.mirror_count = 1;
    hour.mirror_weights = {};
    add_mirrors(hour, first, 1 - next);
    if (next <= 0) return;
    const Order second = order(hour, n0 + 1, h);
    const auto mix = [&](double& a, double b) { a = std::lerp(a, b, next); };
    for (std::size_t k = 1; k < method::f2_modes; ++k) mix(hour.f2_mhz[k], second.f2_mhz[k - 1]);
    mix(hour.f2_index, second.index);
    mix(hour.f2_gyro_mhz, second.gyro_mhz);
    mix(hour.auroral_db, second.auroral_db);
    mix(hour.f2_muf_mhz, second.f2_mhz[0]);
    add_mirrors(hour, second, next);
  }

  /// The middle, which is there already, and the order's own ends, all alike.
  static void add_mirrors(Hour& hour, const Order& order, double share) {
    const double each = share / static_cast<double>(1 + order.end_count);
    hour.mirror_weights[0] += each;
    for (std::size_t i = 0; i < order.end_count; ++i) {
      nth(hour.mirrors, hour.mirror_count) = order.ends[i];
      nth(hour.mirror_weights, hour.mirror_count++) = each;
    }
  }

  Order order(Hour& hour, int n, int h) {
    Order out;
    // Judgement: what one hop cannot span, be it for dmax or for the lowest elevation, is longer than dmax.
    // Taking the short hops' own MUF between the two limits would close bands in a ring from about 3000 to
    // 4000 km.
    const bool beyond = n > 1;
    const auto cut = [&](int k) -> const HopCut& { return nth(p_.cuts, n + k); };
    rows_.count = rows_.e_count;
    if (!beyond) {
      const F2Shape middle = shape_at(sky_, p_.middle_row, h);
      for (int k = 0; k < method::f2_modes; ++k) nth(out.f2_mhz, k) = f2_muf(middle, cut(k).km);
    } else {
      // Section 3.5.1.2: the lowest of the hops' longest-hop MUF, scaled for the higher orders (3.5.2). The
      // Recommendation looks at the outer two hops. Measured: the lowest of all told heard hours from others
      // better on 7000 to 12 000 km; absorption at all of them told worse (docs/scoring.md, July 2017).
      out.f2_mhz.fill(1e9);
      for (const auto& point : p_.points) {
        if (point.order != n) continue;
        const auto row = point.row;
        const F2Shape end = shape_at(sky_, row, h);
        const double longest = f2_muf(end, std::min(end.dmax_km, data_.settings.hop_limit_km));
        const double scale = longest / f2_muf(end, cut(0).km);
        out.f2_mhz[0] = std::min(out.f2_mhz[0], longest);
        for (int k = 1; k < method::f2_modes; ++k) {
          double& muf = nth(out.f2_mhz, k);
          muf = std::min(muf, scale * f2_muf(end, cut(k).km));
        }
        if (point.role == PointRole::hop_middle) continue;
        nth(out.ends, out.end_count++) = mirror_at(sky_, row, h, data_.climate.r12);
        if (rows_.e_count > 1) {  // table 1d: beyond 2000 km
          rows_.row[rows_.count] = row;
          load(rows_.count++);
        }
      }
    }
    absorb(hour, out, h);
    return out;
  }

  void absorb(Hour& hour, Order& out, int h) {
    double sum = 0;
    double gyro = 0;
    double auroral = 0;
    const auto month = static_cast<unsigned>(data_.climate.day.month());
    const double far_share = std::clamp(
        (p_.path.distance_km - method::auroral_near_km) / (method::auroral_far_km - method::auroral_near_km),
        0.0, 1.0);
    for (std::size_t i = 0; i < rows_.count; ++i) {
      const Place& at = points_[i];
      sum += absorption_index(at.row, h);
      gyro += at.gyro100_mhz;
      if (i + 1 == rows_.e_count) hour.e_index = sum / static_cast<double>(rows_.e_count);
      if (std::abs(at.geomagnetic_lat_deg) < method::auroral_from_deg) continue;
      auroral += method::auroral_loss_db(far_share, method::auroral_season(month, at.south),
                                         at.geomagnetic_lat_deg, wrap_24(h + at.lon_h));
    }
    const auto count = static_cast<double>(rows_.count);
    out.index = sum / count;
    out.gyro_mhz = gyro / count;
    out.auroral_db = auroral / count;
  }

  PathData& p_;
  const Circuits::Data& data_;
  const ionosphere::Sky& sky_;
  Rows rows_;
  std::array<Place, 5> points_;
};

/// The most hops that any mode of any hour has: of the orders n0 .. n0+5 and the E orders.
int most_hops_of(const PathData& p) {
  int most = p.e_order > 0 ? p.e_order + method::e_modes - 1 : 0;
  for (const auto& hour : p.hours) {
    if (hour.f2_order > 0) most = std::max(most, hour.f2_order + method::f2_modes - 1);
  }
  return most;
}

}  // namespace

void mark_land(PathData& p, const Settings& settings, int most) {
  if (settings.ground_loss == GroundLoss::fixed_2_db || p.land.size() > static_cast<std::size_t>(most))
    return;
  p.land.assign(static_cast<std::size_t>(most) + 1, 0);
  std::array<std::array<float, method::most_hops>, method::most_hops + 1> share;  // of bounce k of n hops
  for (int n = 2; n <= most; ++n) {
    for (int k = 1; k < n; ++k) {
      // 2/4 of the way is 1/2 of the way, and known by then.
      const int shared = std::gcd(k, n);
      float& here = nth(nth(share, n), k);
      here = shared > 1
                 ? nth(nth(share, n / shared), k / shared)
                 : static_cast<float>(geodesy::land_about(point_at(p.path, static_cast<double>(k) / n)));
      nth(p.land, n) += here;
    }
  }
}

F2Shape shape_at(const ionosphere::Sky& sky, std::int32_t row, int hour) {
  return f2_shape(sky.fof2_mhz(row, hour), sky.foe_mhz(row, hour), sky.m3000f2(row, hour),
                  sky.gyro300_mhz(row));
}

LowestOrder lowest_order(double distance_km, double m3, double dmax_km, const Settings& settings) {
  const double height =
      std::min(method::height_scale_km / m3 - method::order_height_offset_km, method::order_height_limit_km);
  // The longest hop that leaves at the lowest elevation.
  const double lowest_deg = settings.min_elevation_deg;
  const double half_deg =
      acos_deg(earth_radius_km * cos_deg(lowest_deg) / (earth_radius_km + height)) - lowest_deg;
  const double limit_km =
      std::min({dmax_km, settings.hop_limit_km, 2 * earth_radius_km * rad_per_deg * half_deg});
  const double fade_km = method::order_fade_km;
  LowestOrder out;
  out.hops = std::clamp(static_cast<int>(std::ceil((distance_km - fade_km) / limit_km)), 1,
                        method::most_lowest_order);
  if (out.hops == method::most_lowest_order) return out;
  out.next_share = std::clamp((distance_km - out.hops * limit_km + fade_km) / (2 * fade_km), 0.0, 1 - 1e-9);
  return out;
}

void cut_into_hops(PathData& p) {
  for (int n = 1; n <= method::most_hops; ++n) {
    HopCut& cut = nth(p.cuts, n);
    cut.km = p.path.distance_km / n;
    const double half = cut.km / (2 * earth_radius_km);
    cut.sin_half = std::sin(half);
    cut.cos_half = std::cos(half);
  }
}

void prepare_hop_method(PathData& path, const Circuits::Data& data) {
  HopMethod(path, data).all_hours();
  mark_land(path, data.settings, most_hops_of(path));
}

}  // namespace skerry::circuit
