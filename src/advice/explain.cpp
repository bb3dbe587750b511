#include "skerry/advice/explain.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "skerry/circuit/formulas.hpp"
#include "skerry/core/units.hpp"
#include "skerry/geodesy/land.hpp"

namespace skerry::advice {

namespace {

using circuit::Circuits;

bool is_open(const circuit::Cell& cell) {
  return cell.count > 0 || cell.long_share > 0;
}

/// One hour of one band: everything the engine says.
struct Look {
  circuit::Cell cell;
  circuit::Strength there_strength, back_strength;
  circuit::Noise noise_there, noise_back;
  circuit::Link there, back;
  double days = 0, ground_days = 0;
};

Look look(const Circuits& circuits, std::size_t way, int hour, const ExplainBand& band, unsigned month,
          std::optional<double> ground_db) {
  Look out;
  const auto& path = circuits.path(way);
  out.cell = circuits.cell(way, hour, band.mhz);
  out.there_strength = circuit::strength(out.cell, path, band.own, band.partner, true);
  out.back_strength = circuit::strength(out.cell, path, band.partner, band.own, false);
  out.noise_there = circuit::noise_at(circuits.to_sky(way, hour), path.to, month, band.partner, band.mhz);
  out.noise_back = circuit::noise_at(circuits.from_sky(way, hour), path.from, month, band.own, band.mhz);
  out.there = circuit::link(out.cell, out.there_strength, out.noise_there, band.mode);
  out.back = circuit::link(out.cell, out.back_strength, out.noise_back, band.mode);
  out.days = circuit::both_ways(out.there.days_in_ten, out.back.days_in_ten);
  if (ground_db)
    out.ground_days =
        ground_wave(*ground_db, band.own, band.partner, out.noise_back, out.noise_there, band.mode)
            .days_in_ten;
  return out;
}

/// Share of the long-path method's one loss that its lower limit (the D layer) takes: its own two terms.
/// Source: P.533 section 7: (fL+fH)^2/(f+fH)^2 and (f+fH)^2/(fM+fH)^2.
double d_layer_share(const circuit::HourMuf& muf, double mhz, double gyro_mhz) {
  const auto square = [&](double f) { return (f + gyro_mhz) * (f + gyro_mhz); };
  const double low = square(muf.long_lower_mhz) / square(mhz);
  const double high = square(mhz) / square(muf.long_upper_mhz);
  return low / (low + high);
}

double mean_gyro(const std::vector<Circuits::ControlPoint>& points) {
  double sum = 0;
  for (const auto& p : points) sum += p.gyro300_mhz;
  return points.empty() ? 1.0 : sum / static_cast<double>(points.size());
}

/// The mode that brings most, and what the D layer and the layer's limit take from it.
struct Losses {
  circuit::Mode mode;
  bool long_method = false;
  double d_layer_db = 0, above_muf_db = 0;
};
Losses losses_of(const Look& l, const Circuits& circuits, std::size_t way, int hour, double mhz) {
  Losses out;
  if (l.there_strength.best_mode >= 0) {
    out.mode = l.cell.modes[static_cast<std::size_t>(l.there_strength.best_mode)];
    out.d_layer_db = out.mode.absorption_db;
    out.above_muf_db = out.mode.above_muf_db;
    return out;
  }
  out.mode = l.cell.long_mode;
  out.long_method = true;
  const double share =
      d_layer_share(circuits.muf(way, hour), mhz, mean_gyro(circuits.control_points(way, hour)));
  out.d_layer_db = out.mode.absorption_db * share;
  out.above_muf_db = out.mode.absorption_db * (1 - share);
  return out;
}

/// The points that set a layer's MUF. Source: P.533 table 1: F2 at the middle while one hop reaches, else
/// half a hop from each end; E at the middle, on longer paths 1000 km from each end.
std::vector<Circuits::ControlPoint> deciding_points(const std::vector<Circuits::ControlPoint>& points,
                                                    circuit::Layer layer, int lowest_order) {
  using circuit::PointRole;
  const auto with = [&](std::initializer_list<PointRole> roles) {
    std::vector<Circuits::ControlPoint> out;
    for (const auto& p : points) {
      if (std::find(roles.begin(), roles.end(), p.role) != roles.end()) out.push_back(p);
    }
    return out;
  };
  auto out = layer == circuit::Layer::e ? with({PointRole::from_1000, PointRole::to_1000})
             : lowest_order > 1         ? with({PointRole::from_half_hop, PointRole::to_half_hop})
                                        : std::vector<Circuits::ControlPoint>{};
  if (out.empty()) out = with({PointRole::middle});
  return out.empty() ? points : out;
}

/// Which of the method's points carries least, for hops of this length off this layer.
std::optional<WeakPoint> weakest(const std::vector<Circuits::ControlPoint>& points, const geodesy::Path& path,
                                 circuit::Layer layer, int hops) {
  std::optional<WeakPoint> out;
  const double hop_km = path.distance_km / std::max(1, hops);
  for (const auto& p : points) {
    WeakPoint w;
    w.where = p.where;
    w.solar_hour = p.solar_hour;
    w.sun_up_deg = 90 - p.zenith_deg;
    w.fof2_mhz = p.fof2_mhz;
    w.foe_mhz = p.foe_mhz;
    if (layer == circuit::Layer::e) {
      const double elevation = circuit::elevation_deg(hop_km, circuit::e_height_km);
      w.carries_mhz = p.foe_mhz * circuit::incidence_secant(cos_deg(elevation), circuit::e_height_km);
    } else {
      w.carries_mhz =
          circuit::f2_muf(circuit::f2_shape(p.fof2_mhz, p.foe_mhz, p.m3000f2, p.gyro300_mhz), hop_km);
    }
    if (!out || w.carries_mhz < out->carries_mhz) out = w;
  }
  if (out) {
    out->land = geodesy::is_land(out->where);
    // Along this way round: the short geodesic from the nearer end.
    const double from_km = geodesy::distance_km(path.from, out->where);
    const double to_km = geodesy::distance_km(path.to, out->where);
    out->along_km = from_km <= to_km ? from_km : path.distance_km - to_km;
  }
  return out;
}

/// Elevations of the modes that arrive within 1 dB of the strongest.
void spread_of_angles(BandExplanation& e, const Look& l, const ExplainBand& band) {
  e.least_angle_deg = e.most_angle_deg = e.angle_deg;
  if (l.there_strength.best_mode < 0) return;
  const auto arriving_db = [&](const circuit::Mode& m) {
    const auto gain = [&](const circuit::Station& s, double bearing_deg) {
      return s.pattern == nullptr ? s.gain_dbi
                                  : s.pattern->at_dbi(m.elevation_deg, bearing_deg - s.layout_azimuth_deg);
    };
    return gain(band.own, e.path.bearing_deg) + gain(band.partner, e.path.return_bearing_deg) - m.loss_db;
  };
  const double best_db = arriving_db(l.cell.modes[static_cast<std::size_t>(l.there_strength.best_mode)]);
  for (int i = 0; i < l.cell.count; ++i) {
    const auto& m = l.cell.modes[static_cast<std::size_t>(i)];
    if (arriving_db(m) < best_db - 1) continue;
    e.least_angle_deg = std::min(e.least_angle_deg, m.elevation_deg);
    e.most_angle_deg = std::max(e.most_angle_deg, m.elevation_deg);
  }
}

struct Aim {
  double gain_dbi = 0, best_angle_deg = 0, best_gain_dbi = 0;
};
Aim aim_of(const circuit::Station& station, double bearing_deg, double angle_deg, bool low) {
  if (station.pattern == nullptr) return {station.gain_dbi, angle_deg, station.gain_dbi};
  const double azimuth = bearing_deg - station.layout_azimuth_deg;
  Aim out;
  out.gain_dbi = low ? station.pattern->low_angle_dbi(azimuth) : station.pattern->at_dbi(angle_deg, azimuth);
  out.best_gain_dbi = -999;
  for (int e = 0; e <= 90; ++e) {
    const double gain = station.pattern->at_dbi(e, azimuth);
    if (gain > out.best_gain_dbi) {
      out.best_gain_dbi = gain;
      out.best_angle_deg = e;
    }
  }
  return out;
}

double days_at(const BandExplanation& e, double margin_db) {
  return 10 * circuit::reliability(margin_db, e.snr_upper_db, e.snr_lower_db);
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
    case Verdict::screened:
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
      lost(Factor::noise, e.quiet_gain_db);
      lost(Factor::distance, e.terms.bounces_db);
      break;
    }
  }
  std::stable_sort(e.causes.begin(), e.causes.end(),
                   [](const Cause& a, const Cause& b) { return a.db > b.db; });
  // Nothing stands out: it is the distance, with its few watts.
  if (e.causes.empty()) e.causes.push_back({Factor::distance, 0, e.days});
}

