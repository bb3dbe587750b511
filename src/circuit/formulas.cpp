#include "formulas.hpp"

namespace skerry::circuit {

using namespace method;

F2Shape f2_shape(double fof2_mhz, double foe_mhz, double m3, double gyro_mhz) {
  const double x = std::max(fof2_mhz / foe_mhz, least_dmax_ratio);
  const double x2 = 1 / (x * x);
  F2Shape out;
  out.fof2_mhz = fof2_mhz;
  out.gyro_mhz = gyro_mhz;
  out.b = m3 - 0.124 + (m3 * m3 - 4) * (0.0215 + 0.005 * std::sin(7.854 / x - 1.9635));
  out.dmax_km = 4780 + (12610 + 2140 * x2 - 49720 * x2 * x2 + 688900 * x2 * x2 * x2) * (1 / out.b - 0.303);
  out.dmax_km = std::clamp(out.dmax_km, least_dmax_km, most_dmax_km);
  out.inverse_c3000 = 1 / hop_factor(3000, out.dmax_km);
  return out;
}

MirrorShape mirror_shape(double fof2_mhz, double foe_mhz, double m3, double r12) {
  MirrorShape out;
  out.fof2_mhz = fof2_mhz;
  out.x = fof2_mhz / foe_mhz;
  const double y = std::max(out.x, least_ratio);
  const double dm = 0.18 / (y - 1.4) + 0.096 * (r12 - 25) / 150;
  out.h_km = height_scale_km / (m3 + dm) - height_offset_km;
  out.low_share = std::clamp((low_ratio + ratio_breadth - out.x) / (2 * ratio_breadth), 0.0, 1.0);
  if (out.low_share <= 0) return out;  // the rest serves the first case only
  const double j = -0.7126 * y * y * y + 5.863 * y * y - 16.13 * y + 16.07;
  out.base_km = 115 + out.h_km * j;
  const double log_y = std::log(y);  // y^-2.2 and y^-3.6
  out.slope =
      8e-5 * (out.h_km - 80) * (1 + 11 * std::exp(-2.2 * log_y)) + 1.2e-3 * out.h_km * std::exp(-3.6 * log_y);
  return out;
}

MirrorAt mirror_at(const MirrorShape& s, double mhz) {
  const double h = s.h_km;
  MirrorAt out;
  out.low_share = s.low_share;
  out.low_base_km = s.base_km;
  out.low_slope = s.slope;
  if (s.low_share >= 1) return out;
  const double xr = mhz / s.fof2_mhz;
  if (xr >= 1) {
    out.which = MirrorAt::Case::above_critical;
    const double e1 = ((-0.09707 * xr + 0.6870) * xr - 0.7506) * xr + 0.6;
    const double f1 =
        xr <= f1_change ? (((-1.862 * xr + 12.95) * xr - 32.03) * xr + 33.50) * xr - 10.91 : 1.21 + 0.2 * xr;
    const double g =
        xr <= g_change ? (((-2.102 * xr + 19.50) * xr - 63.15) * xr + 90.47) * xr - 44.73 : 19.25;
    constexpr double ln_2_4 = 0.8754687373538999;
    out.start_km = 160 + (h + 43) * g;
    out.per_km = ln_2_4 / (h + 140);
    out.base_km = 140 + (h - 47) * e1;
    out.change_km = 150 + (h - 17) * f1 - out.base_km;
    return out;
  }
  out.which = MirrorAt::Case::below_critical;
  const double z = std::max(xr, least_below_critical);
  const double e2 = (0.1906 * z + 0.00583) * z + 0.1936;
  const double f2 = (0.645 * z + 0.883) * z + 0.162;
  out.per_km = 0.115 / (z * (h + 140));
  out.base_km = 151 + (h - 47) * e2;
  out.change_km = 141 + (h - 24) * f2 - out.base_km;
  return out;
}

double mirror_height_km(const MirrorAt& at, double hop_km) {
  const auto limited = [](double km) { return std::clamp(km, lowest_mirror_km, highest_mirror_km); };
  const double low = at.low_share > 0 ? limited(at.low_base_km + at.low_slope * hop_km) : 0;
  if (at.low_share >= 1) return low;
  double out = 0;
  switch (at.which) {
    case MirrorAt::Case::above_critical: {
      const double beyond_km = hop_km - at.start_km;
      out =
          at.base_km + (at.change_km >= 0 && beyond_km >= 0 ? at.change_km * std::exp(-beyond_km * at.per_km)
                                                            : at.change_km);
      break;
    }
    case MirrorAt::Case::below_critical: {
      const double df = std::min(at.per_km * hop_km, most_df);
      const double b = (((-7.535 * df + 15.75) * df - 8.834) * df - 0.378) * df + 1;
      out = at.base_km + (at.change_km >= 0 ? at.change_km * b : at.change_km);
      break;
    }
  }
  return std::lerp(limited(out), low, at.low_share);
}

double mirror_height_km(const MirrorShape& shape, double mhz, double hop_km) {
  return mirror_height_km(mirror_at(shape, mhz), hop_km);
}

}  // namespace skerry::circuit
