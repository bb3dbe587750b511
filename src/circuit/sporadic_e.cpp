#include "skerry/circuit/sporadic_e.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <numbers>

#include "formulas.hpp"
#include "skerry/core/units.hpp"

namespace skerry::circuit {

namespace {

// Source: Rec. ITU-R P.534 and P.2001 annex G (from memory): the loss law's numbers.
constexpr double near_db = 40;
constexpr double near_linear_km = 130;
constexpr double near_square_km = 250;
constexpr double far_db = 0.2;
constexpr double far_square_km = 2600;
constexpr double end_km = 1660;
constexpr double end_slope_km = 280;

// Judgement: 114 dB beyond the geometrical end, more than any station has to spare.
constexpr double most_hop_km = 3000;
// Judgement: shorter paths are one hop's; the odds of two come in between these two, so that nothing jumps.
constexpr double two_hops_from_km = 1500;
constexpr double two_hops_whole_km = 1800;

// Measured: see es_latitude_share.
constexpr double latitude_from_deg = 55;
constexpr double latitude_to_deg = 65;
constexpr double latitude_share = 0.3;

// Judgement: no month's days lie closer than this: a tenth between the median and either decile.
constexpr double least_decile_ratio = 1.1;
// Source: the normal law: its upper decile in standard deviations.
constexpr double decile_deviations = 1.2815515655446004;

/// Standard deviations for each unit of ln(foEs).
double per_log(double higher_mhz, double lower_mhz) {
  return decile_deviations / std::log(std::max(higher_mhz / lower_mhz, least_decile_ratio));
}

double straight(double x, double from, double to) {
  return std::clamp((x - from) / (to - from), 0.0, 1.0);
}

}  // namespace

std::optional<EsRay> es_ray(double path_km, int hops) {
  assert(path_km > 0 && (hops == 1 || hops == 2));
  const double d = path_km / hops;
  if (d > most_hop_km || (hops == 2 && path_km <= two_hops_from_km)) return std::nullopt;
  EsRay out;
  out.hops = hops;
  out.elevation_deg = std::max(0.0, elevation_deg(d, e_height_km));
  out.slant_km = hops * hop_slant_km(d, e_height_km);
  out.secant = incidence_secant(cos_deg(out.elevation_deg), e_height_km);
  out.end_db = std::exp((d - end_km) / end_slope_km);
  const double near = d / near_square_km;
  const double far = d / far_square_km;
  out.per_square_db = near_db / (1 + d / near_linear_km + near * near) + far_db * far * far;
  out.share = hops == 1 ? 1 : straight(path_km, two_hops_from_km, two_hops_whole_km);
  return out;
}

double es_latitude_share(double geomagnetic_lat_deg) {
  return 1 -
         (1 - latitude_share) * straight(std::abs(geomagnetic_lat_deg), latitude_from_deg, latitude_to_deg);
}

EsLayer::EsLayer(const ionosphere::Foes& foes)
    : log_median_(std::log(foes.median_mhz)),
      per_log_below_(per_log(foes.median_mhz, foes.lower_mhz)),
      per_log_above_(per_log(foes.upper_mhz, foes.median_mhz)) {}

double EsLayer::exceeds(double log_mhz) const {
  const double x = log_mhz - log_median_;
  return 0.5 * std::erfc(x * (x > 0 ? per_log_above_ : per_log_below_) / std::numbers::sqrt2);
}

EsOdds::EsOdds(const EsRay& ray, double mhz) {
  std::array<EsLayer, 2> layers;
  for (std::size_t i = 0; i < static_cast<std::size_t>(ray.hops); ++i) layers[i] = EsLayer(ray.foes[i]);
  *this = of_geometry(ray, mhz).under(layers, ray.share);
}

EsOdds EsOdds::of_geometry(const EsRay& ray, double mhz) {
  assert(mhz > 0);
  EsOdds out;
  out.hops_ = ray.hops;
  out.end_db_ = ray.hops * ray.end_db;
  out.loss_db_mhz2_ = ray.hops * ray.per_square_db * mhz * mhz;
  out.least_log_mhz_ = std::log(mhz / ray.secant);
  out.enough_db_ = out.end_db_ + out.loss_db_mhz2_ * std::exp(-2 * out.least_log_mhz_);
  return out;
}

EsOdds EsOdds::under(const std::array<EsLayer, 2>& layers, double share) const {
  EsOdds out = *this;
  out.layers_ = layers;
  out.share_ = share;
  out.most_ = out.at(out.least_log_mhz_);
  return out;
}

double EsOdds::operator()(double spare_db) const {
  const double for_layer_db = spare_db - end_db_;
  if (for_layer_db <= 0) return 0;
  if (spare_db >= enough_db_) return most_;
  return at(std::max(least_log_mhz_, 0.5 * std::log(loss_db_mhz2_ / for_layer_db)));
}

double EsOdds::at(double log_mhz) const {
  double out = share_;
  for (std::size_t i = 0; i < static_cast<std::size_t>(hops_); ++i) out *= layers_[i].exceeds(log_mhz);
  return out;
}

double es_odds(const EsRay& ray, double mhz, double spare_db) {
  return EsOdds(ray, mhz)(spare_db);
}

double es_loss_db(const EsRay& ray, double mhz, double foes_mhz) {
  assert(foes_mhz > 0);
  const double ratio = mhz / foes_mhz;
  return ray.hops * (ray.end_db + ray.per_square_db * ratio * ratio);
}

}  // namespace skerry::circuit
