#include "ways.hpp"

#include <algorithm>
#include <map>
#include <numeric>

#include "skerry/core/nth.hpp"

namespace skerry::advice {

namespace {

/// Taking down takes this part of the time of putting up. Judgement: common practice, half of it.
constexpr double taking_down = 0.5;

/// The days between two charges, alike ones together; turns are the site hours of the model.
std::vector<choose::Spell> spells_of(const kit::Trip& trip) {
  std::map<std::pair<int, int>, int> turn_of;
  for (const auto& hour : session_hours(trip))
    turn_of.try_emplace({hour.site, hour.utc_hour}, static_cast<int>(turn_of.size()));
  std::map<Day, std::map<int, double>> days;
  for (const auto& slice : session_slices(trip)) {
    const Day day = trip.charging == kit::Charging::none ? trip.first_day : slice.day;
    days[day][turn_of.at({slice.site, slice.utc_hour})] += slice.minutes / 60;
  }
  std::map<std::map<int, double>, double> alike;
  for (auto& [day, hours] : days) ++alike[hours];
  std::vector<choose::Spell> out;
  for (const auto& [hours, count] : alike) {
    auto& spell = out.emplace_back();
    spell.count = count;
    for (const auto& [turn, h] : hours) spell.parts.push_back({turn, h});
  }
  return out;
}

std::vector<int> things_of(const Inventory& inventory, const kit::Setup& setup) {
  std::vector<int> out;
  for (const auto& id : setup.needs) {
    // Things found at the site are not in the inventory and weigh nothing.
    if (const auto where = inventory.by_id.find(id); where != inventory.by_id.end())
      out.push_back(where->second);
  }
  std::sort(out.begin(), out.end());
  out.erase(std::unique(out.begin(), out.end()), out.end());
  return out;
}

}  // namespace

double setup_minutes(const kit::Trip& trip, const kit::Setup& setup) {
  double out = trip.at(setup.antenna).setup_minutes;
  for (const auto s : {setup.support, setup.far_support}) {
    if (s) out += trip.at(*s).setup_minutes;
  }
  return out;
}

double time_left_after(const kit::Trip& trip, int site, double setup_minutes) {
  return trip.count_setup_time ? time_left(trip, site, (1 + taking_down) * setup_minutes) : 1;
}

std::vector<double> weights_of(const kit::Trip& trip, const ReachModel& model) {
  std::vector<double> out;
  for (const auto& cell : model.cells())
    out.push_back(trip.listeners.count ? cell.people_weight : cell.weight);
  return out;
}

void lay_out_things(choose::Problem& problem, const kit::Trip& trip, const Inventory& inventory) {
  problem.limit_g = trip.mass_limit_g;
  const auto kinds = kinds_of(trip, inventory);
  problem.items.clear();
  for (std::size_t i = 0; i < inventory.things.size(); ++i) {
    const auto& thing = inventory.things[i];
    problem.items.push_back({thing.id, thing.mass_g, thing.always, thing.excluded, kinds[i]});
  }
  problem.engines.clear();
  for (const auto& plan : inventory.power) {
    choose::Engine engine;
    if (inventory.batteries_listed) engine.own_hours = 0;
    for (const auto& feed : plan.feeds)
      engine.feeds.push_back({inventory.by_id.at(nth(trip.batteries, feed.battery).item.id), feed.hours});
    problem.engines.push_back(std::move(engine));
  }
}

std::vector<std::vector<float>> rows_of(const kit::Trip& trip, const std::vector<choose::Way>& ways,
                                        const kit::Setups& setups, const ReachModel& model) {
  std::vector<std::vector<float>> out;
  out.reserve(ways.size());
  for (const auto& way : ways) {
    const auto& setup = nth(setups.possible, way.origin);
    const auto time =
        static_cast<float>(time_left_after(trip, setup.site.value(), setup_minutes(trip, setup)));
    auto& row = out.emplace_back(nth(model.setups(), way.origin).chance);
    for (auto& chance : row) chance *= time;
  }
  return out;
}

choose::Problem packing_problem(const kit::Trip& trip, const Inventory& inventory, const kit::Setups& setups,
                                const ReachModel& model) {
  choose::Problem out;
  lay_out_things(out, trip, inventory);
  out.weights = weights_of(trip, model);
  std::map<std::pair<int, int>, int> turn_of;
  for (const auto& cell : model.cells())
    out.turns.push_back(
        turn_of.try_emplace({cell.site, cell.utc_hour}, static_cast<int>(turn_of.size())).first->second);
  out.spells = spells_of(trip);
  for (std::size_t s = 0; s < setups.possible.size(); ++s) {
    const auto& setup = setups.possible[s];
    if (!nth(inventory.power, setup.rig.value()).possible) continue;
    out.ways.push_back({things_of(inventory, setup), static_cast<int>(out.ways.size()), setup.rig.value(),
                        static_cast<int>(s)});
  }
  out.rows = rows_of(trip, out.ways, setups, model);
  out.feasible = feasible_in_bags(trip, inventory);
  return out;
}

Worth::Worth(const kit::Trip& trip, const Advice& advice, const ReachModel& model,
             const choose::Account& account, std::vector<double> weights)
    : trip_(trip), advice_(advice), model_(model), account_(account), weights_(std::move(weights)) {
  total_ = std::accumulate(weights_.begin(), weights_.end(), 0.0);
}

std::vector<double> Worth::got(std::span<const Row> rows) const {
  const auto& turns = advice_.problem.turns;
  const std::size_t per_engine = turns.empty() ? 0 : static_cast<std::size_t>(turns.back()) + 1;
  std::vector<double> out(weights_.size(), 0), best(weights_.size());
  for (std::size_t e = 0; e < advice_.problem.engines.size(); ++e) {
    std::fill(best.begin(), best.end(), 0.0);
    for (const auto& [s, chance] : rows) {
      const auto& setup = nth(advice_.setups.possible, s);
      if (setup.rig.value() != static_cast<int>(e)) continue;
      const double time = time_left_after(trip_, setup.site.value(), setup_minutes(trip_, setup));
      for (std::size_t c = 0; c < best.size(); ++c)
        best[c] = std::max(best[c], time * static_cast<double>((*chance)[c]));
    }
    for (std::size_t c = 0; c < best.size(); ++c)
      out[c] += best[c] * account_.share[e * per_engine + static_cast<std::size_t>(turns[c])];
  }
  return out;
}

const std::vector<std::vector<float>>& Worth::by_band(int setup) const {
  const auto [where, fresh] = by_band_.try_emplace(setup);
  if (fresh) where->second = model_.by_band(setup);
  return where->second;
}

std::vector<Worth::Row> Worth::rows_of(const std::vector<int>& setups) const {
  std::vector<Row> out;
  out.reserve(setups.size());
  for (const int s : setups) out.emplace_back(s, &nth(model_.setups(), s).chance);
  return out;
}

std::vector<double> Worth::got(const std::vector<int>& setups) const {
  return got(rows_of(setups));
}

double Worth::weigh(const std::vector<double>& got) const {
  double sum = 0;
  for (std::size_t c = 0; c < got.size(); ++c) sum += weights_[c] * got[c];
  return total_ > 0 ? sum / total_ : 0;
}

double Worth::of(std::span<const Row> rows) const {
  return weigh(got(rows));
}

double Worth::of(const std::vector<int>& setups) const {
  return weigh(got(setups));
}

std::vector<int> working(const Advice& advice, const choose::Account& account, const std::vector<int>& kit) {
  std::vector<int> out;
  for (const auto& way : advice.problem.ways) {
    if (nth(account.hours, way.engine) > 0 &&
        std::includes(kit.begin(), kit.end(), way.items.begin(), way.items.end()))
      out.push_back(way.origin);
  }
  return out;
}

std::vector<double> shares_in(const kit::Trip& trip, const Advice& advice, const choose::Account& account,
                              const std::vector<int>& working) {
  double all = 0;
  for (const auto& spell : advice.problem.spells) {
    for (const auto& part : spell.parts) all += spell.count * part.hours;
  }
  std::vector<double> out(advice.setups.possible.size(), 0);
  for (const int s : working) {
    const auto& setup = nth(advice.setups.possible, s);
    nth(out, s) = time_left_after(trip, setup.site.value(), setup_minutes(trip, setup)) *
                  nth(account.hours, setup.rig.value()) / all;
  }
  return out;
}

}  // namespace skerry::advice
