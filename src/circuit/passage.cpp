// The inner loop: one path, one hour, one frequency. P.533 sections 4 and 5. Allocates nothing.

#include "data.hpp"
#include "edge.hpp"
#include "skerry/core/nth.hpp"

namespace skerry::circuit {

namespace {

using namespace method;

struct Request {
  const PathData& path;
  const Hour& hour;
  const Settings& settings;
  double mhz, log_db;  ///< 20 log10 f
  BounceLoss bounce;
};

/// The mean of the law over muf_breadth to either side.
double above_muf_db(const AboveMuf& law, double mhz, double basic_muf_mhz) {
  const auto integral = [&](double above) {
    return above <= 0 ? 0 : above * (law.slope_db * (2.0 / 3) * std::sqrt(above) + law.step_db);
  };
  const double above = mhz / basic_muf_mhz - 1;
  if (above <= -muf_breadth) return 0;
  return std::min((integral(above + muf_breadth) - integral(above - muf_breadth)) / (2 * muf_breadth),
                  law.most_db);
}

/// Power lost where only a share of a mode is left, dB.
double faded_db(double share) {
  return share >= 1 ? 0 : -20 * std::log10(share);
}

double bounces_db(const Request& r, int hops, double elevation) {
  if (hops < 2) return 0;
  if (r.settings.ground_loss == GroundLoss::fixed_2_db) return fixed_bounce_db * (hops - 1);
  const double on_land = nth(r.path.land, hops);
  return r.bounce(on_land, hops - 1 - on_land, elevation);
}

/// Over what stands in front of either end, dB.
double edges_db(const Request& r, double elevation_deg) {
  const auto& h = r.path.horizon;
  return skyline_db(h.from, elevation_deg, r.mhz) + skyline_db(h.to, elevation_deg, r.mhz);
}

/// The losses that need the hops and the elevation, and the sum. whole: as EHop's.
void finish(const Request& r, Mode& m, double whole) {
  const double sunk_deg = std::max(0.0, -m.elevation_deg);
  m.elevation_deg += sunk_deg;
  m.ground_db = bounces_db(r, m.hops, m.elevation_deg);
  m.auroral_db = r.hour.auroral_db;
  m.skyline_db = edges_db(r, m.elevation_deg);
  m.support_probability *= whole;
  m.other_db = other_losses_db + faded_db(whole) + sunk_db_per_deg * sunk_deg;
  m.loss_db = m.free_space_db + m.absorption_db + m.above_muf_db + m.ground_db + m.screening_db +
              m.auroral_db + m.skyline_db + m.other_db;
}

/// Absorption of one vertical passage per unit of index. Source: Lucas and Haydon 1966.
double absorption_per_index(double mhz, double gyro_mhz) {
  return absorption_scale / (std::pow(mhz + gyro_mhz, absorption_exponent) + absorption_offset);
}

void add_e_modes(const Request& r, Passage& passage) {
  const PathData& p = r.path;
  if (p.e_order == 0) return;
  const double per_index = absorption_per_index(r.mhz, p.e_gyro_mhz);
  for (std::size_t k = 0; k < e_modes; ++k) {
    const double muf = r.hour.e_mhz[k];
    const EHop& ray = p.e[k];
    if (ray.whole <= 0 || ray.elevation_deg < -most_sunk_deg) continue;
    Mode& m = nth(passage.modes, passage.count++);
    m.layer = Layer::e;
    m.hops = p.e_order + static_cast<int>(k);
    m.basic_muf_mhz = muf;
    m.support_probability = support_probability(r.mhz, muf, e_lower_decile, e_upper_decile);
    m.reflection_height_km = e_height_km;
    m.elevation_deg = ray.elevation_deg;
    m.slant_km = ray.slant_km;
    m.above_muf_db = above_muf_db(e_above_muf, r.mhz, muf);
    m.free_space_db = ray.slant_db + r.log_db;
    m.absorption_db = m.hops * r.hour.e_index * per_index * ray.absorption_secant;
    finish(r, m, ray.whole);
  }
}

/// What one frequency makes of all the hour's mirrors.
class Mirrors {
 public:
  Mirrors(const Hour& hour, double mhz) : weights_(hour.mirror_weights), count_(hour.mirror_count) {
    for (std::size_t i = 0; i < static_cast<std::size_t>(count_); ++i)
      at_[i] = mirror_at(hour.mirrors[i], mhz);
  }
  [[nodiscard]] double height_km(double hop_km) const {
    double sum = 0;
    for (std::size_t i = 0; i < static_cast<std::size_t>(count_); ++i)
      sum += weights_[i] * mirror_height_km(at_[i], hop_km);
    return sum;
  }

