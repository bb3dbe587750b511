#include "skerry/circuit/contact.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "contact_parts.hpp"
#include "ground_wave.hpp"
#include "method.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/geodesy/land.hpp"

namespace skerry::circuit {

namespace {

/// 10^(db/10) as one exponential; the inner loop's share of libm.
double ratio(double db) {
  return std::exp(db * 0.23025850929940457);
}

/// The normal law in steps of half a standard deviation out to three, both sides: with the deciles
/// that occur the mean of reliability() is within 0.006 of the integral (tests/circuit/contact_test.cpp).
struct Step {
  double deviations, weight;
};
constexpr std::size_t half_steps = 6;
const std::array<Step, 2 * half_steps + 1> normal = [] {
  std::array<Step, 2 * half_steps + 1> out{};
  double sum = 0;
  for (std::size_t i = 0; i < out.size(); ++i) {
    const double x = (static_cast<double>(i) - half_steps) / 2;
    out[i] = {x, std::exp(-x * x / 2)};
    sum += out[i].weight;
  }
  for (auto& step : out) step.weight /= sum;
  return out;
}();

/// Mean of a share of days over the unknown stations. share(offset) for a margin that is `offset` dB better.
template <class F>
double over_stations(double spread_db, F&& share) {
  if (spread_db <= 0) return share(0);
  double sum = 0;
  for (const auto& step : normal) sum += step.weight * share(spread_db * step.deviations);
  return sum;
}

/// Ratio and margin of a received power above a noise, the deciles being known.
void weigh(Direction& d, double received_dbw, const Noise& noise, const Asked& asked) {
  d.any = received_dbw > closed_dbw;
  if (!d.any) return;
  d.received_dbw = received_dbw;
  d.snr_db = received_dbw - noise.dbw_per_hz - asked.bandwidth_db;
  d.margin_db = d.snr_db - asked.required_db;
}

/// Share of days on which sporadic E mirrors the band at all, whatever the power.
double most_es_share(const Passage& passage) {
  double most = 0;
  for (const auto& way : passage.es_in_use()) most = std::max(most, way.mode.support_probability);
  return most;
}

/// Share of days by sporadic E at an offset from the stated stations: the better of its ways, which use the
/// same patches.
class EsShare {
 public:
  EsShare(const Passage& passage, const Received& received, double needed_dbw) : ways_(passage.es_in_use()) {
    for (std::size_t k = 0; k < ways_.size(); ++k) spare_db_[k] = received.es_dbw[k] - needed_dbw;
  }
  [[nodiscard]] double operator()(double offset_db) const {
    double best = 0;
    for (std::size_t k = 0; k < ways_.size(); ++k)
      best = std::max(best, ways_[k].odds(spare_db_[k] + offset_db));
    return best;
  }

