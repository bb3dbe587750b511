// Which cases a table of reports holds, what was forecast for each, and the scores.
#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <map>
#include <numeric>
#include <set>
#include <unordered_map>

#include "skerry/after/spots.hpp"
#include "skerry/circuit/circuit.hpp"
#include "skerry/circuit/contact.hpp"
#include "skerry/circuit/path_answer.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/parallel.hpp"
#include "skerry/core/units.hpp"
#include "skerry/ionosphere/activity.hpp"

namespace skerry::after {

namespace {

/// From this length on the way round the far side of the Earth is asked as well. Judgement: nearer, the long
/// way is over 32 000 km and weaker by tens of decibels.
constexpr double both_ways_km = 8000;
/// Paths prepared together. Judgement: some 12 kB each.
constexpr std::size_t block_paths = 2000;

struct BandKey {
  std::string name;
  double mhz = 0;  ///< at which it is computed
};

/// The amateur band of a frequency by the widest of the three Regions, or the frequency itself to 0.1 MHz.
BandKey band_key(double mhz) {
  for (const int region : {2, 3, 1}) {
    if (const auto band = noise::band_of(mhz, region)) return {band->id, band->mhz};
  }
  const double rounded = std::clamp(std::round(mhz * 10) / 10, 1.6, 30.0);
  return {fmt::format("{:.1f} MHz", rounded), rounded};
}

struct Case {
  int tx = 0, rx = 0;
  int band = 0;
  int month = 0;  ///< index into the months
  int hour = 0;
  double power_w = 0;
  bool heard = false;
  double snr_db = 0;  ///< median of the reports; NaN: none gave one
  double weight = 1;
  // By the forecast:
  double probability = 0, predicted_db = 0;
  bool open = false;
};

/// All reports of one band within one hour.
struct Slot {
  int band = 0;
  long long hour = 0;  ///< whole hours since 1970
  std::vector<const Spots::Spot*> spots;
};

double median_of(std::vector<double>& values) {
  if (values.empty()) return std::nan("");
  std::sort(values.begin(), values.end());
  const auto n = values.size();
  return n % 2 == 1 ? values[n / 2] : 0.5 * (values[n / 2 - 1] + values[n / 2]);
}

class Cases {
 public:
  Cases(const Spots& spots, std::size_t most_silent) {
    gather(spots);
    count_silent();
    step_ = std::max<std::size_t>(1, (silent_ + most_silent - 1) / std::max<std::size_t>(1, most_silent));
    for (const auto& slot : slots_) list(slot);
  }
  std::vector<Case> cases;
  std::vector<BandKey> bands;
  std::vector<Month> months;
  [[nodiscard]] std::size_t step() const { return step_; }

 private:
  struct Talk {
    std::vector<double> snr_db;
    std::vector<double> power_w;
  };
  struct Hour {
    std::map<int, std::vector<double>> senders;  ///< with the powers told
    std::set<int> receivers;
    std::map<std::pair<int, int>, Talk> heard;
  };

