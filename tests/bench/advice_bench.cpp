// How long the exact choice takes, and how that grows with things and setups; how long scoring takes.
#include <benchmark/benchmark.h>

#include <random>

#include "../advice/random_problems.hpp"
#include "skerry/advice/choose.hpp"
#include "skerry/advice/spots.hpp"

using namespace skerry::advice;

namespace {

/// Inventories of rigs, antennas, masts, cables and tuners; cells of 12 regions, 24 hours and 10 bands; five
/// seeds each.
void inventory(benchmark::State& state) {
  const int items = static_cast<int>(state.range(0)), setups = static_cast<int>(state.range(1));
  std::vector<Problem> problems;
  for (std::uint64_t seed = 1; seed <= 5; ++seed) {
    Dice dice(seed);
    problems.push_back(inventory_problem(dice, items, setups, 12, static_cast<double>(state.range(2)) / 100));
  }
  double nodes = 0, proved = 0;
  for (auto _ : state) {
    nodes = proved = 0;
    for (const auto& p : problems) {
      const Choice c = choose(p);
      nodes += static_cast<double>(c.nodes);
      proved += c.proved ? 1 : 0;
    }
  }
  state.counters["nodes"] = nodes / 5;
  state.counters["proved_of_5"] = proved;
}

/// Setups of 2 to 5 things picked blindly, each serving a blind tenth of the cells: no structure to lean on.
void blind(benchmark::State& state) {
  const int items = static_cast<int>(state.range(0)), setups = static_cast<int>(state.range(1));
  const int cells = static_cast<int>(state.range(2));
  Dice dice(1);
  const Problem p =
      random_problem(dice, items, setups, cells, static_cast<double>(state.range(3)) / 100, 0.1);
  Stop stop;
  stop.max_nodes = 200000;
  Choice c;
  for (auto _ : state) c = choose(p, stop);
  state.counters["nodes"] = static_cast<double>(c.nodes);
  state.counters["proved"] = c.proved ? 1 : 0;
  state.counters["gap_percent"] = 100 * (c.bound - c.reach);
}

void trade_off(benchmark::State& state) {
  Dice dice(1);
  const Problem p =
      inventory_problem(dice, static_cast<int>(state.range(0)), static_cast<int>(state.range(1)), 12, 0.3);
  std::size_t kits = 0;
  for (auto _ : state) kits = frontier(p).kits.size();
  state.counters["kits"] = static_cast<double>(kits);
}

/// A hundred stations that report each other through a month of 20 m and 15 m, in a table of so many records.
std::string many_spots(int count) {
  std::mt19937 random(1);
  std::uniform_real_distribution<double> uniform;
  std::vector<std::string> squares;
  for (int i = 0; i < 100; ++i) {
    const auto at = skerry::GeoPoint::at_deg(120 * uniform(random) - 50, 360 * uniform(random) - 180);
    squares.push_back(skerry::geodesy::to_locator(at));
  }
  std::string text = "time_utc,mhz,tx,rx,power_w,snr_db\n";
  for (int i = 0; i < count; ++i) {
    const auto tx = static_cast<std::size_t>(100 * uniform(random)),
               rx = static_cast<std::size_t>(99 * uniform(random));
    const auto second = static_cast<long long>(1759276800 + 30 * 86400 * uniform(random));
    text += std::to_string(second) + (uniform(random) < 0.5 ? ",14.0971," : ",21.0961,") + squares[tx] + "," +
            squares[(tx + 1 + rx) % 100] + ",1," +
            std::to_string(static_cast<int>(-25 + 20 * uniform(random))) + "\n";
  }
  return text;
}

void scoring(benchmark::State& state) {
  const auto text = many_spots(static_cast<int>(state.range(0)));
  skerry::advice::SpotQuestion question;
  question.mode = *skerry::noise::find_mode("wspr", {});
  double cases = 0;
  for (auto _ : state) {
    const auto spots = skerry::advice::read_spots(text, "bench");
    const auto scores = skerry::advice::score_spots(*spots, question);
    cases = scores.all.heard + scores.all.silent;
    benchmark::DoNotOptimize(cases);
  }
  state.counters["cases"] = cases;
}

}  // namespace

// things, setups, limit in percent of all mass
// Read, computed and scored, from the text on.
BENCHMARK(scoring)->Arg(10000)->Arg(100000)->Unit(benchmark::kMillisecond)->Iterations(1);
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
// The growth curve in things and setups, at the limit where the choice is hardest.
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
// things, setups, cells, limit in percent
BENCHMARK(blind)
    ->Args({20, 60, 1000, 35})
    ->Args({25, 100, 1500, 20})
    ->Args({40, 150, 2000, 10})
    ->Args({40, 150, 2000, 15})
    ->Args({40, 200, 2880, 15})
    ->Args({40, 150, 2000, 30})
    ->Unit(benchmark::kMillisecond)
    ->Iterations(1);
BENCHMARK(trade_off)->Args({20, 60})->Args({40, 200})->Unit(benchmark::kMillisecond);
