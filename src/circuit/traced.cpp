#include "skerry/circuit/traced.hpp"

#include <algorithm>
#include <cmath>

#include "skerry/core/nth.hpp"

namespace skerry::circuit {

namespace {

/// Judgement: rays are looked for under this share of a mode's own MUF; between the two methods' MUFs lie 2 % in the median
/// (docs/rays.md).
constexpr double under_muf = 0.97;
/// Judgement: how much further than the way the sky is needed, for the rays that overshoot.
constexpr double traced_beyond_km = 1500;
/// Judgement: for the picture all of a hop is wanted, however near the far end.
constexpr double picture_km = 4200;
/// Judgement: beyond so many hops a mode brings nothing, and a trace of median layers says nothing.
constexpr int most_traced_hops = 10;
/// Judgement: what one hop more costs a ray at least: a pass through the D layer, a bounce; and what the high ray
/// loses to its spreading. Both only tell the ray that is drawn as the strongest.
constexpr double hop_cost_db = 6, high_ray_db = 10;

bool belongs(const rays::Ray& ray, Layer layer, int hops) {
  return ray.hops == hops && ray.e_hops == (layer == Layer::e ? hops : 0);
}

const rays::Ray* nearest_ray(const std::vector<rays::Arrival>& all, const Mode& m) {
  const rays::Ray* best = nullptr;
  const auto off = [&](const rays::Ray& r) {
    return std::abs((r.elevation_deg + r.arrival_deg) / 2 - m.elevation_deg);
  };
  for (const auto& a : all) {
    if (a.high || !belongs(a.ray, m.layer, m.hops)) continue;
    if (best == nullptr || off(a.ray) < off(*best)) best = &a.ray;
  }
  return best;
}

int hops_wanted(const Passage& passage) {
  int out = 0;
  for (const auto& m : passage.in_use()) out = std::max(out, m.hops);
  return std::min(out, most_traced_hops);
}

}  // namespace

const TracedMode* TracedModes::find(const Mode& mode) const {
  for (int i = 0; i < count; ++i) {
    const auto& m = nth(modes, i);
    if (m.layer == mode.layer && m.hops == mode.hops) return &m;
  }
  return nullptr;
}

Tracer::Tracer(const geodesy::Path& path, const ionosphere::Climate& climate, Circuits::Horizon horizon)
    : path_(path), horizon_(horizon), along_(rays::along(path, climate, traced_beyond_km)) {}

TracedModes Tracer::modes(const Passage& passage, int hour) const {
  TracedModes out;
  const int hops = hops_wanted(passage);
  if (hops == 0 || path_.distance_km <= 0) return out;
  const auto slice = rays::slice(along_, hour);
  const auto all = rays::arrivals(slice, passage.mhz, path_.distance_km, hops);
  for (const auto& m : passage.in_use()) {
    if (m.hops > most_traced_hops) continue;
    const auto* ray = nearest_ray(all, m);
    std::vector<rays::Arrival> below;
    if (const double mhz = under_muf * m.basic_muf_mhz; ray == nullptr && mhz < passage.mhz) {
      below = rays::arrivals(slice, mhz, path_.distance_km, m.hops);
      ray = nearest_ray(below, m);
    }
    if (ray == nullptr) continue;
    nth(out.modes, out.count++) = {m.layer, m.hops, std::max(ray->elevation_deg, horizon_.from.deg),
                                   std::max(ray->arrival_deg, horizon_.to.deg)};
  }
  return out;
}

void trace_modes(PathAnswer& answer, std::size_t hour, std::size_t frequency) {
  for (auto& way : answer.ways) {
    auto& band = way.hours[hour].bands[frequency];
    if (band.traced.count > 0) continue;
    const Tracer tracer(way.path, answer.question.climate,
                        {answer.question.from.skyline, answer.question.to.skyline});
    band.traced = tracer.modes(band.passage, static_cast<int>(hour));
  }
}

FanAnswer fan_answer(const PathQuestion& q, std::size_t hour, std::size_t frequency,
                     const std::optional<std::array<double, 91>>& lobe) {
  FanAnswer out;
  out.question = q;
  out.hour = hour;
  out.frequency = frequency;
  out.path = geodesy::make_path(q.from.at, q.to.at, q.ways.front());
  const double mhz = q.frequencies[frequency].mhz;
  const double km = out.path.distance_km;
  const Circuits circuits(std::array{out.path}, q.climate, q.settings,
                          std::array{Circuits::Horizon{q.from.skyline, q.to.skyline}});
  const auto passage = circuits.passage(0, static_cast<int>(hour), mhz);
  out.muf = circuits.muf(0, static_cast<int>(hour));

  const double far_km = std::max(km + traced_beyond_km, picture_km);
  const auto along = rays::along(out.path, q.climate, far_km - km);
  const auto slice = rays::slice(along, static_cast<int>(hour));
  for (std::size_t deg = 0; deg < out.lobe_dbi.size(); ++deg)
    out.lobe_dbi[deg] = lobe ? (*lobe)[deg] : gain_dbi(q.from, mhz, static_cast<double>(deg));
  const auto near_dbi = [&](double deg) {
    if (!lobe) return gain_dbi(q.from, mhz, deg);
    const auto below = static_cast<std::size_t>(std::clamp(deg, 0.0, 89.0));
    return std::lerp((*lobe)[below], (*lobe)[below + 1],
                     std::clamp(deg, 0.0, 90.0) - static_cast<double>(below));
  };
  for (double x = 0;; x += along.step_km) {
    out.f2_peak.push_back({std::min(x, far_km), slice.at(std::min(x, far_km)).peak_km});
    if (x >= far_km) break;
  }

  const auto all = rays::fan(slice, mhz, far_km);
  out.skip = all.skip;
  out.steepest_lands = all.rays.back().ending == rays::Ending::landed;
  const auto add = [&](double deg) {
    auto& ray = out.fan.emplace_back();
    ray.ray = rays::trace(slice, mhz, deg, 1, far_km, &ray.line);
    ray.gain_dbi = near_dbi(deg);
  };
  // Judgement: how many rays a picture bears.
  for (double deg = 1; deg <= 80; deg += deg < 3 ? 1 : deg < 39 ? 2 : 5) add(deg);

  const int hops = std::max(hops_wanted(passage), 1);
  for (const auto& a : rays::arrivals(slice, mhz, km, hops)) {
    auto& ray = out.arriving.emplace_back();
    ray.high = a.high;
    ray.ray = rays::trace(slice, mhz, a.ray.elevation_deg, a.ray.hops, far_km, &ray.line);
    ray.gain_dbi = near_dbi(a.ray.elevation_deg);
    ray.far_dbi = gain_dbi(q.to, mhz, std::min(a.ray.arrival_deg, 90.0));
    for (const auto& m : passage.in_use()) {
      if (!a.high && belongs(a.ray, m.layer, m.hops)) ray.mirror_deg = m.elevation_deg;
    }
  }
  const auto worth_db = [&](const FanAnswer::Arriving& r) {
    return r.gain_dbi + r.far_dbi - hop_cost_db * r.ray.hops - (r.high ? high_ray_db : 0);
  };
  for (std::size_t i = 0; i < out.arriving.size(); ++i) {
    if (!out.best || worth_db(out.arriving[i]) > worth_db(out.arriving[*out.best])) out.best = i;
  }
  if (km <= one_hop_km) out.traced_muf_mhz = rays::muf_mhz(slice, km);
  return out;
}

}  // namespace skerry::circuit