void add_terms(BandExplanation& e, const Look& l, const Losses& losses, const ExplainBand& band) {
  const auto& link = e.there_is_worse ? l.there : l.back;
  const auto& strength = e.there_is_worse ? l.there_strength : l.back_strength;
  auto& t = e.terms;
  t.sent_dbw = to_db(e.there_is_worse ? band.own.power_w : band.partner.power_w);
  t.own_gain_dbi = e.gain_dbi;
  t.partner_gain_dbi =
      aim_of(band.partner, e.path.return_bearing_deg, losses.mode.elevation_deg, losses.long_method).gain_dbi;
  t.free_space_db = losses.mode.free_space_db;
  t.d_layer_db = losses.d_layer_db;
  t.above_muf_db = losses.above_muf_db;
  t.bounces_db = losses.mode.ground_db;
  t.other_db = losses.mode.auroral_db + losses.mode.other_db + losses.mode.focusing_db;
  t.noise_dbw = e.noise.dbw_per_hz + to_db(band.mode.bandwidth_hz);
  t.needed_db = band.mode.required_snr_db;
  t.together_db = 0;
  t.together_db = strength.received_dbw - t.noise_dbw - t.needed_db - t.margin_db();
  e.margin_db = link.margin_db;
  e.snr_upper_db = link.snr_upper_db;
  e.snr_lower_db = link.snr_lower_db;
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
      auto& l = looks[w][static_cast<std::size_t>(h)];
      l = look(circuits, w, h, band, month, ground_db);
      const bool asked = band.utc_hour ? *band.utc_hour == h : q.hours[static_cast<std::size_t>(h)];
      if (!asked) continue;
      if (round && !long_way_counts(short_km, l.days)) continue;
      const auto muf = circuits.muf(w, h);
      // Closed: -1 at a limit of 0 MHz, up to 0 at the frequency itself. Open: 0 to 10, weak ones told apart
      // by margin.
      const double limit = muf.long_upper_mhz > 0 ? muf.long_upper_mhz : muf.basic_mhz;
      const double score = l.ground_days > l.days ? l.ground_days
                           : is_open(l.cell)      ? l.days + 1e-3 / (1 + std::exp(-l.there.margin_db / 10))
                                                  : std::min(0.0, limit / band.mhz - 1) - 1e-6;
      if (score > best) {
        best = score;
        way = w;
        hour = h;
      }
    }
  }
  hour = std::max(hour, 0);
  const Look& l = looks[way][static_cast<std::size_t>(hour)];
  e.utc_hour = hour;
  e.path = circuits.path(way);
  e.muf = circuits.muf(way, hour);
  e.limit_mhz =
      e.path.distance_km > 9000 ? e.muf.long_upper_mhz : std::max(e.muf.basic_mhz, e.muf.long_upper_mhz);
  for (std::size_t h = 0; h < 24; ++h) {
    const auto& at = looks[way][h];
    const bool ground = at.ground_days >= 0.5 && at.ground_days > at.days;
    e.days_by_hour[h] = ground ? at.ground_days : at.days;
    e.open_by_hour[h] = ground || is_open(at.cell);
  }
  e.ground_days = l.ground_days;
  e.by_ground = l.ground_days >= 0.5 && l.ground_days > l.days;
  const auto points = circuits.control_points(way, hour);
  const bool open = is_open(l.cell);
  const Losses losses = open ? losses_of(l, circuits, way, hour, band.mhz) : Losses{};
  const auto layer = open ? losses.mode.layer : circuit::Layer::f2;
  const int closed_hops = e.muf.lowest_order_f2 > 0 ? e.muf.lowest_order_f2
                                                    : static_cast<int>(std::ceil(e.path.distance_km / 4000));
  const auto deciding = deciding_points(points, layer, e.path.distance_km > 9000 ? 2 : e.muf.lowest_order_f2);
  e.points = static_cast<int>(deciding.size());
  e.weakest = weakest(deciding, e.path, layer, open ? losses.mode.hops : closed_hops);
  if (!band.in_kit) {
    e.verdict = Verdict::no_antenna;
    weigh_causes(e);
    return e;
  }
  if (!open) {
    e.verdict = band.mhz > e.limit_mhz ? Verdict::layer_thin : Verdict::screened;
    weigh_causes(e);
    return e;
  }
  e.days = l.days;
  e.days_there = l.there.days_in_ten;
  e.days_back = l.back.days_in_ten;
  e.there_is_worse = l.there.margin_db <= l.back.margin_db;
  e.mode = losses.mode;
  e.long_method = losses.long_method;
  e.angle_deg = losses.mode.elevation_deg;
  const Aim aim = aim_of(band.own, e.path.bearing_deg, e.angle_deg, e.long_method);
  e.gain_dbi = aim.gain_dbi;
  spread_of_angles(e, l, band);
  e.best_angle_deg = aim.best_angle_deg;
  e.best_gain_dbi = std::max(aim.best_gain_dbi, aim.gain_dbi);
  e.d_layer_db = losses.d_layer_db;
  e.least_d_layer_db = e.most_d_layer_db = e.d_layer_db;
  e.least_hour = e.most_hour = hour;
  for (int h = 0; h < 24; ++h) {
    const auto& other = looks[way][static_cast<std::size_t>(h)];
    if (!is_open(other.cell)) continue;
    const double db = losses_of(other, circuits, way, h, band.mhz).d_layer_db;
    if (db < e.least_d_layer_db) {
      e.least_d_layer_db = db;
      e.least_hour = h;
    }
    if (db > e.most_d_layer_db) {
      e.most_d_layer_db = db;
      e.most_hour = h;
    }
  }
  e.noise = e.there_is_worse ? l.noise_there : l.noise_back;
  auto receiver = e.there_is_worse ? band.partner : band.own;
  e.environment = receiver.environment;
  receiver.environment = noise::Environment::quiet;
  const auto quiet =
      e.there_is_worse
          ? circuit::noise_at(circuits.to_sky(way, hour), e.path.to, month, receiver, band.mhz)
          : circuit::noise_at(circuits.from_sky(way, hour), e.path.from, month, receiver, band.mhz);
  e.quiet_gain_db = std::max(0.0, e.noise.dbw_per_hz - quiet.dbw_per_hz);
  add_terms(e, l, losses, band);
  if (e.days >= q.want_days_in_ten - 1e-9) {
    e.verdict = Verdict::works;
  } else {
    e.verdict = e.days >= 1 ? Verdict::sometimes : Verdict::too_weak;
  }
  weigh_causes(e);
  return e;
}

}  // namespace

