// Paths over 7000 km: the method that knows no modes, only an upper and a lower limit frequency. P.533
// section 5.3.

#include "data.hpp"
#include "skerry/core/nth.hpp"

namespace skerry::circuit {

namespace {

/// One control point's day: fg = 1.1 foF2 M(3000)F2, and with it the correction K of section 5.3.1.
class LimitPoint {
 public:
  LimitPoint(const ionosphere::Sky& sky, std::int32_t row, double equation_of_time_h) {
    for (int h = 0; h < 24; ++h)
      nth(fg_, h) = method::long_fg_factor * sky.fof2_mhz(row, h) * sky.m3000f2(row, h);
    const double noon = wrap_24(12 - nth(sky.places, row).lon_deg / 15 - equation_of_time_h);
    const auto before = static_cast<std::size_t>(noon) % 24;
    noon_ = std::lerp(fg_[before], fg_[(before + 1) % 24], noon - std::floor(noon));
    lowest_ = *std::min_element(fg_.begin(), fg_.end());
  }
  [[nodiscard]] double upper_limit_mhz(int hour, const method::LimitShape& c) const {
    const double fg = nth(fg_, hour);
    const double k = method::long_k_base + c.w * fg / noon_ + c.x * (std::cbrt(noon_ / fg) - 1) +
                     c.y * (lowest_ / noon_) * (lowest_ / noon_);
    return k * fg;
  }