  void gather(const Spots& spots) {
    std::map<std::string, int> known;
    std::map<std::pair<long long, int>, std::size_t> where;
    for (const auto& spot : spots.spots) {
      const auto key = band_key(spot.mhz);
      const auto [at, fresh] = known.try_emplace(key.name, static_cast<int>(bands.size()));
      if (fresh) bands.push_back(key);
      // The nearest whole hour, for whose sky the forecast is made.
      const auto hour = std::chrono::floor<std::chrono::hours>(spot.time + std::chrono::minutes{30})
                            .time_since_epoch()
                            .count();
      const auto [slot, new_slot] = where.try_emplace({hour, at->second}, slots_.size());
      if (new_slot) slots_.push_back({at->second, hour, {}});
      slots_[slot->second].spots.push_back(&spot);
    }
    // In order of time and band, whatever the order of the file.
    std::sort(slots_.begin(), slots_.end(), [](const Slot& a, const Slot& b) {
      return std::pair(a.hour, a.band) < std::pair(b.hour, b.band);
    });
  }
  static Hour hour_of(const Slot& slot) {
    Hour out;
    for (const auto* spot : slot.spots) {
      out.receivers.insert(spot->rx);
      if (spot->tx < 0) continue;
      out.senders[spot->tx].push_back(spot->power_w);
      auto& talk = out.heard[{spot->tx, spot->rx}];
      talk.power_w.push_back(spot->power_w);
      if (spot->snr_db) talk.snr_db.push_back(*spot->snr_db);
    }
    return out;
  }
  void count_silent() {
    for (const auto& slot : slots_) {
      const auto hour = hour_of(slot);
      silent_ += hour.senders.size() * hour.receivers.size() - hour.heard.size();
    }
  }
  void list(const Slot& slot) {
    auto hour = hour_of(slot);
    const UtcTime time{std::chrono::hours{slot.hour}};
    const Month month = month_of(time);
    if (months.empty() || months.back() != month) months.push_back(month);
    Case c;
    c.band = slot.band;
    c.month = static_cast<int>(months.size()) - 1;
    c.hour = static_cast<int>(std::lround(utc_hour(time)));
    for (auto& [tx, powers] : hour.senders) {
      c.tx = tx;
      const double usual_w = median_of(powers);
      for (const int rx : hour.receivers) {
        if (rx == tx) continue;
        c.rx = rx;
        const auto talk = hour.heard.find({tx, rx});
        c.heard = talk != hour.heard.end();
        if (c.heard) {
          c.power_w = median_of(talk->second.power_w);
          c.snr_db = median_of(talk->second.snr_db);
          c.weight = 1;
        } else {
          if (taken_++ % step_ != step_ / 2) continue;
          c.power_w = usual_w;
          c.weight = static_cast<double>(step_);
        }
        cases.push_back(c);
      }
    }
  }

