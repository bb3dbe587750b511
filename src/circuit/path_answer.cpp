#include "skerry/circuit/path_answer.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <optional>
#include <utility>

#include "skerry/circuit/traced.hpp"
#include "skerry/core/kept.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/parallel.hpp"
#include "skerry/sun/nearest_zone.hpp"

namespace skerry::circuit {

Station station_of(const PathEnd& end) {
  Station s;
  s.power_w = end.power_w;
  s.gain_dbi = end.gain_dbi.value_or(0);
  s.home = !end.gain_dbi;
  s.spread_db = end.spread_db;
  s.man_made_above_db = end.far && !end.gain_dbi ? home_noise_db : 0;
  s.environment = end.environment;
  s.receiver_noise_figure_db = end.noise_figure_db;
  // Many questions come from the same few places.
  static Kept<GeoPoint, double, most_kept> kept;
  s.land_share = *kept.of(end.at, [&] { return land_share(end.at); });
  return s;
}

double gain_dbi(const PathEnd& end, double mhz, double elevation_deg) {
  return end.gain_dbi ? *end.gain_dbi : HomeAntenna(mhz).gain_dbi(elevation_deg) - home_feed_db;
}

PathEnd far_end() {
  PathEnd out;
  out.power_w = 100;
  out.environment = noise::Environment::residential;
  out.spread_db = partner_spread_db;
  out.far = true;
  return out;
}

namespace {

/// The traced modes of a way by hour and frequency; empty: not asked for.
using TracedWay = std::vector<TracedModes>;

TracedWay traced_way(const PathQuestion& q, const Circuits& circuits, std::size_t w) {
  if (q.take_off != TakeOff::traced) return {};
  const Tracer tracer(circuits.path(w), q.climate, {q.from.skyline, q.to.skyline});
  TracedWay out(24 * q.frequencies.size());
  parallel_for(out.size(), 1, [&](std::size_t begin, std::size_t end) {
    for (std::size_t i = begin; i < end; ++i) {
      const auto hour = static_cast<int>(i / q.frequencies.size());
      out[i] = tracer.modes(circuits.passage(w, hour, q.frequencies[i % q.frequencies.size()].mhz), hour);
    }
  });
  return out;
}

/// Who stands at the ends, and the rays between them, way by way; traced once: the question's neighbours have the
/// same to a hair.
struct Ends {
  const Station &from, &to;
  std::vector<TracedWay> traced = {};
};

/// What goes along the ground beside the sky, and what is the better of the two.
void add_ground(const PathQuestion& q, const Ends& ends, std::optional<double> ground_loss, BandAnswer& b) {
  b.both_days_in_ten = b.days_in_ten;
  b.both_days_as_assumed = b.days_as_assumed;
  if (ground_loss) {
    const auto ground = ground_wave(*ground_loss, ends.from, ends.to, b.noise_from, b.noise_to, q.mode);
    b.ground_there = ground.there;
    b.ground_back = ground.back;
    b.skip_zone = !b.open() && ground.days_in_ten < 0.5;
    b.by_ground = ground.days_in_ten >= 0.5 && ground.days_in_ten > b.both_days_in_ten;
    b.both_days_in_ten = std::max(b.both_days_in_ten, ground.days_in_ten);
    b.both_days_as_assumed = std::max(b.both_days_as_assumed, ground.days_in_ten);
  }
  b.least_days = b.most_days = b.method_least_days = b.method_most_days = b.both_days_in_ten;
}

/// Fills the wanted hours of all ways: at(way, hour, index of the frequency) is the answer to fill under these
/// circuits, and done(way, hour) is told when an hour's are.
template <class At, class Done>
void each_hour(const PathQuestion& q, const Circuits& circuits, const Ends& ends,
               const std::array<bool, 24>& hours, const At& at, const Done& done) {
  std::vector<double> mhz;
  for (const auto& f : q.frequencies) mhz.push_back(f.mhz);
  for (std::size_t w = 0; w < circuits.size(); ++w) {
    Link link(circuits, w, mhz, ends.from, ends.to, q.mode);
    std::vector<std::optional<double>> ground_loss;
    for (const double one : mhz)
      ground_loss.push_back(ground_loss_db(circuits.path(w), ends.from, ends.to, one));
    for (std::size_t h = 0; h < 24; ++h) {
      if (!hours[h]) continue;
      const auto traced = [&](std::size_t i) {
        return ends.traced.empty() || ends.traced[w].empty() ? nullptr : &ends.traced[w][h * mhz.size() + i];
      };
      link.contacts(
          static_cast<int>(h), [&](std::size_t i) -> Contact& { return at(w, h, i); }, traced);
      for (std::size_t i = 0; i < mhz.size(); ++i) {
        BandAnswer& b = at(w, h, i);
        if (const auto* rays = traced(i)) b.traced = *rays;
        add_ground(q, ends, ground_loss[i], b);
      }
      done(w, h);
    }
  }
}

/// Visits the wanted cells of all ways: what(way, hour, index of the frequency, its answer under these circuits).
template <class What>
void each_cell(const PathQuestion& q, const Circuits& circuits, const Ends& ends,
               const std::array<bool, 24>& hours, const What& what) {
  std::vector<BandAnswer> cells(q.frequencies.size());
  each_hour(
      q, circuits, ends, hours,
      [&](std::size_t, std::size_t, std::size_t i) -> BandAnswer& { return cells[i]; },
      [&](std::size_t w, std::size_t h) {
        for (std::size_t i = 0; i < cells.size(); ++i) what(w, h, i, cells[i]);
      });
}

/// Other forms that have been published for the same thing, and a sun 30 sunspots off either way.
std::vector<PathQuestion> alternatives(const PathQuestion& q) {
  std::vector<PathQuestion> out;
  for (const auto absorption : {Absorption::lucas_haydon, Absorption::foe_index}) {
    for (const auto maps : {ionosphere::MapSet::ccir, ionosphere::MapSet::ursi}) {
      for (const double offset : {-30.0, 0.0, 30.0}) {
        PathQuestion other = q;
        other.settings.absorption = absorption;
        other.climate.maps = maps;
        other.climate.r12 = q.climate.r12.plus(offset);
        out.push_back(std::move(other));
      }
    }
  }
  return out;
}

/// The circuits of a question's sky.
using UnderSky = std::function<Circuits(const PathQuestion&)>;

/// Marks the cells that stand on a step of the method (hop count, mirror height at foF2/foE 3.33, the 5 dB at
/// the MUF): the same question asked a hair's breadth to either side.
void mark_edges(std::vector<WayAnswer>& ways, const PathQuestion& q, const Circuits& circuits,
                const Ends& ends, const UnderSky& under) {
  constexpr double frequency_step = 0.01, sunspot_step = 2, jump_days = 2;
  const auto compare = [&](const PathQuestion& near, const Circuits& moved) {
    each_cell(near, moved, ends, q.shown_hours,
              [&](std::size_t w, std::size_t h, std::size_t i, const BandAnswer& answer) {
                auto& b = ways[w].hours[h].bands[i];
                const double here = b.both_days_in_ten, there = answer.both_days_in_ten;
                const bool across = (here >= q.want_days_in_ten) != (there >= q.want_days_in_ten);
                b.on_edge = b.on_edge || (across && std::abs(here - there) >= jump_days);
              });
  };
  for (const double side : {-1.0, 1.0}) {
    PathQuestion near = q;
    // The ends of the range that may be asked for (circuit.hpp) have a breadth to one side only.
    for (auto& f : near.frequencies) f.mhz = std::clamp(f.mhz * (1 + side * frequency_step), 1.6, 30.0);
    compare(near, circuits);
    near = q;
    near.climate.r12 = q.climate.r12.plus(side * sunspot_step);
    compare(near, under(near));
  }
}

/// Least and most of the days over the alternatives.
void add_spread(PathAnswer& out, const PathQuestion& q, const Ends& ends, const UnderSky& under) {
  const auto others = alternatives(q);
  out.variants = static_cast<int>(others.size());
  out.method_variants = 0;
  for (const auto& other : others) {
    const bool same_sun = other.climate.r12 == q.climate.r12;
    if (same_sun) ++out.method_variants;
    each_cell(other, under(other), ends, every_hour,
              [&](std::size_t w, std::size_t h, std::size_t i, const BandAnswer& answer) {
                auto& b = out.ways[w].hours[h].bands[i];
                const double days = answer.both_days_in_ten;
                b.least_days = std::min(b.least_days, days);
                b.most_days = std::max(b.most_days, days);
                if (!same_sun) return;
                b.method_least_days = std::min(b.method_least_days, days);
                b.method_most_days = std::max(b.method_most_days, days);
              });
  }
}

void add_openings(WayAnswer& way, const PathQuestion& q) {
  for (std::size_t i = 0; i < q.frequencies.size(); ++i) {
    std::array<double, 24> sky{}, ground{};
    for (std::size_t h = 0; h < 24; ++h) {
      const auto& b = way.hours[h].bands[i];
      sky[h] = b.days_in_ten;
      ground[h] = both_ways(b.ground_there.days_in_ten, b.ground_back.days_in_ten);
    }
    way.openings.push_back(openings(sky, q.want_days_in_ten));
    way.ground_openings.push_back(openings(ground, q.want_days_in_ten));
  }
}

/// Near the antipode: 24 half circles, the best of each hour and frequency.
std::vector<AntipodalBearing> antipodal_bearings(const PathQuestion& q, const Station& from,
                                                 const Station& to) {
  std::vector<geodesy::Path> paths;
  paths.reserve(24);
  for (int i = 0; i < 24; ++i) paths.push_back(geodesy::path_by_bearing(q.from.at, q.to.at, 15.0 * i));
  const Circuits circuits(paths, q.climate, q.settings);
  std::vector<AntipodalBearing> out;
  std::vector<AntipodalBearing> best(24 * q.frequencies.size());
  each_cell(q, circuits, {from, to}, every_hour,
            [&](std::size_t w, std::size_t h, std::size_t i, const BandAnswer& answer) {
              auto& known = best[h * q.frequencies.size() + i];
              // Of the sky alone: along the ground all half circles are one.
              if (answer.days_in_ten > known.days_in_ten)
                known = {static_cast<int>(h), i, circuits.path(w).bearing_deg, answer.days_in_ten};
            });
  for (const auto& one : best) {
    if (one.days_in_ten >= 0.5) out.push_back(one);
  }
  return out;
}

}  // namespace

PathAnswer answer(const PathQuestion& q) {
  PathAnswer out;
  out.question = q;
  if (q.wanted.around) {
    out.from_clock = sun::legal_zone(q.from.at);
    out.to_clock = sun::legal_zone(q.to.at);
  }
  std::vector<geodesy::Path> paths;
  for (const auto way : q.ways) paths.push_back(geodesy::make_path(q.from.at, q.to.at, way));
  const std::vector<Circuits::Horizon> horizons(paths.size(), {q.from.skyline, q.to.skyline});
  const Station from = station_of(q.from);
  const Station to = station_of(q.to);
  const UnderSky under = [&](const PathQuestion& question) {
    return Circuits(paths, question.climate, question.settings, horizons);
  };
  const Circuits circuits = under(q);
  const auto& asked = q.wanted.whole_day ? every_hour : q.shown_hours;
  for (std::size_t w = 0; w < paths.size(); ++w) {
    auto& way = out.ways.emplace_back();
    way.hours.reserve(24);
    way.path = circuits.path(w);
    for (int h = 0; h < 24; ++h) {
      auto& hour = way.hours.emplace_back();
      hour.muf = circuits.muf(w, h);
      if (q.wanted.around) hour.control_points = circuits.control_points(w, h);
      if (nth(asked, h)) hour.bands.resize(q.frequencies.size());
    }
  }
  Ends ends{from, to};
  for (std::size_t w = 0; w < paths.size(); ++w) ends.traced.push_back(traced_way(q, circuits, w));
  each_hour(
      q, circuits, ends, asked,
      [&](std::size_t w, std::size_t h, std::size_t i) -> BandAnswer& {
        return out.ways[w].hours[h].bands[i];
      },
      [](std::size_t, std::size_t) {});
  if (q.wanted.edges) mark_edges(out.ways, q, circuits, ends, under);
  if (q.spread) add_spread(out, q, ends, under);
  for (auto& way : out.ways) {
    if (q.wanted.whole_day) add_openings(way, q);
    if (!q.wanted.around) continue;
    bool lit[24] = {};
    for (std::size_t h = 0; h < 24; ++h) {
      for (const auto& point : way.hours[h].control_points) lit[h] = lit[h] || point.zenith_deg < 90;
    }
    way.warnings = warnings(way.path, q.disturbance, lit);
  }
  if (q.wanted.around && paths.front().from_antipode_km < antipode_limit_km)
    out.antipodal = antipodal_bearings(q, from, to);
  if (!q.wanted.whole_day) return out;
  double lowest = 30;
  for (const auto& f : q.frequencies) lowest = std::min(lowest, f.mhz);
  for (const auto& path : paths) {
    for (const auto& caution : method_cautions(path, lowest)) {
      if (std::find(out.cautions.begin(), out.cautions.end(), caution) == out.cautions.end())
        out.cautions.push_back(caution);
    }
  }
  return out;
}

}  // namespace skerry::circuit