 private:
  std::array<MirrorAt, 5> at_;
  const std::array<double, 5>& weights_;
  int count_;
};

void add_f2_modes(const Request& r, Passage& passage) {
  const Hour& hour = r.hour;
  const double per_index = absorption_per_index(r.mhz, hour.f2_gyro_mhz);
  const Mirrors mirrors(hour, r.mhz);
  for (std::size_t k = 0; k < f2_modes; ++k) {
    const double muf = hour.f2_mhz[k];
    const int hops = hour.f2_order + static_cast<int>(k);
    const HopCut& cut = nth(r.path.cuts, hops);
    // Above the basic MUF the ray keeps the geometry it has at the basic MUF (section 5.3, absorption).
    const double height = r.mhz <= muf ? mirrors.height_km(cut.km) : Mirrors(hour, muf).height_km(cut.km);
    const HopRay ray = hop_ray(cut, height);
    if (ray.elevation_deg < -most_sunk_deg) continue;
    // Section 4: the E layer underneath must let it through, going up and coming down.
    const double of_e_muf =
        r.mhz / (hour.screening_foe_mhz * incidence_secant(ray.cos_elevation, e_height_km));
    Mode& m = nth(passage.modes, passage.count++);
    m.layer = Layer::f2;
    m.hops = hops;
    m.basic_muf_mhz = muf;
    m.support_probability = support_probability(r.mhz, muf, f2_lower_decile, f2_upper_decile);
    m.reflection_height_km = height;
    m.elevation_deg = ray.elevation_deg;
    m.slant_km = hops * ray.slant_km;
    m.above_muf_db = above_muf_db(f2_above_muf, r.mhz, muf);
    m.free_space_db = method::free_space_db + r.log_db + 20 * std::log10(m.slant_km);
    m.screening_db = screening_db * std::clamp((screening_top - of_e_muf) / screening_breadth, 0.0, 1.0);
    m.absorption_db =
        hops * hour.f2_index * per_index * incidence_secant(ray.cos_elevation, absorption_height_km);
    finish(r, m, k == 0 ? 1 - hour.order_share : 1);
  }
}

void add_es_ways(const Request& r, const ionosphere::SporadicE& es, int hour, Passage& passage) {
  const double known = std::clamp((r.mhz - es_from_mhz) / (es_whole_mhz - es_from_mhz), 0.0, 1.0);
  if (r.path.es_count == 0 || known <= 0) return;
  // The maps hold the ordinary E layer too: its days are counted already, by its own modes.
  double ordinary = 0;
  for (const auto& m : passage.in_use()) {
    if (m.layer == Layer::e) ordinary = std::max(ordinary, m.support_probability);
  }
  const double per_index = absorption_per_index(r.mhz, r.path.e_gyro_mhz);
  for (std::size_t k = 0; k < static_cast<std::size_t>(r.path.es_count); ++k) {
    const EsWay& way = r.path.es[k];
    auto& out = nth(passage.es, passage.es_count++);
    out.ray = way.ray;
    out.ray.share *= known * (1 - ordinary);
    for (int hop = 0; hop < way.ray.hops; ++hop) nth(out.ray.foes, hop) = es.at(nth(way.rows, hop), hour);
    Mode& m = out.mode;
    m.layer = Layer::es;
    m.hops = way.ray.hops;
    m.basic_muf_mhz = out.ray.foes.front().median_mhz * way.ray.secant;
    out.odds = EsOdds(out.ray, r.mhz);
    m.support_probability = out.odds.most();
    m.reflection_height_km = e_height_km;
    m.elevation_deg = way.ray.elevation_deg;
    m.slant_km = way.ray.slant_km;
    m.free_space_db = way.slant_db + r.log_db;
    m.absorption_db = m.hops * r.hour.e_index * per_index * way.absorption_secant;
    m.ground_db = bounces_db(r, m.hops, m.elevation_deg);
    m.skyline_db = edges_db(r, m.elevation_deg);
    m.loss_db = m.free_space_db + m.absorption_db + m.ground_db + m.skyline_db;
  }
}

void add_long(const Request& r, Passage& passage) {
  const PathData& p = r.path;
  const double d = p.path.distance_km;
  if (!by_limits(r.settings, d)) return;
  const double upper = r.hour.long_upper_mhz;
  const double lower = r.hour.long_lower_mhz;
  const double fh = p.long_gyro_mhz;
  // Judgement: at fM the method's field has sunk 36 dB under free space by its own law; beyond it we call the
  // path closed.
  if (r.mhz > upper) return;
  passage.long_share = std::min(1.0, (d - hops_only_km) / (long_only_km - hops_only_km));
  const double a = (upper + fh) * (upper + fh);
  const double b = (lower + fh) * (lower + fh);
  const double f = (r.mhz + fh) * (r.mhz + fh);
  const double q = a / (a + b) * (b / f + f / a);
  // Etl for 0 dBW and 0 dBi, then to the power of an isotropic receiver (section 7).
  const double field_db =
      p.long_e0_db * (1 - q) - long_field_offset_db - kilowatt_dbw + p.long_focus_db - long_residual_db;
  const double over_edges_db = edges_db(r, p.long_elevation_deg);
  passage.long_loss_db = over_edges_db - (field_db - r.log_db - field_to_power_db);
  passage.long_lower_share = (b / f) / (b / f + f / a);
  Mode& m = passage.long_mode;
  m = Mode{};
  m.layer = Layer::f2;
  m.hops = p.long_hops;
  m.elevation_deg = p.long_elevation_deg;
  m.reflection_height_km = long_height_km;
  m.slant_km = p.long_slant_km;
  m.basic_muf_mhz = r.hour.basic_muf_mhz;
  m.support_probability = support_probability(r.mhz, r.hour.basic_muf_mhz, f2_lower_decile, f2_upper_decile);
  m.free_space_db = method::free_space_db + r.log_db + 20 * std::log10(m.slant_km);
  m.focusing_db = -p.long_focus_db;
  m.other_db = long_residual_db;
  m.skyline_db = over_edges_db;
  m.loss_db = passage.long_loss_db;
  // What the two limit frequencies take away is this method's absorption and MUF loss in one.
  m.absorption_db = m.loss_db - m.free_space_db - m.focusing_db - m.skyline_db - m.other_db;
}

}  // namespace

Passage Circuits::passage(std::size_t index, int hour, double mhz) const {
  const PathData& p = data_->paths[index];
  const Hour& at = nth(p.hours, hour);
  Passage out;
  out.mhz = mhz;
  const double log10_mhz = std::log10(mhz);
  const Request r{p, at, data_->settings, mhz, 20 * log10_mhz, BounceLoss(log10_mhz)};
  out.least_from_deg = std::max(0.0, p.horizon.from.deg);
  out.least_to_deg = std::max(0.0, p.horizon.to.deg);
  if (at.f2_order > 0) {
    add_e_modes(r, out);
    add_f2_modes(r, out);
  }
  add_es_ways(r, data_->es, hour, out);
  add_long(r, out);
  for (const auto& m : out.in_use()) out.carried = out.carried || m.support_probability > 0;
  out.carried = out.carried || out.long_share > 0;
  const double beyond_deg = std::abs(p.middle_geomagnetic_lat_deg) - high_latitude_deg;
  const auto days = day_deciles(mhz / at.basic_muf_mhz,
                                std::clamp(0.5 + beyond_deg / (2 * high_latitude_breadth_deg), 0.0, 1.0));
  out.day_upper_db = days.upper_db;
  out.day_lower_db = days.lower_db;
  return out;
}

}  // namespace skerry::circuit
