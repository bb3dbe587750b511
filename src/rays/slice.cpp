#include "skerry/rays/slice.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "skerry/core/units.hpp"

namespace skerry::rays {

namespace {

/// Judgement: hmF2 over ymF2; between 2.5 and 5 the MUF over 3000 km changes by 2 % at most (tests/rays).
constexpr double peak_to_half = 3.5;
/// Where the straight rise ends: this many times foE. Source: Bradley and Dudeney 1973 (from memory). Judgement: where
/// foE comes near foF2, it ends at this share of the F2 layer's density at most, under the peak's flat top.
constexpr double joint_to_foe = 1.7, joint_most = 0.9;
/// Judgement: the rise takes this much height at least, and F2 peaks no lower.
constexpr double least_rise_km = 5, least_peak_km = 150;
/// Quasi-parabolic layer: N = Nm (1 - u^2), u = (r - rm) rb / (ym r), rb = rm - ym.
/// Source: Croft and Hoogasian, Radio Science 3 (1968) (from memory).
struct Quasi {
  double u, per_km_up;
};
Quasi quasi(double radius_km, double peak_radius_km, double half_km) {
  const double q = peak_radius_km / half_km - 1;
  return {(1 - peak_radius_km / radius_km) * q, peak_radius_km * q / (radius_km * radius_km)};
}

}  // namespace

double f2_peak_km(double fof2_mhz, double foe_mhz, double m3, double r12) {
  const double x = std::max(fof2_mhz / foe_mhz, 1.8);
  const double dm = 0.18 / (x - 1.4) + 0.096 * (r12 - 25) / 150;
  return std::max(1490 / (m3 + dm) - 176, least_peak_km);
}

Layers joined(double e_mhz2, double f2_mhz2, double peak_km, double half_km) {
  Layers out{e_mhz2, f2_mhz2, peak_km, half_km, 0};
  const double share = std::min(joint_to_foe * joint_to_foe * e_mhz2 / f2_mhz2, joint_most);
  const double rm = earth_radius_km + peak_km;
  const double q = rm / half_km - 1;
  // u = -sqrt(1 - share) solved for the radius.
  out.joint_km = std::max(rm / (1 + std::sqrt(1 - share) / q) - earth_radius_km, e_peak_km + least_rise_km);
  return out;
}

Layers layers(double fof2_mhz, double foe_mhz, double m3, double r12) {
  const double peak = f2_peak_km(fof2_mhz, foe_mhz, m3, r12);
  return joined(foe_mhz * foe_mhz, fof2_mhz * fof2_mhz, peak, peak / peak_to_half);
}

Slice::Slice(std::vector<Layers> at, double step) : at_(std::move(at)), step_km_(step) {
  assert(!at_.empty() && step > 0);
  for (std::size_t i = 0; i + 1 < at_.size(); ++i) {
    const auto &a = at_[i], &b = at_[i + 1];
    change_.push_back({(b.e_mhz2 - a.e_mhz2) / step, (b.f2_mhz2 - a.f2_mhz2) / step,
                       (b.peak_km - a.peak_km) / step, (b.half_km - a.half_km) / step,
                       (b.joint_km - a.joint_km) / step});
  }
}

Slice Slice::reversed(double km) const {
  if (change_.empty()) return *this;
  Slice out(std::vector<Layers>(at_.rbegin(), at_.rend()), step_km_);
  out.start_km_ = km - step_km_ * static_cast<double>(at_.size() - 1) - start_km_;
  return out;
}

/// Between two places: the nearer one back, how far beyond it, and the change; none where all is alike.
struct Slice::Between {
  const Layers* from;
  const Layers* change;
  double km;
};

Slice::Between Slice::between(double at_km) const {
  const double steps = change_.empty() ? 0 : (at_km - start_km_) / step_km_;
  if (change_.empty() || steps <= 0) return {&at_.front(), nullptr, 0};
  if (steps >= static_cast<double>(change_.size())) return {&at_.back(), nullptr, 0};
  const auto i = static_cast<std::size_t>(steps);
  return {&at_[i], &change_[i], (steps - static_cast<double>(i)) * step_km_};
}

Layers Slice::mixed(const Between& b) {
  Layers out = *b.from;
  if (b.change == nullptr) return out;
  out.e_mhz2 += b.change->e_mhz2 * b.km;
  out.f2_mhz2 += b.change->f2_mhz2 * b.km;
  out.peak_km += b.change->peak_km * b.km;
  out.half_km += b.change->half_km * b.km;
  out.joint_km += b.change->joint_km * b.km;
  return out;
}

Layers Slice::at(double at_km) const {
  return mixed(between(at_km));
}

double Slice::floor_km(Part part, double at_km) const {
  switch (part) {
    case Part::below:
      return 0;
    case Part::e:
      return base_km;
    case Part::rise:
      return e_peak_km;
    case Part::f2:
      return at(at_km).joint_km;
    case Part::above: {
      const auto l = at(at_km);
      // Where the quasi-parabola's upper side comes to nothing: u = 1.
      const double rm = earth_radius_km + l.peak_km;
      const double q = rm / l.half_km - 1;
      return rm / (1 - 1 / q) - earth_radius_km;
    }
  }
  return 0;
}

Slice::Density Slice::density(Part part, double radius_km, double at_km) const {
  if (part == Part::below || part == Part::above) return {};
  const auto b = between(at_km);
  const Layers l = mixed(b);
  static constexpr Layers still{0, 0, 0, 0, 0};
  const Layers& d = b.change == nullptr ? still : *b.change;
  if (part == Part::e) {
    const auto e = quasi(radius_km, earth_radius_km + e_peak_km, e_half_km);
    const double shape = 1 - e.u * e.u;
    return {l.e_mhz2 * shape, -2 * l.e_mhz2 * e.u * e.per_km_up, d.e_mhz2 * shape};
  }
  const double rm = earth_radius_km + l.peak_km;
  const auto f2_at = [&](double r) {
    const auto f2 = quasi(r, rm, l.half_km);
    const double shape = 1 - f2.u * f2.u;
    const double per_peak = -(rm / l.half_km - 1) / r + (1 - rm / r) / l.half_km;
    const double per_half = -(1 - rm / r) * rm / (l.half_km * l.half_km);
    return Density{l.f2_mhz2 * shape, -2 * l.f2_mhz2 * f2.u * f2.per_km_up,
                   d.f2_mhz2 * shape - 2 * l.f2_mhz2 * f2.u * (per_peak * d.peak_km + per_half * d.half_km)};
  };
  if (part == Part::f2) return f2_at(radius_km);
  // The rise, from foE at the E layer's peak to the F2 layer's density at the joint.
  const auto top = f2_at(earth_radius_km + l.joint_km);
  const double tall = l.joint_km - e_peak_km;
  const double share = (radius_km - earth_radius_km - e_peak_km) / tall;
  const double top_along = top.per_km_along + top.per_km_up * d.joint_km;
  const double slope = (top.mhz2 - l.e_mhz2) / tall;
  return {l.e_mhz2 + slope * tall * share, slope,
          d.e_mhz2 + (top_along - d.e_mhz2) * share - slope * share * d.joint_km};
}

}  // namespace skerry::rays
