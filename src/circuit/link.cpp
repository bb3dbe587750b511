#include "skerry/circuit/link.hpp"

#include <cmath>
#include <limits>

#include "method.hpp"
#include "skerry/core/units.hpp"

namespace skerry::circuit {

namespace {

/// 10^(db/10) as one exponential; the inner loop's share of libm.
double ratio(double db) {
  return std::exp(db * 0.23025850929940457);
}

/// A station's gain toward one bearing.
class Toward {
 public:
  Toward(const Station& station, double bearing_deg) : even_dbi_(station.gain_dbi) {
    if (station.pattern != nullptr) cut_ = station.pattern->cut(bearing_deg - station.layout_azimuth_deg);
  }
  [[nodiscard]] double gain_dbi(double elevation_deg) const {
    return cut_.left == nullptr ? even_dbi_ : cut_.at_dbi(elevation_deg);
  }
  [[nodiscard]] double low_gain_dbi() const {
    return cut_.left == nullptr ? even_dbi_ : cut_.low_angle_dbi();
  }

 private:
  double even_dbi_;
  antenna::Pattern::Cut cut_;
};

/// Received power of a path with no mode at all, in the 7000 to 9000 km blend. Judgement: far under any
/// noise.
constexpr double nothing_dbw = -260;

}  // namespace

Strength strength(const Cell& cell, const geodesy::Path& path, const Station& sender, const Station& receiver,
                  bool forward) {
  Strength out;
  const Toward from(sender, forward ? path.bearing_deg : path.return_bearing_deg);
  const Toward to(receiver, forward ? path.return_bearing_deg : path.bearing_deg);
  const double sent_dbw = to_db(sender.power_w);
  double sum = 0;
  double best_dbw = -std::numeric_limits<double>::infinity();
  for (int i = 0; i < cell.count; ++i) {
    const Mode& m = cell.modes[static_cast<std::size_t>(i)];
    const double dbw = sent_dbw + from.gain_dbi(m.elevation_deg) + to.gain_dbi(m.elevation_deg) - m.loss_db;
    sum += ratio(dbw);
    if (dbw > best_dbw) {
      best_dbw = dbw;
      out.best_mode = i;
      out.best_elevation_deg = m.elevation_deg;
    }
  }
  out.open = cell.count > 0 || cell.long_share > 0;
  if (!out.open) return out;
  const double modes_dbw = sum > 0 ? std::max(nothing_dbw, to_db(sum)) : nothing_dbw;
  if (cell.long_share <= 0) {
    out.received_dbw = modes_dbw;
    return out;
  }
  const double long_dbw = sent_dbw + from.low_gain_dbi() + to.low_gain_dbi() - cell.long_loss_db;
  if (cell.long_share >= 1 || cell.count == 0) {
    out.best_mode = -1;
    out.best_elevation_deg = cell.long_mode.elevation_deg;
  }
  if (cell.long_share >= 1) {
    out.received_dbw = long_dbw;
    return out;
  }
  // P.533 section 5.4: interpolation of X = 10^(0.01 E). Both shares positive, so that a hopeless field
  // leaves no rounding.
  const double xs = std::pow(10.0, 0.01 * modes_dbw);
  const double xl = std::pow(10.0, 0.01 * long_dbw);
  out.received_dbw = 100 * std::log10((1 - cell.long_share) * xs + cell.long_share * xl);
  return out;
}

Noise noise_at(const Circuits::EndSky& sky, GeoPoint where, unsigned month, const Station& receiver,
               double mhz) {
  noise::Conditions c;
  c.environment = receiver.environment;
  c.lat_deg = where.lat_deg;
  c.month = month;
  c.solar_hour = sky.solar_hour;
  c.zenith_deg = sky.zenith_deg;
  c.fof2_mhz = sky.fof2_mhz;
  c.near_land = receiver.near_land;
  Noise out;
  out.sources = noise::noise(c, mhz);
  // P.372, receiver total: the antenna's losses weaken what comes from outside and add their own warmth at
  // T0; the receiver adds its own.
  const double efficiency = ratio(receiver.efficiency_db);
  const double own = (1 - efficiency) + ratio(receiver.receiver_noise_figure_db) - 1;
  const auto total_db = [&](double fa_db) { return to_db(ratio(fa_db) * efficiency + own); };
  const auto& outside = out.sources.total;
  const double median_db = total_db(outside.fam_db);
  out.dbw_per_hz = median_db + noise::noise_dbw(0, 1);
  out.upper_db = total_db(outside.fam_db + outside.upper_db) - median_db;
  out.lower_db = median_db - total_db(outside.fam_db - outside.lower_db);
  return out;
}

double reliability(double margin_db, double upper_db, double lower_db) {
  // P.533 section 10: 0.5 at margin 0, 0.9 at the lower decile distance above it.
  if (margin_db >= 0) return std::min(1.0, 1.30 - 0.80 / (1 + margin_db / lower_db));
  return std::max(0.0, 0.80 / (1 - margin_db / upper_db) - 0.30);
}

Link link(const Cell& cell, const Strength& strength, const Noise& noise, const noise::Mode& mode) {
  Link out;
  out.open = strength.open;
  // P.533 section 8 with P.842: day to day, within the hour, and the noise's own deciles.
  out.snr_upper_db =
      std::sqrt(cell.day_upper_db * cell.day_upper_db + method::hour_upper_db * method::hour_upper_db +
                noise.lower_db * noise.lower_db);
  out.snr_lower_db =
      std::sqrt(cell.day_lower_db * cell.day_lower_db + method::hour_lower_db * method::hour_lower_db +
                noise.upper_db * noise.upper_db);
  if (!out.open) return out;
  out.snr_db = strength.received_dbw - noise.dbw_per_hz - to_db(mode.bandwidth_hz);
  out.margin_db = out.snr_db - mode.required_snr_db;
  out.days_in_ten = 10 * reliability(out.margin_db, out.snr_upper_db, out.snr_lower_db);
  return out;
}

Link steady_link(double received_dbw, const Noise& noise, const noise::Mode& mode) {
  Link out;
  out.open = true;
  out.snr_upper_db = std::max(1.0, noise.lower_db);
  out.snr_lower_db = std::max(1.0, noise.upper_db);
  out.snr_db = received_dbw - noise.dbw_per_hz - to_db(mode.bandwidth_hz);
  out.margin_db = out.snr_db - mode.required_snr_db;
  out.days_in_ten = 10 * reliability(out.margin_db, out.snr_upper_db, out.snr_lower_db);
  return out;
}

}  // namespace skerry::circuit
