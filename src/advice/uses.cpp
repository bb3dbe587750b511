#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "advise_parts.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/parallel.hpp"
#include "skerry/core/units.hpp"
#include "skerry/kit/energy.hpp"
#include "ways.hpp"

namespace skerry::advice {

namespace {

/// A plan is complete when it lacks less than this of what the kit reaches. Judgement: a fifth of a percent.
constexpr double missed_by_nobody = 0.002;
/// Judgement: half a day in ten more or less in an hour is worth naming.
constexpr double worth_naming = 0.05;

/// Greedily the fewest setups that give what the kit gives.
std::vector<int> plan_of(const Worth& worth, const std::vector<int>& working) {
  const double enough = worth.of(working) - missed_by_nobody;
  std::vector<int> plan;
  while (worth.of(plan) <= enough) {
    std::optional<int> best;
    double most = -1;
    for (const int s : working) {
      if (std::find(plan.begin(), plan.end(), s) != plan.end()) continue;
      std::vector<int> with = plan;
      with.push_back(s);
      const double share = worth.of(with);
      if (share > most + 1e-12) {
        most = share;
        best = s;
      }
    }
    plan.push_back(*best);
  }
  // An early choice may have become needless.
  for (std::size_t k = 0; k < plan.size() && plan.size() > 1;) {
    std::vector<int> without = plan;
    without.erase(without.begin() + static_cast<std::ptrdiff_t>(k));
    if (worth.of(without) > enough) {
      plan.swap(without);
    } else {
      ++k;
    }
  }
  return plan;
}

/// Where and when some setups are missed: what they give less what is left without them.
std::vector<SoleService> sole_services(const ReachModel& model, const std::vector<double>& all,
                                       const std::vector<double>& without) {
  std::map<std::pair<int, int>, std::pair<std::set<int>, double>> found;
  for (std::size_t c = 0; c < model.cells().size(); ++c) {
    if (all[c] - without[c] < worth_naming) continue;
    const auto& cell = model.cells()[c];
    auto& [hours, weight] = found[{cell.site, cell.target}];
    hours.insert(cell.utc_hour);
    weight += (all[c] - without[c]) * cell.weight;
  }
  std::vector<SoleService> out;
  out.reserve(found.size());
  for (const auto& [key, value] : found) {
    out.push_back({key.first,
                   key.second,
                   {value.first.begin(), value.first.end()},
                   value.second / model.total_weight()});
  }
  std::stable_sort(out.begin(), out.end(),
                   [](const SoleService& a, const SoleService& b) { return a.share > b.share; });
  return out;
}

SetupUse describe(const Advice& advice, const ReachModel& model, const Worth& worth, int s,
                  const std::vector<int>& others) {
  const auto& reach = nth(model.setups(), s);
  const auto& setup = nth(advice.setups.possible, s);
  SetupUse out;
  out.setup = s;
  out.layout_azimuth_deg = reach.layout_azimuth_deg;
  out.turns = reach.turns;
  const bool one_ended = setup.shape == antenna::Shape::sloper || setup.shape == antenna::Shape::inverted_l;
  out.wire_azimuth_deg =
      one_ended ? wrap_360(90 + reach.layout_azimuth_deg) : std::fmod(90 + reach.layout_azimuth_deg, 180.0);
  out.share_of_hours = nth(advice.shares, s);
  out.alone = worth.of(std::vector<int>{s});
  const auto rest = worth.got(others);
  out.without = worth.weigh(rest);
  const auto& uses = nth(advice.book.setups, s);
  for (std::size_t u = 0; u < uses.size(); ++u) {
    const Worth::Row row{s, &worth.by_band(s)[u]};
    out.bands.push_back({uses[u], worth.of(std::span(&row, 1))});
  }
  auto all = others;
  all.push_back(s);
  out.sole = sole_services(model, worth.got(all), rest);
  return out;
}

/// Reach by whatever passes the test, over the working setups' bands.
template <class Test>
double reach_where(const Advice& advice, const Worth& worth, const std::vector<int>& working, Test&& test) {
  std::vector<Worth::Row> rows;
  for (const int s : working) {
    const auto& uses = nth(advice.book.setups, s);
    for (std::size_t u = 0; u < uses.size(); ++u) {
      if (test(s, uses[u])) rows.emplace_back(s, &worth.by_band(s)[u]);
    }
  }
  return worth.of(rows);
}

void share_out(Advice& advice, const Worth& worth, const std::vector<int>& working) {
  std::set<int> bands;
  std::set<Id<kit::Antenna>> antennas;
  for (const int s : working) {
    antennas.insert(nth(advice.setups.possible, s).antenna);
    for (const auto& use : nth(advice.book.setups, s)) bands.insert(use.band);
  }
  for (const int b : bands) {
    advice.bands.push_back(
        {b, reach_where(advice, worth, working, [&](int, const SetupBand& u) { return u.band == b; }),
         reach_where(advice, worth, working, [&](int, const SetupBand& u) { return u.band != b; })});
  }
  for (const auto a : antennas) {
    const auto uses = [&](int s) { return nth(advice.setups.possible, s).antenna == a; };
    advice.antennas.push_back(
        {a.value(), reach_where(advice, worth, working, [&](int s, const SetupBand&) { return uses(s); }),
         reach_where(advice, worth, working, [&](int s, const SetupBand&) { return !uses(s); })});
  }
}

void reach_targets(Advice& advice, const kit::Trip& trip, const ReachModel& model, const Worth& worth,
                   const std::vector<int>& working) {
  const auto served = worth.got(working);
  const auto& weights = worth.weights();
  for (std::size_t t = 0; t < trip.targets.size(); ++t) {
    TargetReach out;
    out.target = static_cast<int>(t);
    double all = 0, got = 0;
    std::vector<double> hour_all(24, 0), hour_got(24, 0);
    for (std::size_t c = 0; c < model.cells().size(); ++c) {
      const auto& cell = model.cells()[c];
      if (cell.target != out.target) continue;
      const auto h = static_cast<std::size_t>(cell.utc_hour);
      all += weights[c];
      hour_all[h] += cell.weight;
      got += served[c] * weights[c];
      hour_got[h] += served[c] * cell.weight;
    }
    out.reach = all > 0 ? got / all : 0;
    for (std::size_t h = 0; h < 24; ++h)
      out.by_hour.push_back(hour_all[h] > 0 ? std::optional(hour_got[h] / hour_all[h]) : std::nullopt);
    if (!trip.targets[t].people.empty() && !trip.sites.empty()) {
      const auto& path = model.path(0, out.target, largest_group(trip.targets[t]));
      out.bearing_deg = path.bearing_deg;
      out.distance_km = path.distance_km;
    }
    advice.targets.push_back(std::move(out));
  }
}

}  // namespace

void describe_uses(Advice& advice, const kit::Trip& trip, const ReachModel& model, const Worth& worth,
                   const std::vector<int>& working, const AdviceOptions& options) {
  const auto plan = plan_of(worth, working);
  for (const int s : plan) {
    std::vector<int> others = plan;
    std::erase(others, s);
    auto use = describe(advice, model, worth, s, others);
    use.in_plan = true;
    advice.uses.push_back(std::move(use));
  }
  for (const int s : working) {
    if (std::find(plan.begin(), plan.end(), s) != plan.end()) continue;
    std::vector<int> others = working;
    std::erase(others, s);
    auto use = describe(advice, model, worth, s, others);
    use.sole.clear();
    advice.uses.push_back(std::move(use));
  }
  if (options.openings) {
    std::vector<std::vector<int>> groups{working};
    for (const int s : plan) groups.push_back({s});
    auto tables = model.openings(groups);
    advice.openings = std::move(tables[0]);
    for (std::size_t k = 0; k < plan.size(); ++k) advice.uses[k].openings = std::move(tables[k + 1]);
  }
  share_out(advice, worth, working);
  reach_targets(advice, trip, model, worth, working);
}

void cost_masts(Advice& advice, const kit::Trip& trip) {
  parallel_for(advice.uses.size(), 1, [&](std::size_t begin, std::size_t end) {
    for (std::size_t k = begin; k < end; ++k) {
      auto& use = advice.uses[k];
      const auto most = std::max_element(use.bands.begin(), use.bands.end(),
                                         [](const auto& a, const auto& b) { return a.reach < b.reach; });
      if (!use.in_plan || most == use.bands.end()) continue;
      const int band = most->use.band;
      if (const auto db = mast_cost_db(trip, nth(advice.setups.possible, use.setup), band, advice.book))
        use.mast_cost = {Id<noise::Band>(band), *db};
    }
  });
}

void plan_power(Advice& advice, const kit::Trip& trip, const std::vector<int>& working) {
  std::set<Id<kit::Rig>> rigs;
  for (const int s : working) rigs.insert(nth(advice.setups.possible, s).rig);
  std::vector<int> packs, panels;
  for (const int i : advice.kit.items) {
    const auto& thing = nth(advice.inventory.things, i);
    if (thing.kind == ThingKind::battery) packs.push_back(thing.index);
    if (thing.kind == ThingKind::item && kit::sun_wh(trip, nth(trip.items, thing.index)) > 0)
      panels.push_back(thing.index);
  }
  for (const auto r : rigs)
    advice.power.push_back(with_packs(trip, nth(advice.inventory.power, r.value()), packs, panels));
}

}  // namespace skerry::advice