  std::vector<Slot> slots_;
  std::size_t silent_ = 0, step_ = 1, taken_ = 0;
};

/// Fills in the forecasts of all cases of one month, path by path.
class Forecaster {
 public:
  Forecaster(const Spots& spots, const SpotQuestion& q, const std::vector<BandKey>& bands)
      : spots_(spots), q_(q), bands_(bands), near_land_(spots.stations.size(), -1) {
    // A case asks the land map of its receiver once, before the threads start.
    for (const auto& spot : spots.spots) {
      auto& known = nth(near_land_, spot.rx);
      if (known < 0) known = circuit::near_land(nth(spots.stations, spot.rx)) ? 1 : 0;
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
      const GeoPoint from = nth(spots_.stations, c.tx);
      const GeoPoint to = nth(spots_.stations, c.rx);
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
    std::array<circuit::Direction, 2> for_1w;
    for (std::size_t k = g.begin; k < g.end; ++k) {
      Case& c = cases[order[k]];
      if (c.hour != hour || c.band != band) {
        hour = c.hour;
        band = c.band;
        for_1w[0] = one_watt(circuits, g.path, c);
        for_1w[1] = g.both ? one_watt(circuits, g.path + 1, c) : circuit::Direction{};
      }
      const double watts_db = to_db(c.power_w);
      for (const auto& l : for_1w) {
        if (!l.open) continue;
        const double snr = l.snr_db + watts_db;
        const double p = circuit::reliability(snr - q_.mode.threshold_snr_db, l.snr_upper_db, l.snr_lower_db);
        if (!c.open || p > c.probability) {
          c.probability = p;
          c.predicted_db = snr;
        }
        c.open = true;
      }
    }
  }

  circuit::Direction one_watt(const circuit::Circuits& circuits, std::size_t path, const Case& c) const {
    const double mhz = nth(bands_, c.band).mhz;
    circuit::Station tx, rx;
    tx.gain_dbi = q_.tx_gain_dbi;
    rx.gain_dbi = q_.rx_gain_dbi;
    rx.environment = q_.rx_noise;
    rx.receiver_noise_figure_db = q_.noise_figure_db;
    rx.near_land = nth(near_land_, c.rx) == 1;
    const auto passage = circuits.passage(path, c.hour, mhz);
    if (!passage.open()) return {};
    const auto noise = circuit::noise_at(circuits.to_sky(path, c.hour), circuits.path(path).to,
                                         static_cast<unsigned>(circuits.climate().day.month()), rx, mhz);
    return circuit::direction(passage, circuit::level(passage, circuits.path(path), tx, rx).received_dbw(0),
                              noise, q_.mode);
  }

  const Spots& spots_;
  const SpotQuestion& q_;
  const std::vector<BandKey>& bands_;
  std::vector<int> near_land_;
};

SpotScore score_of(std::string name, const std::vector<const Case*>& cases) {
  SpotScore out;
  out.band = std::move(name);
  std::vector<Trial> trials;
  std::vector<int> groups;
  std::vector<double> differences;
  trials.reserve(cases.size());
  for (const auto* c : cases) {
    trials.push_back({c->probability, c->heard, c->weight});
    groups.push_back(c->band * 24 + c->hour);
    (c->heard ? out.heard : out.silent) += c->weight;
    if (!c->heard) continue;
    if (!c->open) out.heard_though_closed += 1;
    if (c->open && !std::isnan(c->snr_db)) differences.push_back(c->snr_db - c->predicted_db);
  }
  out.brier = brier(trials);
  const double by_hours = group_climatology_score(trials, groups);
  if (by_hours > 0) out.skill_against_hours = 1 - out.brier.score / by_hours;
  out.roc_area = roc_area(trials);
  out.bins = reliability_bins(trials);
  out.snr = spread_of(std::move(differences));
  return out;
}

}  // namespace

SpotScores score_spots(const Spots& spots, const SpotQuestion& q) {
  SpotScores out;
  Cases all(spots, q.most_silent);
  auto& cases = all.cases;
  out.silent_step = all.step();
  std::vector<std::size_t> order(cases.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::sort(order.begin(), order.end(), [&](std::size_t i, std::size_t j) {
    const auto& a = cases[i];
    const auto& b = cases[j];
    return std::tie(a.month, a.tx, a.rx, a.hour, a.band, i) <
           std::tie(b.month, b.tx, b.rx, b.hour, b.band, j);
  });
  Forecaster forecaster(spots, q, all.bands);
  for (std::size_t i = 0; i < order.size();) {
    std::size_t j = i;
    while (j < order.size() && cases[order[j]].month == cases[order[i]].month) ++j;
    const auto month = nth(all.months, cases[order[i]].month);
    out.paths += forecaster.month(month, std::span(order).subspan(i, j - i), cases);
    i = j;
  }

  std::vector<int> by_frequency(all.bands.size());
  std::iota(by_frequency.begin(), by_frequency.end(), 0);
  std::sort(by_frequency.begin(), by_frequency.end(),
            [&](int a, int b) { return nth(all.bands, a).mhz < nth(all.bands, b).mhz; });
  std::vector<const Case*> every;
  every.reserve(cases.size());
  for (const auto& c : cases) every.push_back(&c);
  for (const int band : by_frequency) {
    std::vector<const Case*> mine;
    std::copy_if(every.begin(), every.end(), std::back_inserter(mine),
                 [&](const Case* c) { return c->band == band; });
    out.bands.push_back(score_of(nth(all.bands, band).name, mine));
  }
  out.all = score_of("all", every);
  out.spots = spots.spots.size();
  std::set<int> used;
  out.first = out.last = spots.spots.empty() ? UtcTime{} : spots.spots.front().time;
  for (const auto& s : spots.spots) {
    out.first = std::min(out.first, s.time);
    out.last = std::max(out.last, s.time);
    used.insert(s.rx);
    if (s.tx >= 0) used.insert(s.tx);
  }
  out.stations = used.size();
  return out;
}

}  // namespace skerry::after
