// What is forecast for each case of a table of reports.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <numeric>
#include <tuple>

#include "skerry/circuit/circuit.hpp"
#include "skerry/circuit/contact.hpp"
#include "skerry/circuit/path_answer.hpp"
#include "skerry/circuit/traced.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/parallel.hpp"
#include "skerry/core/units.hpp"
#include "skerry/ionosphere/activity.hpp"
#include "spots_parts.hpp"

namespace skerry::after {

namespace {

/// From this length on the way round the far side of the Earth is asked as well. Judgement: nearer, the long
/// way is over 32 000 km and weaker by tens of decibels.
constexpr double both_ways_km = 8000;
/// Paths prepared together. Judgement: some 12 kB each.
constexpr std::size_t block_paths = 2000;

/// Fills in the forecasts of all cases of one month, path by path.
class Forecaster {
 public:
  Forecaster(std::span<const GeoPoint> stations, const SpotQuestion& q, const std::vector<BandKey>& bands,
             const std::vector<Case>& cases)
      : stations_(stations), q_(q), bands_(bands), land_(stations.size()) {
    emission_.required_snr_db = emission_.threshold_snr_db;
    // A case asks the land map of its receiver once, before the threads start.
    for (const auto& c : cases) {
      auto& known = nth(land_, c.rx);
      if (!known) known = circuit::land_share(nth(stations, c.rx));
    }
  }

  /// `order`: indices of cases of the month, sorted by path, then hour and band.
  std::size_t month(Month month, std::span<const std::size_t> order, std::vector<Case>& cases) {
    ionosphere::Climate climate;
    climate.day = middle_of(month);
    climate.r12 = q_.r12 ? q_.r12(month) : ionosphere::forecast(month).r12;
    climate.maps = q_.maps;
    std::vector<Group> groups;
    for (std::size_t i = 0; i < order.size();) {
      const auto& first = cases[order[i]];
      std::size_t j = i;
      while (j < order.size() && cases[order[j]].tx == first.tx && cases[order[j]].rx == first.rx) ++j;
      groups.push_back({i, j});
      i = j;
    }
    for (std::size_t at = 0; at < groups.size(); at += block_paths) {
      const auto end = std::min(groups.size(), at + block_paths);
      block(climate, std::span(groups).subspan(at, end - at), order, cases);
    }
    return groups.size();
  }

 private:
  /// What arrives of 1 W, and above what noise.
  struct Hearing {
    circuit::Passage passage;
    circuit::Received arriving;
    circuit::Noise noise;
  };
  struct Group {
    std::size_t begin = 0, end = 0;
    std::size_t path = 0;
    bool both = false;
  };

  void block(const ionosphere::Climate& climate, std::span<Group> groups, std::span<const std::size_t> order,
             std::vector<Case>& cases) {
    std::vector<geodesy::Path> paths;
    for (auto& g : groups) {
      const auto& c = cases[order[g.begin]];
      const GeoPoint from = nth(stations_, c.tx);
      const GeoPoint to = nth(stations_, c.rx);
      g.path = paths.size();
      paths.push_back(geodesy::make_path(from, to, geodesy::Way::short_way));
      g.both = paths.back().distance_km >= both_ways_km;
      if (g.both) paths.push_back(geodesy::make_path(from, to, geodesy::Way::long_way));
    }
    const circuit::Circuits circuits(paths, climate, q_.settings);
    parallel_for(groups.size(), 8, [&](std::size_t begin, std::size_t end) {
      for (std::size_t i = begin; i < end; ++i) fill(circuits, groups[i], order, cases);
    });
  }

