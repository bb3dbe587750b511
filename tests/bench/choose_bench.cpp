// How long the exact choice takes, and how that grows with things and ways.
#include <benchmark/benchmark.h>

#include "../choose/random_problems.hpp"
#include "../support/allocations.hpp"
#include "skerry/choose/choose.hpp"

#if defined(__GNUC__) && !defined(__clang__)
// Inlined into the registration of a benchmark, a delete of our own looks like another's.
#pragma GCC diagnostic ignored "-Wmismatched-new-delete"
#endif

using namespace skerry::choose;
using skerry::test::allocations_of;

namespace {

/// A minute is more than anybody waits.
constexpr std::uint64_t node_limit = 300000;

void report(benchmark::State& state, const Problem& p, const Choice& c, std::size_t allocated) {
  state.counters["things"] = static_cast<double>(p.items.size());
  state.counters["ways"] = static_cast<double>(p.ways.size());
  state.counters["nodes"] = static_cast<double>(c.nodes);
  state.counters["proved"] = c.proved ? 1 : 0;
  state.counters["gap_percent"] = 100 * (c.bound - c.reach);
  state.counters["allocations"] = static_cast<double>(allocated);
}

void solve(benchmark::State& state, const Problem& p) {
  Choice c;
  std::size_t allocated = 0;
  Stop stop;
  stop.max_nodes = node_limit;
  for (auto _ : state) {
    const Solver solver(p);
    allocated = allocations_of([&] { c = solver.best({}, stop); });
  }
  report(state, p, c, allocated);
}

Stock of_things(int things) {
  // Rigs, antennas, masts, cables, tuners and packs in the proportions of real lists.
  Stock stock;
  stock.rigs = std::max(1, things / 14);
  stock.masts = std::max(2, things / 5);
  stock.cables = std::max(1, things / 10);
  stock.tuners = std::max(1, things / 12);
  stock.packs = std::max(2, things / 7);
  stock.antennas = things - stock.rigs - stock.masts - stock.cables - stock.tuners - stock.packs;
  stock.regions = 12;
  return stock;
}

/// Derived: rigs x antennas x masts x cables x tuners, packs; seed, things, limit in percent of all mass.
void derived(benchmark::State& state) {
  Dice dice(static_cast<std::uint64_t>(state.range(0)));
  solve(state, inventory_problem(dice, of_things(static_cast<int>(state.range(1))),
                                 static_cast<double>(state.range(2)) / 100));
}

/// The same, everything there three times with a few grams and a shade of strength between them.
void near_equals(benchmark::State& state) {
  Dice dice(static_cast<std::uint64_t>(state.range(0)));
  Stock stock = of_things(static_cast<int>(state.range(1)));
  stock.alike = 3;
  solve(state, inventory_problem(dice, stock, static_cast<double>(state.range(2)) / 100));
}

/// Ways of 2 to 5 things picked blindly, each with gains in a blind tenth of the cells: no structure to lean on.
void blind(benchmark::State& state) {
  Dice dice(1);
  solve(state,
        random_problem(dice, static_cast<int>(state.range(0)), static_cast<int>(state.range(1)),
                       static_cast<int>(state.range(2)), static_cast<double>(state.range(3)) / 100, 0.1));
}

/// What one trip asks: made ready, the best kit, the frontier, each thing left and each thing taken.
Problem trip_problem() {
  Dice dice(3);
  Stock stock;
  stock.packs = 4;
  stock.tuners = 2;
  stock.regions = 25;
  stock.days = 4;
  return inventory_problem(dice, stock, 0.3);
}
void trip_ready(benchmark::State& state) {
  const Problem p = trip_problem();
  for (auto _ : state) benchmark::DoNotOptimize(Solver(p).problem().items.size());
}
void trip_best(benchmark::State& state) {
  const Problem p = trip_problem();
  const Solver solver(p);
  Choice c;
  std::size_t allocated = 0;
  for (auto _ : state) allocated = allocations_of([&] { c = solver.best(); });
  report(state, p, c, allocated);
}
void trip_frontier(benchmark::State& state) {
  const Problem p = trip_problem();
  const Solver solver(p);
  std::size_t kits = 0;
  for (auto _ : state) kits = solver.frontier().kits.size();
  state.counters["kits"] = static_cast<double>(kits);
}
void trip_each_thing(benchmark::State& state) {
  const Problem p = trip_problem();
  const Solver solver(p);
  const Choice chosen = solver.best();
  double nodes = 0;
  for (auto _ : state) {
    nodes = 0;
    for (int i = 0; i < static_cast<int>(p.items.size()); ++i) {
      Ask ask;
      ask.start = chosen.items;
      const bool in = std::binary_search(chosen.items.begin(), chosen.items.end(), i);
      (in ? ask.without : ask.with) = {i};
      nodes += static_cast<double>(solver.best(ask).nodes);
    }
  }
  state.counters["questions"] = static_cast<double>(p.items.size());
  state.counters["nodes"] = nodes;
}

}  // namespace

BENCHMARK(trip_ready)->Unit(benchmark::kMillisecond);
BENCHMARK(trip_best)->Unit(benchmark::kMillisecond);
BENCHMARK(trip_frontier)->Unit(benchmark::kMillisecond);
BENCHMARK(trip_each_thing)->Unit(benchmark::kMillisecond);
BENCHMARK(derived)
    ->ArgsProduct({{1, 2}, {14, 28, 42, 56}, {10, 20, 35}})
    ->Unit(benchmark::kMillisecond)
    ->Iterations(1);
BENCHMARK(near_equals)
    ->ArgsProduct({{1, 2}, {42, 63}, {10, 20, 35}})
    ->Unit(benchmark::kMillisecond)
    ->Iterations(1);
// things, ways, cells, limit in percent
BENCHMARK(blind)
    ->Args({20, 60, 1000, 35})
    ->Args({25, 100, 1500, 20})
    ->Args({40, 150, 2000, 10})
    ->Args({40, 150, 2000, 15})
    ->Args({40, 200, 2880, 15})
    ->Args({40, 150, 2000, 20})
    ->Args({40, 150, 2000, 30})
    ->Unit(benchmark::kMillisecond)
    ->Iterations(1);
