#include <algorithm>
#include <array>
#include <bit>
#include <set>

#include "advise_parts.hpp"
#include "skerry/core/nth.hpp"
#include "ways.hpp"

namespace skerry::advice {

namespace {

/// Source: harmonics of a transmitter, whole multiples. The fifth and higher are weak after the rig's own
/// low-pass filters. Judgement.
constexpr int highest_harmonic = 4;
/// Two bands nearer than this ratio need band-pass filters between stations a few tens of metres apart: an
/// octave-wide preselector passes both. Judgement, common practice among two-station groups.
constexpr double close_ratio = 1.35;
/// Judgement: nobody puts up more antennas than this in a session.
constexpr std::size_t most_raised = 6;

/// What some setups give on each band, [band][cell].
std::vector<std::vector<double>> by_band(const Advice& advice, const kit::Trip& trip, const Worth& worth,
                                         const std::vector<int>& setups) {
  std::vector<std::vector<double>> out;
  std::vector<Worth::Row> rows;
  for (int band = 0; band < static_cast<int>(trip.bands.size()); ++band) {
    rows.clear();
    for (const int s : setups) {
      const auto& uses = nth(advice.book.setups, s);
      for (std::size_t u = 0; u < uses.size(); ++u) {
        if (uses[u].band == band) rows.emplace_back(s, &worth.by_band(s)[u]);
      }
    }
    out.push_back(worth.got(rows));
  }
  return out;
}

/// Weight reached in the hours of one site (lists of cells) with at most so many bands in each hour.
double best_hours(const std::vector<std::vector<std::size_t>>& hours, const std::vector<double>& weights,
                  const std::vector<std::vector<double>>& served, int most) {
  const auto bands = static_cast<unsigned>(served.size());
  double got = 0;
  for (const auto& cells : hours) {
    if (cells.empty()) continue;
    double best = 0;
    // Ten bands or so: every choice of them is tried.
    for (unsigned mask = 0; mask < (1U << bands); ++mask) {
      if (std::popcount(mask) != most) continue;
      double sum = 0;
      for (const std::size_t c : cells) {
        double share = 0;
        for (unsigned b = 0; b < bands; ++b) {
          if (((mask >> b) & 1U) != 0) share = std::max(share, served[b][c]);
        }
        sum += share * weights[c];
      }
      best = std::max(best, sum);
    }
    got += best;
  }
  return got;
}

void look_at_pair(const noise::Band& a, const noise::Band& b, BandPair& pair) {
  for (int n = highest_harmonic; n >= 2; --n) {
    if (n * a.low_mhz <= b.high_mhz && n * a.high_mhz >= b.low_mhz) pair.harmonic = n;
  }
  pair.close = pair.harmonic == 0 && b.mhz < close_ratio * a.mhz;
}

}  // namespace

void look_at_practice(Advice& advice, const kit::Trip& trip, const ReachModel& model, const Worth& worth) {
  auto& out = advice.practice;
  out.bands_per_hour = trip.bands_per_hour;
  out.setup_minutes.assign(trip.sites.size(), 0);
  const auto& weights = worth.weights();
  double all = 0, got = 0;
  for (const double w : weights) all += w;
  const int bands = static_cast<int>(trip.bands.size());
  const int most = trip.bands_per_hour > 0 ? std::min(trip.bands_per_hour, bands) : bands;
  for (std::size_t site = 0; site < trip.sites.size(); ++site) {
    std::vector<std::vector<std::size_t>> hours(24);
    for (std::size_t c = 0; c < weights.size(); ++c) {
      const auto& cell = model.cells()[c];
      if (cell.site == static_cast<int>(site)) nth(hours, cell.utc_hour).push_back(c);
    }
    // The plan is in order of what each setup adds: beyond the first few nothing is worth the minutes.
    std::vector<int> plan;
    for (const auto& use : advice.uses) {
      const auto& setup = nth(advice.setups.possible, use.setup);
      if (use.in_plan && setup.site == Id<kit::Site>(site) && plan.size() < most_raised)
        plan.push_back(use.setup);
    }
    double best = 0;
    std::vector<int> raised;
    for (unsigned subset = 1; subset < (1U << plan.size()); ++subset) {
      std::vector<int> some;
      double minutes = 0, longest = 0;
      for (std::size_t k = 0; k < plan.size(); ++k) {
        if (((subset >> k) & 1U) != 0) some.push_back(plan[k]);
      }
      // Two rigs on one antenna put it up once.
      using Place = std::optional<Id<kit::Support>>;
      std::set<std::tuple<Id<kit::Antenna>, Place, Place, antenna::Shape>> masts;
      for (const int s : some) {
        const auto& setup = nth(advice.setups.possible, s);
        if (!masts.insert({setup.antenna, setup.support, setup.far_support, setup.shape}).second) continue;
        minutes += setup_minutes(trip, setup);
        longest = std::max(longest, setup_minutes(trip, setup));
      }
      // The longest of them is counted already, with each setup.
      const auto left = [&](double m) { return time_left_after(trip, static_cast<int>(site), m); };
      const double more = left(longest) > 0 ? left(minutes) / left(longest) : 0;
      const double sum = more * best_hours(hours, weights, by_band(advice, trip, worth, some), most);
      if (sum <= best + 1e-12 * all) continue;
      best = sum;
      out.setup_minutes[site] = minutes;
      raised = some;
    }
    got += best;
    out.raised.insert(out.raised.end(), raised.begin(), raised.end());
  }
  out.reach = all > 0 ? got / all : 0;
}

void pair_bands(Advice& advice, const kit::Trip& trip, const Worth& worth) {
  std::set<Id<kit::Rig>> rigs;
  for (const auto& use : advice.uses) rigs.insert(nth(advice.setups.possible, use.setup).rig);
  if (rigs.empty() || (trip.people < 2 && rigs.size() < 2)) return;
  std::vector<int> setups;
  for (const auto& use : advice.uses) setups.push_back(use.setup);
  const auto served = by_band(advice, trip, worth, setups);
  const auto& weights = worth.weights();
  double all = 0;
  for (const double w : weights) all += w;
  for (std::size_t a = 0; a < trip.bands.size(); ++a) {
    for (std::size_t b = a + 1; b < trip.bands.size(); ++b) {
      const auto some = [](const std::vector<double>& row) {
        return std::any_of(row.begin(), row.end(), [](double x) { return x > 0; });
      };
      if (!some(served[a]) || !some(served[b])) continue;
      BandPair pair;
      pair.a = static_cast<int>(a);
      pair.b = static_cast<int>(b);
      look_at_pair(trip.bands[a], trip.bands[b], pair);
      double sum = 0;
      for (std::size_t c = 0; c < weights.size(); ++c)
        sum += weights[c] * std::max(served[a][c], served[b][c]);
      pair.reach = all > 0 ? sum / all : 0;
      advice.pairs.push_back(pair);
    }
  }
  std::stable_sort(advice.pairs.begin(), advice.pairs.end(), [](const BandPair& x, const BandPair& y) {
    return x.together() != y.together() ? x.together() : x.reach > y.reach;
  });
}

}  // namespace skerry::advice