  void fill(const circuit::Circuits& circuits, const Group& g, std::span<const std::size_t> order,
            std::vector<Case>& cases) const {
    int hour = -1, band = -1;
    std::array<Hearing, 2> for_1w;
    std::array<std::optional<circuit::Tracer>, 2> tracers;
    for (std::size_t way = 0; q_.take_off == circuit::TakeOff::traced && way < (g.both ? 2 : 1); ++way)
      tracers[way].emplace(circuits.path(g.path + way), circuits.climate());
    for (std::size_t k = g.begin; k < g.end; ++k) {
      Case& c = cases[order[k]];
      c.km = circuits.path(g.path).distance_km;
      if (c.hour != hour || c.band != band) {
        hour = c.hour;
        band = c.band;
        for_1w[0] = one_watt(circuits, g.path, c, tracers[0]);
        for_1w[1] = g.both ? one_watt(circuits, g.path + 1, c, tracers[1]) : Hearing{};
      }
      const double watts_db = to_db(c.power_w);
      for (const auto& l : for_1w) {
        if (!l.passage.any()) continue;
        const auto d = circuit::direction(l.passage, l.arriving + watts_db, l.noise, emission_, spread_db_);
        if (!c.any || d.days_in_ten / 10 > c.probability) {
          c.probability = d.days_in_ten / 10;
          c.predicted_db = d.snr_db;
        }
        c.any = true;
        c.open = c.open || d.open;
      }
    }
  }

  Hearing one_watt(const circuit::Circuits& circuits, std::size_t path, const Case& c,
                   const std::optional<circuit::Tracer>& tracer) const {
    const double mhz = nth(bands_, c.band).mhz;
    circuit::Station tx, rx;
    tx.gain_dbi = q_.tx_gain_dbi.value_or(0);
    tx.home = !q_.tx_gain_dbi;
    rx.gain_dbi = q_.rx_gain_dbi.value_or(0);
    rx.home = !q_.rx_gain_dbi;
    if (rx.home) rx.man_made_above_db = circuit::home_noise_db;
    rx.environment = q_.rx_noise;
    rx.receiver_noise_figure_db = q_.noise_figure_db;
    rx.land_share = nth(land_, c.rx).value_or(1);
    const auto passage = circuits.passage(path, c.hour, mhz);
    const auto noise = circuit::noise_at(circuits.to_sky(path, c.hour), circuits.path(path).to,
                                         static_cast<unsigned>(circuits.climate().day.month()), rx, mhz);
    const auto traced = tracer ? tracer->modes(passage, c.hour) : circuit::TracedModes{};
    return {passage, circuit::level(passage, circuits.path(path), tx, rx, &traced).received(0), noise};
  }

  std::span<const GeoPoint> stations_;
  const SpotQuestion& q_;
  const std::vector<BandKey>& bands_;
  std::vector<std::optional<double>> land_;
  noise::Mode emission_{q_.mode};  ///< asked for its threshold
  double spread_db_ = circuit::unknown_db({.spread_db = circuit::sender_spread_db},
                                          {.spread_db = circuit::partner_spread_db});
};

}  // namespace

BandKey band_key(double mhz) {
  for (const int region : {2, 3, 1}) {
    if (const auto band = noise::band_of(mhz, region)) return {band->id, band->mhz};
  }
  const double rounded = std::clamp(std::round(mhz * 10) / 10, 1.6, 54.0);
  return {fmt::format("{:.1f} MHz", rounded), rounded};
}

std::size_t forecast(std::span<const GeoPoint> stations, const SpotQuestion& q,
                     const std::vector<BandKey>& bands, const std::vector<Month>& months,
                     std::vector<Case>& cases) {
  std::vector<std::size_t> order(cases.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::sort(order.begin(), order.end(), [&](std::size_t i, std::size_t j) {
    const auto& a = cases[i];
    const auto& b = cases[j];
    return std::tie(a.month, a.tx, a.rx, a.hour, a.band, i) <
           std::tie(b.month, b.tx, b.rx, b.hour, b.band, j);
  });
  Forecaster forecaster(stations, q, bands, cases);
  std::size_t paths = 0;
  for (std::size_t i = 0; i < order.size();) {
    std::size_t j = i;
    while (j < order.size() && cases[order[j]].month == cases[order[i]].month) ++j;
    const auto month = nth(months, cases[order[i]].month);
    paths += forecaster.month(month, std::span(order).subspan(i, j - i), cases);
    i = j;
  }
  return paths;
}

}  // namespace skerry::after
