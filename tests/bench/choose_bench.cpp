// How long the exact choice takes, and how that grows with things and bundles.
#include <benchmark/benchmark.h>

#include "../choose/random_problems.hpp"
#include "skerry/choose/choose.hpp"

using namespace skerry::choose;

namespace {

/// Inventories of rigs, antennas, masts, cables and tuners; cells of 12 regions, 24 hours and 10 bands; five
/// seeds each.
void inventory(benchmark::State& state) {
  const int items = static_cast<int>(state.range(0)), bundles = static_cast<int>(state.range(1));
  std::vector<Problem> problems;
  for (std::uint64_t seed = 1; seed <= 5; ++seed) {
    Dice dice(seed);
    problems.push_back(
        inventory_problem(dice, items, bundles, 12, static_cast<double>(state.range(2)) / 100));
  }
  double nodes = 0, proved = 0;
  for (auto _ : state) {
    nodes = proved = 0;
    for (const auto& p : problems) {
      const Choice c = best(p);
      nodes += static_cast<double>(c.nodes);
      proved += c.proved ? 1 : 0;
    }
  }
  state.counters["nodes"] = nodes / 5;
  state.counters["proved_of_5"] = proved;
}

/// Bundles of 2 to 5 things picked blindly, each serving a blind tenth of the cells: no structure to lean on.
void blind(benchmark::State& state) {
  const int items = static_cast<int>(state.range(0)), bundles = static_cast<int>(state.range(1));
  const int cells = static_cast<int>(state.range(2));
  Dice dice(1);
  const Problem p =
      random_problem(dice, items, bundles, cells, static_cast<double>(state.range(3)) / 100, 0.1);
  Stop stop;
  stop.max_nodes = 200000;
  Choice c;
  for (auto _ : state) c = best(p, stop);
  state.counters["nodes"] = static_cast<double>(c.nodes);
  state.counters["proved"] = c.proved ? 1 : 0;
  state.counters["gap_percent"] = 100 * (c.bound - c.reach);
}

/// So many rigs for the same antennas and packs: what a long list of near equals costs, for the choice and for the
/// question of one thing that stays.
void near_equals(benchmark::State& state) {
  const int rigs = static_cast<int>(state.range(0));
  Dice dice(2);
  Problem p = inventory_problem(dice, 40, 60, 12, 0.15);
  const std::vector<Bundle> pattern = p.bundles;
  p.bundles.clear();
  for (int r = 0; r < rigs; ++r) {
    p.items.push_back({"rig of its own " + std::to_string(r), 300.0 + 7 * r, false, false});
    for (auto bundle : pattern) {
      bundle.items.push_back(static_cast<int>(p.items.size()) - 1);
      p.bundles.push_back(std::move(bundle));
    }
  }
  Choice c;
  for (auto _ : state) c = best(p);
  state.counters["nodes"] = static_cast<double>(c.nodes);
  state.counters["proved"] = c.proved ? 1 : 0;
}

void trade_off(benchmark::State& state) {
  Dice dice(1);
  const Problem p =
      inventory_problem(dice, static_cast<int>(state.range(0)), static_cast<int>(state.range(1)), 12, 0.3);
  std::size_t kits = 0;
  for (auto _ : state) kits = frontier(p).kits.size();
  state.counters["kits"] = static_cast<double>(kits);
}

}  // namespace

// things, bundles, limit in percent of all mass
BENCHMARK(inventory)
    ->Args({20, 60, 15})
    ->Args({20, 60, 30})
    ->Args({40, 200, 8})
    ->Args({40, 200, 15})
    ->Args({40, 200, 30})
    ->Args({40, 200, 50})
    ->Args({60, 400, 8})
    ->Args({60, 400, 15})
    ->Args({60, 400, 30})
    ->Unit(benchmark::kMillisecond);
// The growth curve in things and bundles, at the limit where the choice is hardest.
BENCHMARK(inventory)
    ->Name("growth")
    ->Args({10, 30, 15})
    ->Args({20, 60, 15})
    ->Args({30, 120, 15})
    ->Args({40, 200, 15})
    ->Args({50, 300, 15})
    ->Args({60, 400, 15})
    ->Args({80, 600, 15})
    ->Unit(benchmark::kMillisecond)
    ->Iterations(1);
// things, bundles, cells, limit in percent
BENCHMARK(blind)
    ->Args({20, 60, 1000, 35})
    ->Args({25, 100, 1500, 20})
    ->Args({40, 150, 2000, 10})
    ->Args({40, 150, 2000, 15})
    ->Args({40, 200, 2880, 15})
    ->Args({40, 150, 2000, 30})
    ->Unit(benchmark::kMillisecond)
    ->Iterations(1);
BENCHMARK(near_equals)->Arg(10)->Arg(20)->Arg(40)->Arg(80)->Unit(benchmark::kMillisecond);
BENCHMARK(trade_off)->Args({20, 60})->Args({40, 200})->Unit(benchmark::kMillisecond);
