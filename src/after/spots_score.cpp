// Which cases a table of reports holds, and the scores.
#include <algorithm>
#include <chrono>
#include <cmath>
#include <map>
#include <numeric>
#include <set>

#include "skerry/core/nth.hpp"
#include "spots_parts.hpp"

namespace skerry::after {

namespace {

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
      if (!spot->tx) continue;
      out.senders[*spot->tx].push_back(spot->power_w);
      auto& talk = out.heard[{*spot->tx, spot->rx}];
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

}  // namespace

SpotScore score_of(std::string name, std::span<const Case* const> cases) {
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
    if (!c->open) out.heard_though_closed += c->weight;
    if (c->any && !std::isnan(c->snr_db)) differences.push_back(c->snr_db - c->predicted_db);
  }
  out.brier = brier(trials);
  const double by_hours = group_climatology_score(trials, groups);
  if (by_hours > 0) out.skill_against_hours = 1 - out.brier.score / by_hours;
  out.roc_area = roc_area(trials);
  out.bins = reliability_bins(trials);
  out.snr = spread_of(std::move(differences));
  return out;
}

void score_bands(const std::vector<BandKey>& bands, const std::vector<Case>& cases, SpotScores& into) {
  std::vector<int> by_frequency(bands.size());
  std::iota(by_frequency.begin(), by_frequency.end(), 0);
  std::sort(by_frequency.begin(), by_frequency.end(),
            [&](int a, int b) { return nth(bands, a).mhz < nth(bands, b).mhz; });
  std::vector<const Case*> every;
  every.reserve(cases.size());
  for (const auto& c : cases) every.push_back(&c);
  for (const int band : by_frequency) {
    std::vector<const Case*> mine;
    std::copy_if(every.begin(), every.end(), std::back_inserter(mine),
                 [&](const Case* c) { return c->band == band; });
    into.bands.push_back(score_of(nth(bands, band).name, mine));
  }
  into.all = score_of("all", every);
}

SpotScores score_spots(const Spots& spots, const SpotQuestion& q) {
  SpotScores out;
  Cases all(spots, q.most_silent);
  out.silent_step = all.step();
  out.paths = forecast(spots.stations, q, all.bands, all.months, all.cases);
  score_bands(all.bands, all.cases, out);
  out.spots = spots.spots.size();
  std::set<int> used;
  out.first = out.last = spots.spots.empty() ? UtcTime{} : spots.spots.front().time;
  for (const auto& s : spots.spots) {
    out.first = std::min(out.first, s.time);
    out.last = std::max(out.last, s.time);
    used.insert(s.rx);
    if (s.tx) used.insert(*s.tx);
  }
  out.stations = used.size();
  return out;
}

}  // namespace skerry::after