std::vector<BandExplanation> explain(const ExplainQuestion& q) {
  assert(!q.ways.empty());
  std::vector<geodesy::Path> paths;
  for (const auto way : q.ways) paths.push_back(geodesy::make_path(q.from, q.to, way));
  const std::vector<Circuits::Horizon> horizons(paths.size(), {q.skyline_from_deg, q.skyline_to_deg});
  const Circuits circuits(paths, q.climate, q.settings, horizons);
  std::vector<BandExplanation> out;
  for (const auto& band : q.bands) out.push_back(explain_band(q, circuits, band));
  return out;
}

Shift shift_between(const BandExplanation& before, const BandExplanation& after) {
  const auto open = [](const BandExplanation& e) {
    return e.verdict == Verdict::works || e.verdict == Verdict::sometimes || e.verdict == Verdict::too_weak;
  };
  Shift out;
  if (open(before) != open(after)) {
    out.term = open(after) ? Shift::Term::opens : Shift::Term::closes;
    return out;
  }
  if (!open(before)) return out;
  const Terms& a = before.terms;
  const Terms& b = after.terms;
  out.whole_db = b.margin_db() - a.margin_db();
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
  offer(turned ? Shift::Term::angle : Shift::Term::own_gain, b.own_gain_dbi - a.own_gain_dbi);
  offer(Shift::Term::bounces, a.bounces_db - b.bounces_db);
  offer(Shift::Term::distance, a.free_space_db - b.free_space_db);
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

}  // namespace skerry::advice
