// The inner loop: one path, one hour, one frequency. P.533 sections 4 and 5. Allocates nothing.

#include <optional>

#include "data.hpp"
#include "edge.hpp"
#include "skerry/core/nth.hpp"

namespace skerry::circuit {

namespace {

using namespace method;

/// What one frequency makes of a path at any hour: whole modes of the layers whose rays no hour changes, their absorption
/// for an hour's index of 1.
struct Tuning {
  explicit Tuning(double frequency_mhz) : mhz(frequency_mhz), bounce(std::log10(frequency_mhz)) {}
  double mhz, log_db = 20 * std::log10(mhz);  ///< 20 log10 f
  BounceLoss bounce;
  struct ByE {
    Mode mode;
    double whole = 1;  ///< as EHop's
  };
  std::array<ByE, e_modes> e;
  int e_count = 0;
  std::array<Passage::ByEs, es_rays> es;
  int es_count = 0;
  double es_known = 0;  ///< 0..1, how far sporadic E is trusted on this frequency
  /// Absorption by F2 modes for each unit of index: of the last gyrofrequency asked for.
  double f2_gyro_mhz = -1, f2_per_index = 0;
};

struct Request {
  const PathData& path;
  const Settings& settings;
  const Tuning& at;
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
  return r.at.bounce(on_land, hops - 1 - on_land, elevation);
}

/// Over what stands in front of either end, dB.
double edges_db(const Request& r, double elevation_deg) {
  const auto& h = r.path.horizon;
  return skyline_db(h.from, elevation_deg, r.at.mhz) + skyline_db(h.to, elevation_deg, r.at.mhz);
}

/// The losses that need the hops and the elevation. whole: as EHop's.
void bounce_and_end(const Request& r, Mode& m, double whole) {
  const double sunk_deg = std::max(0.0, -m.elevation_deg);
  m.elevation_deg += sunk_deg;
  m.ground_db = bounces_db(r, m.hops, m.elevation_deg);
  m.skyline_db = edges_db(r, m.elevation_deg);
  m.other_db = other_losses_db + faded_db(whole) + sunk_db_per_deg * sunk_deg;
}

double all_losses_db(const Mode& m) {
  return m.free_space_db + m.absorption_db + m.above_muf_db + m.ground_db + m.screening_db + m.auroral_db +
         m.skyline_db + m.other_db;
}

/// Absorption of one vertical passage per unit of index. Source: Lucas and Haydon 1966.
double absorption_per_index(double mhz, double gyro_mhz) {
  return absorption_scale / (std::pow(mhz + gyro_mhz, absorption_exponent) + absorption_offset);
}

void tune_e_modes(const PathData& p, const Settings& settings, Tuning& at) {
  if (p.e_order == 0) return;
  const double per_index = absorption_per_index(at.mhz, p.e_gyro_mhz);
  for (std::size_t k = 0; k < e_modes; ++k) {
    const EHop& ray = p.e[k];
    auto& out = at.e[k];
    out.whole = ray.whole;
    out.mode.hops = 0;
    if (ray.whole <= 0 || ray.elevation_deg < -most_sunk_deg) continue;
    Mode& m = out.mode;
    m.layer = Layer::e;
    m.hops = p.e_order + static_cast<int>(k);
    m.reflection_height_km = e_height_km;
    m.elevation_deg = ray.elevation_deg;
    m.slant_km = ray.slant_km;
    m.free_space_db = ray.slant_db + at.log_db;
    m.absorption_db = m.hops * per_index * ray.absorption_secant;
    bounce_and_end({p, settings, at}, m, ray.whole);
  }
}

void tune_es_ways(const PathData& p, const Settings& settings, Tuning& at) {
  at.es_known = std::clamp((at.mhz - es_from_mhz) / (es_whole_mhz - es_from_mhz), 0.0, 1.0);
  if (p.es_count == 0 || at.es_known <= 0) return;
  const Request r{p, settings, at};
  const double per_index = absorption_per_index(at.mhz, p.e_gyro_mhz);
  for (std::size_t k = 0; k < static_cast<std::size_t>(p.es_count); ++k) {
    const EsWay& way = p.es[k];
    auto& out = nth(at.es, at.es_count++);
    out.ray = way.ray;
    out.odds = EsOdds::of_geometry(way.ray, at.mhz);
    Mode& m = out.mode;
    m.layer = Layer::es;
    m.hops = way.ray.hops;
    m.reflection_height_km = e_height_km;
    m.elevation_deg = way.ray.elevation_deg;
    m.slant_km = way.ray.slant_km;
    m.free_space_db = way.slant_db + at.log_db;
    m.absorption_db = m.hops * per_index * way.absorption_secant;
    m.ground_db = bounces_db(r, m.hops, m.elevation_deg);
    m.skyline_db = edges_db(r, m.elevation_deg);
  }
}

void add_e_modes(const Tuning& at, const Hour& hour, Passage& passage) {
  for (std::size_t k = 0; k < e_modes; ++k) {
    if (at.e[k].mode.hops == 0) continue;  // no such ray
    const double muf = hour.e_mhz[k];
    Mode& m = nth(passage.modes, passage.count++);
    m = at.e[k].mode;
    m.basic_muf_mhz = muf;
    m.support_probability = support_probability(at.mhz, muf, e_lower_decile, e_upper_decile) * at.e[k].whole;
    m.above_muf_db = above_muf_db(e_above_muf, at.mhz, muf);
    m.absorption_db *= hour.e_index;
    m.auroral_db = hour.auroral_db;
    m.loss_db = all_losses_db(m);
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

/// An F2 mode's ray, all that follows from its mirror's height.
struct F2Ray {
  double height_km = 0;
  HopRay hop;
  double e_secant = 1, absorption_secant = 1, slant_db = 0;
};
F2Ray f2_ray(const HopCut& cut, int hops, double height_km) {
  F2Ray out;
  out.height_km = height_km;
  out.hop = hop_ray(cut, height_km);
  if (out.hop.elevation_deg < -most_sunk_deg) return out;
  out.e_secant = incidence_secant(out.hop.cos_elevation, e_height_km);
  out.absorption_secant = incidence_secant(out.hop.cos_elevation, absorption_height_km);
  out.slant_db = 20 * std::log10(hops * out.hop.slant_km);
  return out;
}

/// What the frequencies of an hour share, each piece when the first of them asks for it.
struct Shared {
  /// Above the basic MUF a ray keeps the geometry it has at the basic MUF (section 5.3, absorption).
  std::array<std::optional<F2Ray>, f2_modes> at_muf;
  std::optional<std::array<std::array<EsLayer, 2>, es_rays>> es;
};

void add_f2_modes(const PathData& p, const Settings& settings, const Hour& hour, Tuning& at, Shared& shared,
                  Passage& passage) {
  const Request r{p, settings, at};
  if (at.f2_gyro_mhz != hour.f2_gyro_mhz) {
    at.f2_gyro_mhz = hour.f2_gyro_mhz;
    at.f2_per_index = absorption_per_index(at.mhz, hour.f2_gyro_mhz);
  }
  std::optional<Mirrors> mirrors;
  for (std::size_t k = 0; k < f2_modes; ++k) {
    const double muf = hour.f2_mhz[k];
    const int hops = hour.f2_order + static_cast<int>(k);
    const HopCut& cut = nth(p.cuts, hops);
    F2Ray own;
    const F2Ray* ray = &own;
    if (at.mhz <= muf) {
      if (!mirrors) mirrors.emplace(hour, at.mhz);
      own = f2_ray(cut, hops, mirrors->height_km(cut.km));
    } else {
      auto& kept = shared.at_muf[k];
      if (!kept) kept = f2_ray(cut, hops, Mirrors(hour, muf).height_km(cut.km));
      ray = &*kept;
    }
    if (ray->hop.elevation_deg < -most_sunk_deg) continue;
    // Section 4: the E layer underneath must let it through, going up and coming down.
    const double of_e_muf = at.mhz / (hour.screening_foe_mhz * ray->e_secant);
    const double whole = k == 0 ? 1 - hour.order_share : 1;
    Mode& m = nth(passage.modes, passage.count++);
    m = Mode{};
    m.layer = Layer::f2;
    m.hops = hops;
    m.basic_muf_mhz = muf;
    m.support_probability = support_probability(at.mhz, muf, f2_lower_decile, f2_upper_decile) * whole;
    m.reflection_height_km = ray->height_km;
    m.elevation_deg = ray->hop.elevation_deg;
    m.slant_km = hops * ray->hop.slant_km;
    m.above_muf_db = above_muf_db(f2_above_muf, at.mhz, muf);
    m.free_space_db = method::free_space_db + at.log_db + ray->slant_db;
    m.screening_db = screening_db * std::clamp((screening_top - of_e_muf) / screening_breadth, 0.0, 1.0);
    m.absorption_db = hops * hour.f2_index * at.f2_per_index * ray->absorption_secant;
    m.auroral_db = hour.auroral_db;
    bounce_and_end(r, m, whole);
    m.loss_db = all_losses_db(m);
  }
}

void add_es_ways(const PathData& p, const ionosphere::SporadicE& es, int hour, const Tuning& at,
                 Shared& shared, Passage& passage) {
  if (at.es_count == 0) return;
  // The maps hold the ordinary E layer too: its days are counted already, by its own modes.
  double ordinary = 0;
  for (const auto& m : passage.in_use()) {
    if (m.layer == Layer::e) ordinary = std::max(ordinary, m.support_probability);
  }
  const bool first = !shared.es;
  if (first) shared.es.emplace();
  for (std::size_t k = 0; k < static_cast<std::size_t>(at.es_count); ++k) {
    auto& out = nth(passage.es, passage.es_count++);
    out = at.es[k];
    out.ray.share *= at.es_known * (1 - ordinary);
    auto& layers = nth(*shared.es, k);
    for (int hop = 0; hop < out.ray.hops; ++hop) {
      nth(out.ray.foes, hop) = es.at(nth(p.es[k].rows, hop), hour);
      if (first) nth(layers, hop) = EsLayer(nth(out.ray.foes, hop));
    }
    Mode& m = out.mode;
    m.basic_muf_mhz = out.ray.foes.front().median_mhz * out.ray.secant;
    out.odds = out.odds.under(layers, out.ray.share);
    m.support_probability = out.odds.most();
    m.absorption_db *= nth(p.hours, hour).e_index;
    m.loss_db = m.free_space_db + m.absorption_db + m.ground_db + m.skyline_db;
  }
}

void add_long(const Request& r, const Hour& hour, Passage& passage) {
  const PathData& p = r.path;
  const double d = p.path.distance_km;
  if (!by_limits(r.settings, d)) return;
  const double upper = hour.long_upper_mhz;
  const double lower = hour.long_lower_mhz;
  const double fh = p.long_gyro_mhz;
  // Judgement: at fM the method's field has sunk 36 dB under free space by its own law; beyond it we call the
  // path closed.
  if (r.at.mhz > upper) return;
  passage.long_share = std::min(1.0, (d - hops_only_km) / (long_only_km - hops_only_km));
  const double a = (upper + fh) * (upper + fh);
  const double b = (lower + fh) * (lower + fh);
  const double f = (r.at.mhz + fh) * (r.at.mhz + fh);
  const double q = a / (a + b) * (b / f + f / a);
  // Etl for 0 dBW and 0 dBi, then to the power of an isotropic receiver (section 7).
  const double field_db =
      p.long_e0_db * (1 - q) - long_field_offset_db - kilowatt_dbw + p.long_focus_db - long_residual_db;
  const double over_edges_db = edges_db(r, p.long_elevation_deg);
  passage.long_loss_db = over_edges_db - (field_db - r.at.log_db - field_to_power_db);
  passage.long_lower_share = (b / f) / (b / f + f / a);
  Mode& m = passage.long_mode;
  m = Mode{};
  m.layer = Layer::f2;
  m.hops = p.long_hops;
  m.elevation_deg = p.long_elevation_deg;
  m.reflection_height_km = long_height_km;
  m.slant_km = p.long_slant_km;
  m.basic_muf_mhz = hour.basic_muf_mhz;
  m.support_probability = support_probability(r.at.mhz, hour.basic_muf_mhz, f2_lower_decile, f2_upper_decile);
  m.free_space_db = method::free_space_db + r.at.log_db + 20 * std::log10(m.slant_km);
  m.focusing_db = -p.long_focus_db;
  m.other_db = long_residual_db;
  m.skyline_db = over_edges_db;
  m.loss_db = passage.long_loss_db;
  // What the two limit frequencies take away is this method's absorption and MUF loss in one.
  m.absorption_db = m.loss_db - m.free_space_db - m.focusing_db - m.skyline_db - m.other_db;
}

void fill(const Circuits::Data& circuits, const PathData& p, int hour, Tuning& at, Shared& shared,
          Passage& out) {
  const Settings& settings = circuits.settings;
  const Hour& of_hour = nth(p.hours, hour);
  out.count = out.es_count = 0;
  out.carried = false;
  out.long_share = out.long_loss_db = out.long_lower_share = 0;
  out.mhz = at.mhz;
  out.least_from_deg = std::max(0.0, p.horizon.from.deg);
  out.least_to_deg = std::max(0.0, p.horizon.to.deg);
  if (of_hour.f2_order > 0) {
    add_e_modes(at, of_hour, out);
    add_f2_modes(p, settings, of_hour, at, shared, out);
  }
  add_es_ways(p, circuits.es, hour, at, shared, out);
  add_long({p, settings, at}, of_hour, out);
  for (const auto& m : out.in_use()) out.carried = out.carried || m.support_probability > 0;
  out.carried = out.carried || out.long_share > 0;
  const double beyond_deg = std::abs(p.middle_geomagnetic_lat_deg) - high_latitude_deg;
  const auto days = day_deciles(at.mhz / of_hour.basic_muf_mhz,
                                std::clamp(0.5 + beyond_deg / (2 * high_latitude_breadth_deg), 0.0, 1.0));
  out.day_upper_db = days.upper_db;
  out.day_lower_db = days.lower_db;
}

Tuning tuned(const Circuits::Data& circuits, const PathData& p, double mhz) {
  Tuning out(mhz);
  tune_e_modes(p, circuits.settings, out);
  tune_es_ways(p, circuits.settings, out);
  return out;
}

}  // namespace

struct Circuits::Tuned::Data {
  const Circuits::Data& circuits;
  const PathData& path;
  std::vector<Tuning> tunings;
  int hour = 0;
  Shared shared;  ///< of the hour
};

Circuits::Tuned::Tuned(const Circuits& circuits, std::size_t index, std::span<const double> mhz)
    : data_(new Data{*circuits.data_, circuits.data_->paths[index], {}, 0, {}}) {
  data_->tunings.reserve(mhz.size());
  for (const double one : mhz) data_->tunings.push_back(tuned(data_->circuits, data_->path, one));
}
Circuits::Tuned::Tuned(Tuned&&) noexcept = default;
Circuits::Tuned& Circuits::Tuned::operator=(Tuned&&) noexcept = default;
Circuits::Tuned::~Tuned() = default;

void Circuits::Tuned::begin(int hour) {
  data_->hour = hour;
  data_->shared = {};
}

void Circuits::Tuned::fill(std::size_t i, Passage& out) {
  circuit::fill(data_->circuits, data_->path, data_->hour, data_->tunings[i], data_->shared, out);
}

Passage Circuits::passage(std::size_t index, int hour, double mhz) const {
  const PathData& p = data_->paths[index];
  Passage out;
  Tuning at = tuned(*data_, p, mhz);
  Shared shared;
  circuit::fill(*data_, p, hour, at, shared, out);
  return out;
}

}  // namespace skerry::circuit
