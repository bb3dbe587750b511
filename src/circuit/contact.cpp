#include "skerry/circuit/contact.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include "ground_wave.hpp"
#include "method.hpp"
#include "skerry/core/units.hpp"
#include "skerry/geodesy/land.hpp"

namespace skerry::circuit {

namespace {

constexpr double closed_dbw = -std::numeric_limits<double>::infinity();

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

/// Ratio, margin and days of a received power above a noise, the deciles being known.
void judge(Direction& d, double received_dbw, const Noise& noise, const noise::Mode& emission) {
  d.open = received_dbw > closed_dbw;
  if (!d.open) return;
  d.received_dbw = received_dbw;
  d.snr_db = received_dbw - noise.dbw_per_hz - to_db(emission.bandwidth_hz);
  d.margin_db = d.snr_db - emission.required_snr_db;
  d.days_in_ten = 10 * reliability(d.margin_db, d.snr_upper_db, d.snr_lower_db);
}

/// P.533 section 8 with P.842: day to day, within the hour, and the noise's own deciles.
void add_spread(Direction& d, const Passage& passage, const Noise& noise) {
  d.snr_upper_db = std::sqrt(passage.day_upper_db * passage.day_upper_db +
                             method::hour_upper_db * method::hour_upper_db + noise.lower_db * noise.lower_db);
  d.snr_lower_db = std::sqrt(passage.day_lower_db * passage.day_lower_db +
                             method::hour_lower_db * method::hour_lower_db + noise.upper_db * noise.upper_db);
}

Ledger ledger(const Contact& c, const Direction& d, double sent_dbw, const Noise& noise,
              const noise::Mode& emission) {
  const Mode& mode = c.strongest();
  Ledger out;
  out.sent_dbw = sent_dbw;
  out.from_dbi = c.level.from_dbi;
  out.to_dbi = c.level.to_dbi;
  out.free_space_db = mode.free_space_db;
  out.d_layer_db = mode.absorption_db;
  out.above_muf_db = mode.above_muf_db;
  if (c.level.best_mode < 0) {
    out.d_layer_db = mode.absorption_db * c.passage.long_lower_share;
    out.above_muf_db = mode.absorption_db * (1 - c.passage.long_lower_share);
  }
  out.bounces_db = mode.ground_db;
  out.auroral_db = mode.auroral_db;
  out.other_db = mode.other_db;
  out.focusing_db = mode.focusing_db;
  out.noise_dbw = noise.dbw_per_hz + to_db(emission.bandwidth_hz);
  out.needed_db = emission.required_snr_db;
  out.together_db = d.received_dbw - out.received_dbw();
  return out;
}

Direction along_the_ground(double received_dbw, const Noise& noise, const noise::Mode& emission) {
  Direction out;
  out.snr_upper_db = std::max(method::least_ground_spread_db, noise.lower_db);
  out.snr_lower_db = std::max(method::least_ground_spread_db, noise.upper_db);
  judge(out, received_dbw, noise, emission);
  return out;
}

}  // namespace

bool near_land(GeoPoint where) {
  int on_land = 0;
  for (const double ring_km : method::land_rings_km) {
    for (int i = 0; i < 8; ++i) {
      if (geodesy::is_land(geodesy::destination(where, 45.0 * i, ring_km))) ++on_land;
    }
  }
  return on_land >= method::land_places;
}

Level level(const Passage& passage, const geodesy::Path& path, const Station& from, const Station& to) {
  Level out;
  out.open = passage.open();
  if (!out.open) return out;
  const Toward here(from, path.bearing_deg);
  const Toward there(to, path.return_bearing_deg);
  double sum = 0;
  double best_dbw = closed_dbw;
  for (int i = 0; i < passage.count; ++i) {
    const auto k = static_cast<std::size_t>(i);
    const Mode& m = passage.modes[k];
    const double from_dbi = here.gain_dbi(m.elevation_deg);
    const double to_dbi = there.gain_dbi(m.elevation_deg);
    const double dbw = from_dbi + to_dbi - m.loss_db;
    out.mode_dbw[k] = dbw;
    sum += ratio(dbw);
    if (dbw <= best_dbw) continue;
    best_dbw = dbw;
    out.best_mode = i;
    out.best_elevation_deg = m.elevation_deg;
    out.from_dbi = from_dbi;
    out.to_dbi = to_dbi;
  }
  out.modes_dbw = sum > 0 ? to_db(sum) : closed_dbw;
  out.long_share = passage.long_share;
  if (out.long_share <= 0) return out;
  const double from_dbi = here.low_gain_dbi();
  const double to_dbi = there.low_gain_dbi();
  out.long_dbw = from_dbi + to_dbi - passage.long_loss_db;
  if (out.long_share < 1 && passage.count > 0) return out;
  out.best_mode = -1;
  out.best_elevation_deg = passage.long_mode.elevation_deg;
  out.from_dbi = from_dbi;
  out.to_dbi = to_dbi;
  return out;
}

double Level::received_dbw(double sent_dbw) const {
  if (!open) return closed_dbw;
  const double by_modes = std::max(method::nothing_dbw, sent_dbw + modes_dbw);
  if (long_share <= 0) return by_modes;
  const double by_long = sent_dbw + long_dbw;
  if (long_share >= 1) return by_long;
  // P.533 section 5.4: interpolation of X = 10^(0.01 E). Both shares positive, so that a hopeless field
  // leaves no rounding.
  const double xs = std::pow(10.0, 0.01 * by_modes);
  const double xl = std::pow(10.0, 0.01 * by_long);
  return 100 * std::log10((1 - long_share) * xs + long_share * xl);
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
  using namespace method;
  if (margin_db >= 0) return std::min(1.0, share_most - share_slope / (1 + margin_db / lower_db));
  return std::max(0.0, share_slope / (1 - margin_db / upper_db) - share_least);
}

Direction direction(const Passage& passage, double received_dbw, const Noise& noise,
                    const noise::Mode& emission) {
  Direction out;
  add_spread(out, passage, noise);
  judge(out, received_dbw, noise, emission);
  return out;
}

double least_dbw(const Passage& passage, const Noise& noise, double days) {
  using namespace method;
  Direction d;
  add_spread(d, passage, noise);
  // The inverse of reliability().
  const double p = days / 10;
  return noise.dbw_per_hz + (p >= 0.5 ? d.snr_lower_db * (share_slope / (share_most - p) - 1)
                                      : d.snr_upper_db * (1 - share_slope / (p + share_least)));
}

BothWays directions(const Passage& passage, double there_dbw, double back_dbw, const Noise& noise_from,
                    const Noise& noise_to, const noise::Mode& emission) {
  BothWays out;
  out.there = direction(passage, there_dbw, noise_to, emission);
  out.back = direction(passage, back_dbw, noise_from, emission);
  out.days_in_ten = both_ways(out.there.days_in_ten, out.back.days_in_ten);
  return out;
}

Contact contact(const Circuits& circuits, std::size_t index, int hour, double mhz, const Station& from,
                const Station& to, const noise::Mode& emission) {
  const auto& path = circuits.path(index);
  const auto month = static_cast<unsigned>(circuits.climate().day.month());
  Contact out;
  out.passage = circuits.passage(index, hour, mhz);
  out.level = level(out.passage, path, from, to);
  out.noise_from = noise_at(circuits.from_sky(index, hour), path.from, month, from, mhz);
  out.noise_to = noise_at(circuits.to_sky(index, hour), path.to, month, to, mhz);
  const double from_dbw = to_db(from.power_w);
  const double to_dbw = to_db(to.power_w);
  static_cast<BothWays&>(out) =
      directions(out.passage, out.level.received_dbw(from_dbw), out.level.received_dbw(to_dbw),
                 out.noise_from, out.noise_to, emission);
  if (!out.open()) return out;
  out.there_terms = ledger(out, out.there, from_dbw, out.noise_to, emission);
  out.back_terms = ledger(out, out.back, to_dbw, out.noise_from, emission);
  return out;
}

void contacts(const Circuits& circuits, std::size_t index, int hour, std::span<const double> mhz,
              const Station& from, const Station& to, std::span<const Noise> noise_from,
              std::span<const Noise> noise_to, const noise::Mode& emission, std::span<BothWays> out) {
  const auto& path = circuits.path(index);
  const double from_dbw = to_db(from.power_w);
  // Sky and antennas are the same both ways. Level::received_dbw is not linear at its floor and in the blend
  // without modes; there contact() and this differ in signals that nobody hears.
  const double back_db = to_db(to.power_w) - from_dbw;
  for (std::size_t i = 0; i < mhz.size(); ++i) {
    const auto passage = circuits.passage(index, hour, mhz[i]);
    const double there_dbw = level(passage, path, from, to).received_dbw(from_dbw);
    out[i] = directions(passage, there_dbw, there_dbw + back_db, noise_from[i], noise_to[i], emission);
  }
}

std::optional<double> ground_loss_db(const geodesy::Path& path, const Station& from, const Station& to,
                                     double mhz) {
  if (path.distance_km > ground_wave_limit_km) return std::nullopt;
  return ground_wave_loss_db(surface_along(path), mhz) - from.gain_dbi - to.gain_dbi +
         2 * method::short_vertical_dbi;
}

GroundWave ground_wave(double loss_db, const Station& from, const Station& to, const Noise& noise_from,
                       const Noise& noise_to, const noise::Mode& emission) {
  GroundWave out;
  out.there = along_the_ground(to_db(from.power_w) - loss_db, noise_to, emission);
  out.back = along_the_ground(to_db(to.power_w) - loss_db, noise_from, emission);
  out.days_in_ten = both_ways(out.there.days_in_ten, out.back.days_in_ten);
  return out;
}

}  // namespace skerry::circuit