 private:
  std::array<double, 24> fg_{};
  double noon_ = 1, lowest_ = 1;
};

method::LimitShape direction_at_middle(const geodesy::Path& path) {
  const double folded =
      std::abs(wrap_180(2 * geodesy::bearing_at(path, 0.5))) / 2;  // 0 north-south .. 90 east-west
  const double t = folded / 90;
  return {std::lerp(method::north_south.w, method::east_west.w, t),
          std::lerp(method::north_south.x, method::east_west.x, t),
          std::lerp(method::north_south.y, method::east_west.y, t)};
}

/// Unit vector of the place at a share of the way, as geodesy::point_at has it.
std::array<double, 3> direction_at(const geodesy::Path& path, double share) {
  const bool near_from = share <= 0.5;
  const double turn = (near_from ? share : 1 - share) * path.angle_rad;
  const double c = std::cos(turn);
  const double s = std::sin(turn);
  const auto& v = near_from ? path.from_vec : path.to_vec;
  const auto& t = near_from ? path.from_tangent : path.to_tangent;
  return {v[0] * c + t[0] * s, v[1] * c + t[1] * s, v[2] * c + t[2] * s};
}

/// Section 5.3.2 for 24 hours, before the night rule.
std::array<double, 24> raw_lower_limit(const PathData& p, const Circuits::Data& data) {
  const int hops = p.long_hops;
  const double hop = p.path.distance_km / hops;
  const double cos_e = cos_deg(p.long_elevation_deg);
  // Ground distance from a hop's end to where its ray crosses 90 km.
  const double crossing_km =
      earth_radius_km * rad_per_deg *
      (acos_deg(earth_radius_km * cos_e / (earth_radius_km + method::long_loss_height_km)) -
       p.long_elevation_deg);
  const double cos_i90 = 1 / incidence_secant(cos_e, method::long_loss_height_km);
  const auto month = static_cast<unsigned>(data.climate.day.month());
  const GeoPoint middle = nth(data.sky.places, p.middle_row);
  const double month_factor = method::long_month_factor(month, p.path.from.lat_deg, p.path.to.lat_deg);
  const double winter = method::winter_factor(month, middle.lat_deg);
  std::array<double, 24> sum{};
  for (int n = 0; n < hops; ++n) {
    for (const double at : {n * hop + crossing_km, (n + 1) * hop - crossing_km}) {
      const auto v = direction_at(p.path, at / p.path.distance_km);
      for (std::size_t h = 0; h < 24; ++h) {
        // The cosine of the Sun's zenith angle is the product of the two directions.
        sum[h] +=
            std::sqrt(std::max(0.0, v[0] * data.sun_x[h] + v[1] * data.sun_y[h] + v[2] * data.sun_z[h]));
      }
    }
  }
  const double below = cos_i90 * std::log(method::long_slant_scale_km / p.long_slant_km);
  std::array<double, 24> out{};
  for (std::size_t h = 0; h < 24; ++h) {
    const double inside = (1 + method::long_per_sunspot * data.climate.r12) * sum[h] / below;
    out[h] = (method::long_lower_factor * month_factor * std::sqrt(inside) - p.long_gyro_mhz) * winter;
  }
  return out;
}

/// The night rule: once the day's limit has sunk to twice the night's, it decays over three hours to the
/// night's value.
std::array<double, 24> with_nights(const std::array<double, 24>& raw, double night_mhz) {
  using namespace method;
  std::array<double, 24> out{};
  const double sunk_mhz = night_begins * night_mhz;
  const auto start = std::find_if(raw.begin(), raw.end(), [&](double v) { return v > sunk_mhz; });
  if (start == raw.end()) {
    for (std::size_t h = 0; h < 24; ++h) out[h] = std::max(night_mhz, raw[h]);
    return out;
  }
  const auto first = static_cast<std::size_t>(start - raw.begin());
  int since = -1;  // hours since the day's limit sank to twice the night's; -1: day
  for (std::size_t k = 0; k < 24; ++k) {
    const std::size_t h = (first + k) % 24;
    since = raw[h] > sunk_mhz ? -1 : since + 1;
    if (since < 0) {
      out[h] = raw[h];
    } else {
      out[h] = since <= night_decay_h ? sunk_mhz * std::exp(-night_decay_per_h * since)
                                      : std::max(night_mhz, raw[h]);
    }
  }
  return out;
}

}  // namespace

void prepare_long_path(PathData& p, const Circuits::Data& data) {
  const double d = p.path.distance_km;
  const double hop = d / p.long_hops;
  p.long_elevation_deg = elevation_deg(hop, method::long_height_km);
  p.long_slant_km = p.long_hops * hop_slant_km(hop, method::long_height_km);
  p.long_e0_db = method::long_field_db - 20 * std::log10(p.long_slant_km);
  const double around = std::abs(std::sin(d / earth_radius_km));
  const double focus =
      around > 0 ? 10 * std::log10(d / earth_radius_km / around) : method::long_focus_limit_db;
  p.long_focus_db = std::min(focus, method::long_focus_limit_db);
  std::array<std::int32_t, 2> rows{-1, -1};
  for (const auto& point : p.points) {
    if (point.order != p.long_hops) continue;
    if (point.role == PointRole::from_half_hop) rows[0] = point.row;
    if (point.role == PointRole::to_half_hop) rows[1] = point.row;
  }
  p.long_gyro_mhz = (data.sky.gyro300_mhz(rows[0]) + data.sky.gyro300_mhz(rows[1])) / 2;
  const LimitPoint a(data.sky, rows[0], data.equation_of_time_h);
  const LimitPoint b(data.sky, rows[1], data.equation_of_time_h);
  const auto direction = direction_at_middle(p.path);
  const auto lower = with_nights(raw_lower_limit(p, data), std::sqrt(d / method::long_night_km));
  for (int h = 0; h < 24; ++h) {
    Hour& hour = nth(p.hours, h);
    hour.long_upper_mhz = std::min(a.upper_limit_mhz(h, direction), b.upper_limit_mhz(h, direction));
    hour.long_lower_mhz = nth(lower, h);
    if (d > method::long_only_km) {
      // Basic MUF beyond 9000 km: the lower of the two points' longest-hop values.
      double muf = 1e9;
      for (const auto row : rows) {
        const F2Shape end = f2_shape(data.sky.fof2_mhz(row, h), data.sky.foe_mhz(row, h),
                                     data.sky.m3000f2(row, h), data.sky.gyro300_mhz(row));
        muf = std::min(muf, f2_muf(end, std::min(end.dmax_km, data.settings.hop_limit_km)));
      }
      hour.f2_muf_mhz = muf;
    }
  }
}

}  // namespace skerry::circuit
