#include "skerry/circuit/explain.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "formulas.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/units.hpp"
#include "skerry/geodesy/land.hpp"

namespace skerry::circuit {

namespace {

/// One hour of one band.
struct Look : Contact {
  double ground_days = 0;
};

/// The points that set a layer's MUF. Source: P.533 table 1: F2 at the middle while one hop reaches, else
/// half a hop from each end; E at the middle, on longer paths 1000 km from each end.
std::vector<Circuits::ControlPoint> deciding_points(const std::vector<Circuits::ControlPoint>& points,
                                                    Layer layer, int lowest_order) {
  const auto with = [&](std::initializer_list<PointRole> roles) {
    std::vector<Circuits::ControlPoint> out;
    for (const auto& p : points) {
      if (std::find(roles.begin(), roles.end(), p.role) != roles.end()) out.push_back(p);
    }
    return out;
  };
  auto out = layer == Layer::e  ? with({PointRole::from_1000, PointRole::to_1000})
             : lowest_order > 1 ? with({PointRole::from_half_hop, PointRole::to_half_hop})
                                : std::vector<Circuits::ControlPoint>{};
  if (out.empty()) out = with({PointRole::middle});
  return out.empty() ? points : out;
}

/// Which of the method's points carries least, for hops of this length off this layer.
std::optional<WeakPoint> weakest(const std::vector<Circuits::ControlPoint>& points, const geodesy::Path& path,
                                 Layer layer, int hops) {
  std::optional<WeakPoint> out;
  const double hop_km = path.distance_km / std::max(1, hops);
  for (const auto& p : points) {
    WeakPoint w;
    w.where = p.where;
    w.solar_hour = p.solar_hour;
    w.sun_up_deg = 90 - p.zenith_deg;
    w.fof2_mhz = p.fof2_mhz;
    w.foe_mhz = p.foe_mhz;
    if (layer == Layer::e) {
      const double elevation = elevation_deg(hop_km, e_height_km);
      w.carries_mhz = p.foe_mhz * incidence_secant(cos_deg(elevation), e_height_km);
    } else {
      w.carries_mhz = f2_muf(f2_shape(p.fof2_mhz, p.foe_mhz, p.m3000f2, p.gyro300_mhz), hop_km);
    }
    if (!out || w.carries_mhz < out->carries_mhz) out = w;
  }
  if (out) {
    out->land = geodesy::is_land(out->where);
    out->near = geodesy::nearest_town(out->where, near_town_km);
    // Along this way round: the short geodesic from the nearer end.
    const double from_km = geodesy::distance_km(path.from, out->where);
    const double to_km = geodesy::distance_km(path.to, out->where);
    out->along_km = from_km <= to_km ? from_km : path.distance_km - to_km;
  }
  return out;
}

/// Elevations of the modes that arrive within 1 dB of the strongest.
void spread_of_angles(BandExplanation& e, const Contact& c) {
  e.least_angle_deg = e.most_angle_deg = e.angle_deg;
  if (c.long_method()) return;
  const auto arriving_dbw = [&](const Mode& m) { return nth(c.level.mode_dbw, &m - c.passage.modes.data()); };
  for (const Mode& m : c.passage.in_use()) {
    if (arriving_dbw(m) < arriving_dbw(c.strongest()) - 1) continue;
    e.least_angle_deg = std::min(e.least_angle_deg, m.elevation_deg);
    e.most_angle_deg = std::max(e.most_angle_deg, m.elevation_deg);
  }
}

/// Where the antenna does best towards the path, over all elevations.
void aim(BandExplanation& e, const Station& station) {
  e.best_angle_deg = e.angle_deg;
  e.best_gain_dbi = station.gain_dbi;
  if (station.pattern == nullptr) return;
  const auto cut = station.pattern->cut(e.path.bearing_deg - station.layout_azimuth_deg);
  e.best_gain_dbi = -999;
  for (int angle = 0; angle <= 90; ++angle) {
    const double gain = cut.at_dbi(angle);
    if (gain <= e.best_gain_dbi) continue;
    e.best_gain_dbi = gain;
    e.best_angle_deg = angle;
  }
  e.best_gain_dbi = std::max(e.best_gain_dbi, e.gain_dbi);
}

double days_at(const BandExplanation& e, double margin_db) {
  return 10 * reliability(margin_db, e.snr_upper_db, e.snr_lower_db, e.spread_db);
}

void weigh_causes(BandExplanation& e) {
  const auto add = [&](Factor factor, double db, double days) {
    if (db > 0) e.causes.push_back({factor, db, days});
  };
  const bool ever_closed =
      std::any_of(e.open_by_hour.begin(), e.open_by_hour.end(), [](bool open) { return !open; });
  switch (e.verdict) {
    case Verdict::no_antenna:
      e.causes.push_back({Factor::antenna, closing_db, 0});
      return;
    case Verdict::layer_thin:
      e.causes.push_back({Factor::layer, closing_db, 0});
      return;
    case Verdict::works: {
      const double spared = e.most_d_layer_db - e.d_layer_db;
      add(Factor::d_layer, spared, days_at(e, e.margin_db - spared));
      // Judgement: a layer that lets the path down at other hours weighs like 20 dB, more than most
      // absorption.
      if (ever_closed) add(Factor::layer, 20, 0);
      add(Factor::antenna, std::max(0.0, e.gain_dbi), days_at(e, e.margin_db - std::max(0.0, e.gain_dbi)));
      break;
    }
    case Verdict::sometimes:
    case Verdict::too_weak: {
      const auto lost = [&](Factor factor, double db) { add(factor, db, days_at(e, e.margin_db + db)); };
      lost(Factor::layer, e.terms.above_muf_db);
      lost(Factor::d_layer, e.d_layer_db - e.least_d_layer_db);
      lost(Factor::antenna, e.best_gain_dbi - e.gain_dbi);
      lost(Factor::skyline, e.terms.skyline_db);
      lost(Factor::noise, e.quiet_gain_db);
      lost(Factor::distance, e.terms.bounces_db);
      lost(Factor::e_layer, e.terms.screening_db);
      break;
    }
  }
  std::stable_sort(e.causes.begin(), e.causes.end(),
                   [](const Cause& a, const Cause& b) { return a.db > b.db; });
  // Nothing stands out: it is the distance, with its few watts.
  if (e.causes.empty()) e.causes.push_back({Factor::distance, 0, e.days});
}

BandExplanation explain_band(const ExplainQuestion& q, const Circuits& circuits, const ExplainBand& band) {
  BandExplanation e;
  e.band = band.band;
  e.mhz = band.mhz;
  e.antenna = band.antenna;
  e.wanted_mode = band.mode;
  const auto month = static_cast<unsigned>(q.climate.day.month());
  // The hour and the way with the most days; among closed ones the hour that comes nearest to opening.
  std::vector<std::array<Look, 24>> looks(circuits.size());
  std::size_t way = 0;
  int hour = -1;
  double best = -2;
  const double short_km = geodesy::distance_km(q.from, q.to);
  for (std::size_t w = 0; w < circuits.size(); ++w) {
    const bool round = circuits.path(w).way == geodesy::Way::long_way && circuits.size() > 1;
    const bool bare = band.in_kit && band.own.pattern == nullptr && band.partner.pattern == nullptr;
    const auto ground_db =
        bare ? ground_loss_db(circuits.path(w), band.own, band.partner, band.mhz) : std::nullopt;
    for (int h = 0; h < 24; ++h) {
      auto& l = nth(looks[w], h);
      static_cast<Contact&>(l) = contact(circuits, w, h, band.mhz, band.own, band.partner, band.mode);
      if (ground_db)
        l.ground_days =
            ground_wave(*ground_db, band.own, band.partner, l.noise_from, l.noise_to, band.mode).days_in_ten;
      const bool asked = band.utc_hour ? *band.utc_hour == h : nth(q.hours, h);
      if (!asked) continue;
      if (round && !long_way_counts(short_km, l.days_in_ten)) continue;
      // 0 to 10, weak ones told apart by margin.
      const double score = l.ground_days > l.days_in_ten ? l.ground_days
                           : l.any() ? l.days_in_ten + 1e-3 / (1 + std::exp(-l.there.margin_db / 10))
                                     : -1;
      if (score > best) {
        best = score;
        way = w;
        hour = h;
      }
    }
  }
  hour = std::max(hour, 0);
  const Look& l = nth(looks[way], hour);
  e.utc_hour = hour;
  e.path = circuits.path(way);
  e.muf = circuits.muf(way, hour);
  if (!q.horizons.empty()) e.horizon = nth(q.horizons, way);
  for (std::size_t h = 0; h < 24; ++h) {
    const auto& at = looks[way][h];
    const bool ground = at.ground_days >= 0.5 && at.ground_days > at.days_in_ten;
    e.days_by_hour[h] = ground ? at.ground_days : at.days_in_ten;
    e.open_by_hour[h] = ground || at.open();
  }
  e.ground_days = l.ground_days;
  e.by_ground = l.ground_days >= 0.5 && l.ground_days > l.days_in_ten;
  const auto points = circuits.control_points(way, hour);
  const auto layer = l.any() ? l.strongest().layer : Layer::f2;
  const auto deciding = deciding_points(points, layer, e.muf.lowest_order_f2);
  e.points = static_cast<int>(deciding.size());
  e.weakest = weakest(deciding, e.path, layer, l.any() ? l.strongest().hops : e.muf.lowest_order_f2);
  if (!band.in_kit) {
    e.verdict = Verdict::no_antenna;
    weigh_causes(e);
    return e;
  }
  if (!l.any()) {  // no ray at all comes over the horizon
    weigh_causes(e);
    return e;
  }
  e.days = l.days_in_ten;
  e.days_as_assumed = l.days_as_assumed;
  e.es_days = l.es_days();
  e.by_es = l.by_es();
  if (l.es_way) e.es_mode = nth(l.passage.es, *l.es_way).mode;
  e.spread_db = unknown_db(band.own, band.partner);
  e.days_there = l.there.days_in_ten;
  e.days_back = l.back.days_in_ten;
  e.there_is_worse = l.there.margin_db <= l.back.margin_db;
  const Direction& worse = e.there_is_worse ? l.there : l.back;
  e.terms = e.there_is_worse ? l.there_terms : l.back_terms;
  e.noise = e.there_is_worse ? l.noise_to : l.noise_from;
  e.margin_db = worse.margin_db;
  e.snr_upper_db = worse.snr_upper_db;
  e.snr_lower_db = worse.snr_lower_db;
  e.mode = l.strongest();
  e.long_method = l.long_method();
  e.angle_deg = l.passage.leaves_deg(e.mode);
  e.gain_dbi = l.level.from_dbi;
  spread_of_angles(e, l);
  aim(e, band.own);
  e.d_layer_db = e.least_d_layer_db = e.most_d_layer_db = e.terms.d_layer_db;
  e.least_hour = e.most_hour = hour;
  for (int h = 0; h < 24; ++h) {
    const auto& other = nth(looks[way], h);
    if (!other.open()) continue;
    const double db = other.there_terms.d_layer_db;
    if (db < e.least_d_layer_db) {
      e.least_d_layer_db = db;
      e.least_hour = h;
    }
    if (db > e.most_d_layer_db) {
      e.most_d_layer_db = db;
      e.most_hour = h;
    }
  }
  Station receiver = e.there_is_worse ? band.partner : band.own;
  e.environment = receiver.environment;
  receiver.environment = noise::Environment::quiet;
  const auto quiet = noise_at(e.there_is_worse ? circuits.to_sky(way, hour) : circuits.from_sky(way, hour),
                              e.there_is_worse ? e.path.to : e.path.from, month, receiver, band.mhz);
  e.quiet_gain_db = std::max(0.0, e.noise.dbw_per_hz - quiet.dbw_per_hz);
  if (e.days >= q.want_days_in_ten - 1e-9) {
    e.verdict = Verdict::works;
  } else {
    e.verdict = e.days >= 1 ? Verdict::sometimes : l.open() ? Verdict::too_weak : Verdict::layer_thin;
  }
  weigh_causes(e);
  return e;
}

}  // namespace

std::vector<BandExplanation> explain(const ExplainQuestion& q) {
  assert(!q.ways.empty());
  std::vector<geodesy::Path> paths;
  for (const auto way : q.ways) paths.push_back(geodesy::make_path(q.from, q.to, way));
  const Circuits circuits(paths, q.climate, q.settings, q.horizons);
  std::vector<BandExplanation> out;
  for (const auto& band : q.bands) out.push_back(explain_band(q, circuits, band));
  return out;
}

Shift shift_between(const BandExplanation& before, const BandExplanation& after) {
  const auto open = [](const BandExplanation& e) {
    return e.verdict == Verdict::works || e.verdict == Verdict::sometimes || e.verdict == Verdict::too_weak;
  };
  Shift out;
  const Ledger& a = before.terms;
  const Ledger& b = after.terms;
  out.whole_db = b.margin_db() - a.margin_db();
  if (open(before) != open(after)) {
    // A ledger without a ray is empty: it can neither gain by opening nor lose by closing.
    const double bent_db = (open(after) ? 1 : -1) * (a.skyline_db - b.skyline_db);
    const bool by_skyline = bent_db > 0 && bent_db > std::abs(out.whole_db) / 2;
    out.term = by_skyline ? Shift::Term::skyline : open(after) ? Shift::Term::opens : Shift::Term::closes;
    if (by_skyline) out.db = a.skyline_db - b.skyline_db;
    out.crossed = true;
    return out;
  }
  if (!open(before)) return out;
  const auto offer = [&](Shift::Term term, double db) {
    // Judgement: under half a decibel nothing is worth telling.
    if (std::abs(db) > std::max(0.5, std::abs(out.db))) {
      out.term = term;
      out.db = db;
    }
  };
  offer(Shift::Term::d_layer, a.d_layer_db - b.d_layer_db);
  offer(Shift::Term::above_muf, a.above_muf_db - b.above_muf_db);
  offer(Shift::Term::noise, a.noise_dbw - b.noise_dbw);
  // Another angle under the same antenna is the layer's doing. Judgement: from 2 degrees on.
  out.from_angle_deg = before.angle_deg;
  out.to_angle_deg = after.angle_deg;
  const bool turned = before.antenna == after.antenna && !before.long_method && !after.long_method &&
                      std::abs(before.angle_deg - after.angle_deg) >= 2;
  offer(turned ? Shift::Term::angle : Shift::Term::own_gain, b.from_dbi - a.from_dbi);
  offer(Shift::Term::bounces, a.bounces_db - b.bounces_db);
  offer(Shift::Term::skyline, a.skyline_db - b.skyline_db);
  offer(Shift::Term::distance, a.free_space_db - b.free_space_db);
  offer(Shift::Term::screening, a.screening_db - b.screening_db);
  offer(Shift::Term::auroral, a.auroral_db - b.auroral_db);
  offer(Shift::Term::together, b.together_db - a.together_db);
  return out;
}

antenna::Pattern lesson_dipole(double height_m, double mhz) {
  assert(height_m >= 1 && height_m <= 30 && mhz >= 1.6 && mhz <= 30);
  antenna::WireAntenna dipole;
  dipole.id = "dipole";
  // A half wave is 142.6/f m with its end effects (ARRL handbooks, from memory).
  const double half_m = 142.6 / mhz / 2;
  dipole.wires.push_back({{-half_m, 0, height_m}, {half_m, 0, height_m}});
  // Matched without loss: in a lesson only the height should speak.
  antenna::Chain chain;
  chain.line.tuner = true;
  chain.line.tuner_loss_db = 0;
  // A plain wire well above the ground: nothing the solver could refuse.
  auto pattern = antenna::compute_pattern(dipole, antenna::Ground{}, mhz, chain);
  assert(pattern.has_value());
  return std::move(*pattern);
}

}  // namespace skerry::circuit
