#include "ways.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "skerry/core/nth.hpp"

namespace skerry::advice {

namespace {

/// Judgement: more steps than this cost time and tell nothing.
constexpr std::size_t most_shares = 12;
constexpr double twentieth = 0.05;

struct Way {
  int setup = 0;
  double share = 1;
  std::vector<int> items;
};

std::vector<Way> all_ways(const kit::Trip& trip, const Inventory& inventory, const kit::Setups& setups) {
  std::vector<Way> out;
  for (std::size_t s = 0; s < setups.possible.size(); ++s) {
    const auto& setup = setups.possible[s];
    const auto& power = nth(inventory.power, setup.rig.value());
    if (!power.possible) continue;
    const double time =
        trip.count_setup_time ? time_left(trip, setup.site.value(), setup_minutes(trip, setup)) : 1.0;
    for (const auto& set : power.sets) {
      Way way;
      way.setup = static_cast<int>(s);
      way.share = set.share * time;
      for (const auto& id : setup.needs) {
        // Things found at the site are not in the inventory and weigh nothing.
        if (const auto where = inventory.by_id.find(id); where != inventory.by_id.end())
          way.items.push_back(where->second);
      }
      for (const int b : set.batteries)
        way.items.push_back(inventory.by_id.at(nth(trip.batteries, b).item.id));
      std::sort(way.items.begin(), way.items.end());
      way.items.erase(std::unique(way.items.begin(), way.items.end()), way.items.end());
      out.push_back(std::move(way));
    }
  }
  return out;
}

/// The different shares, rising; rounds them down first where they are too many.
std::vector<double> steps_of(std::vector<Way>& ways) {
  const auto different = [&] {
    std::vector<double> out;
    for (const auto& way : ways) {
      if (way.share > 0) out.push_back(way.share);
    }
    std::sort(out.begin(), out.end());
    out.erase(std::unique(out.begin(), out.end()), out.end());
    return out;
  };
  auto out = different();
  if (out.size() <= most_shares) return out;
  for (auto& way : ways) way.share = twentieth * std::floor(way.share / twentieth + 1e-9);
  return different();
}

}  // namespace

double setup_minutes(const kit::Trip& trip, const kit::Setup& setup) {
  double out = trip.at(setup.antenna).setup_minutes;
  for (const auto s : {setup.support, setup.far_support}) {
    if (s) out += trip.at(*s).setup_minutes;
  }
  return out;
}

std::vector<double> weights_of(const kit::Trip& trip, const ReachModel& model) {
  std::vector<double> out;
  for (const auto& cell : model.cells())
    out.push_back(trip.listeners.count ? cell.people_weight : cell.weight);
  return out;
}

void lay_out_ways(choose::Problem& problem, const kit::Trip& trip, const Inventory& inventory,
                  const kit::Setups& setups, const ReachModel& model, const std::vector<double>& weights,
                  double lost) {
  auto ways = all_ways(trip, inventory, setups);
  const auto steps = steps_of(ways);
  // Cells that the same setups serve.
  const std::size_t possible = setups.possible.size();
  std::map<std::vector<std::uint64_t>, std::size_t> group_of;
  std::vector<double> group_weight;
  std::vector<std::vector<std::size_t>> groups_of_setup(possible);
  double idle = lost;
  std::vector<std::uint64_t> column((possible + 63) / 64);
  for (std::size_t c = 0; c < weights.size(); ++c) {
    std::fill(column.begin(), column.end(), 0);
    bool any = false;
    for (std::size_t s = 0; s < possible; ++s) {
      if (!model.setups()[s].served.has(c)) continue;
      column[s / 64] |= std::uint64_t{1} << (s % 64);
      any = true;
    }
    if (!any) {
      idle += weights[c];
      continue;
    }
    const auto [where, fresh] = group_of.try_emplace(column, group_weight.size());
    if (fresh) {
      group_weight.push_back(0);
      for (std::size_t s = 0; s < possible; ++s) {
        if (((column[s / 64] >> (s % 64)) & 1U) != 0) groups_of_setup[s].push_back(where->second);
      }
    }
    group_weight[where->second] += weights[c];
  }
  problem.weights.clear();
  problem.bundles.clear();
  for (const double weight : group_weight) {
    double below = 0;
    for (const double step : steps) {
      problem.weights.push_back(weight * (step - below));
      below = step;
    }
    idle += weight * (1 - below);
  }
  if (idle > 0) problem.weights.push_back(idle);
  for (auto& way : ways) {
    choose::Bundle choice;
    choice.items = std::move(way.items);
    choice.cells = choose::CellSet(problem.weights.size());
    choice.origin = way.setup;
    choice.share = way.share;
    for (const std::size_t g : nth(groups_of_setup, way.setup)) {
      for (std::size_t k = 0; k < steps.size() && steps[k] <= way.share; ++k)
        choice.cells.add(g * steps.size() + k);
    }
    problem.bundles.push_back(std::move(choice));
  }
}

std::vector<double> shares_in(const choose::Problem& problem, std::size_t setups,
                              const std::vector<int>& kit) {
  std::vector<double> out(setups, 0);
  for (const auto& way : problem.bundles) {
    const bool works = std::all_of(way.items.begin(), way.items.end(),
                                   [&](int i) { return std::binary_search(kit.begin(), kit.end(), i); });
    if (!works) continue;
    auto& share = nth(out, way.origin);
    share = std::max(share, way.share);
  }
  return out;
}

std::vector<int> working(const std::vector<double>& shares) {
  std::vector<int> out;
  for (std::size_t s = 0; s < shares.size(); ++s) {
    if (shares[s] > 0) out.push_back(static_cast<int>(s));
  }
  return out;
}

double Worth::weigh(const choose::CellSet& cells) const {
  return by_people_ ? model_.people_share(cells) : model_.share(cells);
}

double Worth::of(std::vector<std::pair<double, const choose::CellSet*>> sets) const {
  std::stable_sort(sets.begin(), sets.end(), [](const auto& a, const auto& b) { return a.first > b.first; });
  choose::CellSet served(model_.cells().size());
  double out = 0;
  for (std::size_t i = 0; i < sets.size();) {
    const double share = sets[i].first;
    for (; i < sets.size() && sets[i].first == share; ++i) served.merge(*sets[i].second);
    out += weigh(served) * (share - (i < sets.size() ? sets[i].first : 0.0));
  }
  return out;
}

double Worth::of(const std::vector<int>& setups) const {
  std::vector<std::pair<double, const choose::CellSet*>> sets;
  sets.reserve(setups.size());
  for (const int s : setups) sets.emplace_back(share(s), &nth(model_.setups(), s).served);
  return of(std::move(sets));
}

}  // namespace skerry::advice