 private:
  std::span<const Passage::ByEs> ways_;
  std::array<double, es_rays> spare_db_{};
};

/// P.533 section 8 with P.842: day to day, within the hour, and the noise's own deciles.
void add_spread(Direction& d, const Passage& passage, const Noise& noise) {
  d.snr_upper_db = std::sqrt(passage.day_upper_db * passage.day_upper_db +
                             method::hour_upper_db * method::hour_upper_db + noise.lower_db * noise.lower_db);
  d.snr_lower_db = std::sqrt(passage.day_lower_db * passage.day_lower_db +
                             method::hour_lower_db * method::hour_lower_db + noise.upper_db * noise.upper_db);
}

Direction along_the_ground(double received_dbw, const Noise& noise, const noise::Mode& emission) {
  Direction out;
  out.snr_upper_db = std::max(method::least_ground_spread_db, noise.lower_db);
  out.snr_lower_db = std::max(method::least_ground_spread_db, noise.upper_db);
  weigh(out, received_dbw, noise, Asked(emission));
  out.open = out.any;
  out.days_in_ten = out.days_as_assumed = 10 * reliability(out.margin_db, out.snr_upper_db, out.snr_lower_db);
  return out;
}

}  // namespace

double land_share(GeoPoint where) {
  static const auto bearings = [] {
    std::array<std::pair<double, double>, method::land_places> out;  // cosine, sine
    for (std::size_t i = 0; i < out.size(); ++i) {
      const double bearing_deg = 360.0 * static_cast<double>(i) / method::land_places;
      out[i] = {cos_deg(bearing_deg), sin_deg(bearing_deg)};
    }
    return out;
  }();
  const double sin_lat = sin_deg(where.lat_deg);
  const double cos_lat = cos_deg(where.lat_deg);
  double on_land = 0;
  int all = 0;
  for (const double ring_km : method::land_rings_km) {
    // On a sphere: a kilometre beside the ellipsoid's place.
    const double sin_ring = std::sin(ring_km / earth_radius_km);
    const double cos_ring = std::cos(ring_km / earth_radius_km);
    for (const auto& [north, east] : bearings) {
      const double lat_deg = asin_deg(std::clamp(sin_lat * cos_ring + cos_lat * sin_ring * north, -1.0, 1.0));
      const double lon_deg =
          where.lon_deg +
          deg_per_rad * std::atan2(east * sin_ring, cos_lat * cos_ring - sin_lat * sin_ring * north);
      on_land += geodesy::land_about({lat_deg, wrap_180(lon_deg)});
      ++all;
    }
  }
  return std::min(1.0, on_land / (method::inland_share * all));
}

Station unknown_station(double power_w, noise::Environment environment, GeoPoint where) {
  Station out;
  out.power_w = power_w;
  out.home = true;
  out.spread_db = std::hypot(noise::location_deviation_db(environment), partner_rest_db);
  out.environment = environment;
  out.man_made_above_db = home_noise_db;
  out.land_share = land_share(where);
  return out;
}

Level level(const Passage& passage, const geodesy::Path& path, const Station& from, const Station& to,
            const TracedModes* traced) {
  return level(passage, Toward(from, path.bearing_deg, passage.mhz),
               Toward(to, path.return_bearing_deg, passage.mhz), traced);
}

Level level(const Passage& passage, const Toward& here, const Toward& there, const TracedModes* traced) {
  Level out;
  out.any = passage.any();
  const bool alike = here.as(there);
  const auto arriving_dbi = [&](double leaves_deg, double leaves_dbi, double arrives_deg) {
    return alike && arrives_deg == leaves_deg ? leaves_dbi : there.gain_dbi(arrives_deg);
  };
  for (std::size_t k = 0; k < passage.es_in_use().size(); ++k) {
    const Mode& m = passage.es[k].mode;
    const double leaves_deg = passage.leaves_deg(m);
    const double from_dbi = here.gain_dbi(leaves_deg);
    out.es_dbw[k] = from_dbi + arriving_dbi(leaves_deg, from_dbi, passage.arrives_deg(m)) - m.loss_db;
  }
  if (!out.any) return out;
  double sum = 0;
  double best_dbw = closed_dbw;
  for (int i = 0; i < passage.count; ++i) {
    const auto k = static_cast<std::size_t>(i);
    const Mode& m = passage.modes[k];
    const TracedMode* ray = traced == nullptr ? nullptr : traced->find(m);
    const double leaves_deg = ray == nullptr ? passage.leaves_deg(m) : ray->from_deg;
    const double from_dbi = here.gain_dbi(leaves_deg);
    const double to_dbi =
        arriving_dbi(leaves_deg, from_dbi, ray == nullptr ? passage.arrives_deg(m) : ray->to_deg);
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
  if (!any) return closed_dbw;
  if (long_share <= 0) return sent_dbw + modes_dbw;
  const double by_modes = std::max(method::nothing_dbw, sent_dbw + modes_dbw);
  const double by_long = sent_dbw + long_dbw;
  if (long_share >= 1) return by_long;
  // P.533 section 5.4: interpolation of X = 10^(0.01 E). Both shares positive, so that a hopeless field
  // leaves no rounding.
  const double xs = std::pow(10.0, 0.01 * by_modes);
  const double xl = std::pow(10.0, 0.01 * by_long);
  return 100 * std::log10((1 - long_share) * xs + long_share * xl);
}

Received Level::received(double sent_dbw) const {
  return {received_dbw(sent_dbw), {es_dbw[0] + sent_dbw, es_dbw[1] + sent_dbw}};
}

Receiving::Receiving(GeoPoint where, unsigned month, const Station& receiver, double mhz)
    : outside_(
          [&] {
            noise::Conditions c;
            c.environment = receiver.environment;
            c.lat_deg = where.lat_deg;
            c.month = month;
            c.land_share = receiver.land_share;
            c.man_made_above_db = receiver.man_made_above_db;
            return c;
          }(),
          mhz),
      efficiency_(ratio(receiver.efficiency_db)),
      own_((1 - efficiency_) + ratio(receiver.receiver_noise_figure_db) - 1) {}

Noise Receiving::at(const Circuits::EndSky& sky) const {
  Noise out;
  out.sources = outside_.at(sky.solar_hour, sky.zenith_deg, sky.fof2_mhz);
  // P.372, receiver total: the antenna's losses weaken what comes from outside and add their own warmth at
  // T0; the receiver adds its own.
  const auto total_db = [&](double fa_db) { return to_db(ratio(fa_db) * efficiency_ + own_); };
  const auto& outside = out.sources.total;
  const double median_db = total_db(outside.fam_db);
  out.dbw_per_hz = median_db + noise::noise_dbw(0, 1);
  out.upper_db = total_db(outside.fam_db + outside.upper_db) - median_db;
  out.lower_db = median_db - total_db(outside.fam_db - outside.lower_db);
  return out;
}

Noise noise_at(const Circuits::EndSky& sky, GeoPoint where, unsigned month, const Station& receiver,
               double mhz) {
  return Receiving(where, month, receiver, mhz).at(sky);
}

double reliability(double margin_db, double upper_db, double lower_db) {
  // P.533 section 10: 0.5 at margin 0, 0.9 at the lower decile distance above it.
  using namespace method;
  const bool above = margin_db >= 0;
  const double decile_db = above ? lower_db : upper_db;
  const double slope = share_slope * decile_db / (decile_db + std::abs(margin_db));
  return above ? std::min(1.0, share_most - slope) : std::max(0.0, slope - share_least);
}

double reliability(double margin_db, double upper_db, double lower_db, double spread_db) {
  return over_stations(spread_db, [&](double db) { return reliability(margin_db + db, upper_db, lower_db); });
}

double unknown_db(const Station& a, const Station& b) {
  return std::hypot(a.spread_db, b.spread_db, method::method_spread_db);
}

namespace {

/// No less than the share of days by the regular layers over all stations: three steps at a time, each as good as
/// the best of them.
double most_regular(const Direction& d, double spread_db) {
  if (!d.any) return 0;
  const auto at = [&](double db) { return reliability(d.margin_db + db, d.snr_upper_db, d.snr_lower_db); };
  if (spread_db <= 0) return at(0);
  double sum = 0;
  for (std::size_t i = 0; i < normal.size(); i += 3) {
    double weight = 0;
    const std::size_t last = std::min(i + 2, normal.size() - 1);
    for (std::size_t k = i; k <= last; ++k) weight += normal[k].weight;
    sum += weight * at(spread_db * normal[last].deviations);
  }
  return sum;
}

/// Days in ten over all stations; `assumed_too`: the other two as well.
void count_days(Direction& out, const Passage& passage, const Received& received, const Noise& noise,
                const Asked& asked, double spread_db, bool assumed_too) {
  const auto regular = [&](double offset_db) {
    return out.any ? reliability(out.margin_db + offset_db, out.snr_upper_db, out.snr_lower_db) : 0;
  };
  // Judgement: odds of mirroring under one day in 10 000 are not worth their logarithms.
  if (most_es_share(passage) < 1e-4) {
    out.days_in_ten = out.any ? 10 * over_stations(spread_db, regular) : 0;
    if (assumed_too) out.days_as_assumed = 10 * regular(0);
    return;
  }
  // The layers' days are independent; what is not known of a station holds for both.
  const EsShare es(passage, received, noise.dbw_per_hz + asked.bandwidth_db + asked.required_db);
  double by_es = 0;  // alone, over all stations
  const auto either = [&](const Step& step) {
    const double share = es(spread_db * step.deviations);
    by_es += step.weight * share;
    return 1 - (1 - regular(spread_db * step.deviations)) * (1 - share);
  };
  double sum = 0;
  if (spread_db <= 0) {
    sum = either({0, 1});
  } else {
    for (const auto& step : normal) sum += step.weight * either(step);
  }
  out.days_in_ten = 10 * sum;
  if (!assumed_too) return;
  out.days_as_assumed = 10 * (1 - (1 - regular(0)) * (1 - es(0)));
  out.es_days = 10 * by_es;
}

/// Of P.533's ratio and its deciles, and the days.
Direction direction(const Passage& passage, const Received& received, const Noise& noise, const Asked& asked,
                    double spread_db) {
  Direction out;
  add_spread(out, passage, noise);
  weigh(out, received.dbw, noise, asked);
  count_days(out, passage, received, noise, asked, spread_db, true);
  out.open = (out.any && passage.carried) || out.days_in_ten >= method::least_open_days;
  return out;
}

}  // namespace

double days_in_ten(const Passage& passage, const Received& received, const Noise& noise,
                   const noise::Mode& emission, double spread_db, double least) {
  Direction out;
  add_spread(out, passage, noise);
  const Asked asked(emission);
  weigh(out, received.dbw, noise, asked);
  const double es = most_es_share(passage);
  if (least > 10 * es) {
    // Whatever sporadic E adds, it is no more than this; its own odds are the dear part.
    const double most = most_regular(out, spread_db);
    if (10 * (most + es * (1 - most)) < least) return 0;
  }
  count_days(out, passage, received, noise, asked, spread_db, false);
  return out.days_in_ten;
}

Direction direction(const Passage& passage, const Received& received, const Noise& noise,
                    const noise::Mode& emission, double spread_db) {
  return direction(passage, received, noise, Asked(emission), spread_db);
}

double least_dbw(const Passage& passage, const Noise& noise, double days, double spread_db) {
  // Either layer alone: the regular ones must make up what sporadic E cannot at any power.
  const double by_regular = days - 10 * most_es_share(passage);
  if (by_regular <= 0) return closed_dbw;
  Direction d;
  add_spread(d, passage, noise);
  double low = -80, high = 80;  // the days are 0 and 10 there
  while (high - low > 0.5) {
    const double middle = (low + high) / 2;
    (10 * reliability(middle, d.snr_upper_db, d.snr_lower_db, spread_db) < by_regular ? low : high) = middle;
  }
  return noise.dbw_per_hz + low;
}

BothWays directions(const Passage& passage, const Received& there, const Received& back,
                    const Noise& noise_from, const Noise& noise_to, const noise::Mode& emission,
                    double spread_db) {
  return directions(passage, there, back, noise_from, noise_to, Asked(emission), spread_db);
}

BothWays directions(const Passage& passage, const Received& there, const Received& back,
                    const Noise& noise_from, const Noise& noise_to, const Asked& asked, double spread_db) {
  BothWays out;
  out.there = direction(passage, there, noise_to, asked, spread_db);
  out.back = direction(passage, back, noise_from, asked, spread_db);
  out.days_in_ten = both_ways(out.there.days_in_ten, out.back.days_in_ten);
  out.days_as_assumed = both_ways(out.there.days_as_assumed, out.back.days_as_assumed);
  // One path: open in both directions or in neither.
  out.there.open = out.back.open =
      (out.there.any && passage.carried) || out.days_in_ten >= method::least_open_days;
  return out;
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
