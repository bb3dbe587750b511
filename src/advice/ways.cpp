#include "ways.hpp"

#include <algorithm>
#include <map>
#include <numeric>

#include "skerry/core/nth.hpp"
#include "skerry/kit/energy.hpp"

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

/// The engines of a problem: which rig, at which output, charged by which panels.
class Engines {
 public:
  Engines(const kit::Trip& trip, const Inventory& inventory, std::vector<choose::Engine>& out)
      : trip_(trip), inventory_(inventory), out_(out), days_(days_on_air(trip)) {
    // Without a further day there is nothing to charge for.
    if (days_ < 2) return;
    for (const int i : panels_of(trip)) {
      const int thing = inventory.by_id.at(nth(trip.items, i).id);
      if (!nth(inventory.things, thing).excluded)
        panels_.push_back({thing, kit::sun_wh(trip, nth(trip.items, i))});
    }
  }

  /// One engine, and the panels that must be there for it.
  struct Engine {
    int index = 0;
    std::vector<int> panels;
  };
  /// Those of a setup: with no panel, and with each set of them.
  const std::vector<Engine>& of(const kit::Setup& setup) {
    auto [where, fresh] = known_.try_emplace({setup.rig.value(), setup.power_w.value_or(0)});
    if (!fresh) return where->second;
    std::vector<Feed> feeds;
    for (const auto& feed : nth(inventory_.power, setup.rig.value()).feeds) {
      if (!setup.power_w || feed.power_w >= *setup.power_w) feeds.push_back(feed);
    }
    for (unsigned set = 0; set < (1U << panels_.size()); ++set) {
      Engine one{static_cast<int>(out_.size()), {}};
      double wh = 0;
      for (std::size_t p = 0; p < panels_.size(); ++p) {
        if (((set >> p) & 1U) == 0) continue;
        one.panels.push_back(panels_[p].thing);
        wh += panels_[p].wh;
      }
      choose::Engine engine;
      if (inventory_.batteries_listed) engine.own_hours = 0;
      for (const auto& feed : feeds)
        engine.feeds.push_back({inventory_.by_id.at(nth(trip_.batteries, feed.battery).item.id), feed.hours});
      if (trip_.charging == kit::Charging::solar && days_ > 1) {
        engine.spells = days_;
        engine.more_hours = (days_ - 1) * sun_hours(wh, feeds);
      }
      out_.push_back(std::move(engine));
      where->second.push_back(std::move(one));
    }
    return where->second;
  }

 private:
  struct Panel {
    int thing = 0;
    double wh = 0;
  };
  const kit::Trip& trip_;
  const Inventory& inventory_;
  std::vector<choose::Engine>& out_;
  int days_;
  std::vector<Panel> panels_;
  std::map<std::pair<int, double>, std::vector<Engine>> known_;
};

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

void lay_out_things(choose::Problem& problem, const kit::Trip& trip, const Inventory& inventory,
                    const kit::Setups& setups) {
  problem.limit_g = trip.mass_limit_g;
  const auto kinds = kinds_of(trip, inventory);
  problem.items.clear();
  for (std::size_t i = 0; i < inventory.things.size(); ++i) {
    const auto& thing = inventory.things[i];
    problem.items.push_back({thing.id, thing.mass_g, thing.always, thing.excluded, kinds[i]});
  }
  problem.engines.clear();
  problem.ways.clear();
  Engines engines(trip, inventory, problem.engines);
  for (std::size_t s = 0; s < setups.possible.size(); ++s) {
    const auto& setup = setups.possible[s];
    if (!nth(inventory.power, setup.rig.value()).possible) continue;
    const auto things = things_of(inventory, setup);
    for (const auto& engine : engines.of(setup)) {
      auto with = things;
      with.insert(with.end(), engine.panels.begin(), engine.panels.end());
      std::sort(with.begin(), with.end());
      with.erase(std::unique(with.begin(), with.end()), with.end());
      problem.ways.push_back({std::move(with), static_cast<int>(s), engine.index, static_cast<int>(s)});
    }
  }
}

std::vector<std::vector<float>> rows_of(const kit::Trip& trip, const kit::Setups& setups,
                                        const ReachModel& model) {
  std::vector<std::vector<float>> out;
  out.reserve(setups.possible.size());
  for (std::size_t s = 0; s < setups.possible.size(); ++s) {
    const auto& setup = setups.possible[s];
    const auto time =
        static_cast<float>(time_left_after(trip, setup.site.value(), setup_minutes(trip, setup)));
    auto& row = out.emplace_back(model.setups()[s].chance);
    for (auto& chance : row) chance *= time;
  }
  return out;
}

choose::Problem packing_problem(const kit::Trip& trip, const Inventory& inventory, const kit::Setups& setups,
                                const ReachModel& model) {
  choose::Problem out;
  lay_out_things(out, trip, inventory, setups);
  out.weights = weights_of(trip, model);
  std::map<std::pair<int, int>, int> turn_of;
  for (const auto& cell : model.cells())
    out.turns.push_back(
        turn_of.try_emplace({cell.site, cell.utc_hour}, static_cast<int>(turn_of.size())).first->second);
  out.spells = spells_of(trip);
  out.rows = rows_of(trip, setups, model);
  out.feasible = feasible_in_bags(trip, inventory);
  return out;
}

namespace {

/// Per possible setup: the engines that may work it, sorted.
std::vector<std::vector<int>> engines_of(const Advice& advice) {
  std::vector<std::vector<int>> out(advice.setups.possible.size());
  for (const auto& way : advice.problem.ways) nth(out, way.origin).push_back(way.engine);
  for (auto& list : out) std::sort(list.begin(), list.end());
  return out;
}

}  // namespace

Worth::Worth(const kit::Trip& trip, const Advice& advice, const ReachModel& model,
             const choose::Account& account, std::vector<double> weights)
    : trip_(trip), advice_(advice), model_(model), account_(account), weights_(std::move(weights)) {
  total_ = std::accumulate(weights_.begin(), weights_.end(), 0.0);
  engines_of_ = engines_of(advice);
}

std::vector<double> Worth::got(std::span<const Row> rows) const {
  const auto& turns = advice_.problem.turns;
  const std::size_t per_engine = turns.empty() ? 0 : static_cast<std::size_t>(turns.back()) + 1;
  std::vector<double> out(weights_.size(), 0), best(weights_.size());
  for (std::size_t e = 0; e < advice_.problem.engines.size(); ++e) {
    std::fill(best.begin(), best.end(), 0.0);
    for (const auto& [s, chance] : rows) {
      const auto& setup = nth(advice_.setups.possible, s);
      const auto& engines = nth(engines_of_, s);
      if (!std::binary_search(engines.begin(), engines.end(), static_cast<int>(e))) continue;
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
  std::sort(out.begin(), out.end());
  out.erase(std::unique(out.begin(), out.end()), out.end());
  return out;
}

std::vector<double> shares_in(const kit::Trip& trip, const Advice& advice, const choose::Account& account,
                              const std::vector<int>& working) {
  double all = 0;
  for (const auto& spell : advice.problem.spells) {
    for (const auto& part : spell.parts) all += spell.count * part.hours;
  }
  std::vector<double> out(advice.setups.possible.size(), 0);
  const auto engines = engines_of(advice);
  for (const int s : working) {
    const auto& setup = nth(advice.setups.possible, s);
    double hours = 0;
    for (const int e : nth(engines, s)) hours += nth(account.hours, e);
    nth(out, s) = time_left_after(trip, setup.site.value(), setup_minutes(trip, setup)) * hours / all;
  }
  return out;
}

}  // namespace skerry::advice
