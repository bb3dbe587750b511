// What a circuit costs, from its preparation to days in ten, and how fast a world of them is made.
// The bound: see the arithmetic printed as counters ("per_chb_ns" is the time of one circuit, hour and band).
#include <benchmark/benchmark.h>

#include <array>
#include <vector>

#include "skerry/circuit/circuit.hpp"
#include "skerry/circuit/contact.hpp"
#include "skerry/circuit/coverage.hpp"
#include "skerry/circuit/sporadic_e.hpp"
#include "skerry/core/parallel.hpp"

namespace {

using namespace skerry;

const GeoPoint island = GeoPoint::at_deg(-19.70, 63.43);
const GeoPoint near_place = GeoPoint::at_deg(-4.6, 55.5);  // 1890 km
const GeoPoint far_place = GeoPoint::at_deg(51.5, -0.1);   // 9900 km

ionosphere::Climate climate() {
  ionosphere::Climate c;
  c.day = middle_of(std::chrono::year{2027} / 2);
  c.r12 = ionosphere::R12(90);
  return c;
}

std::vector<geodesy::Path> fan(std::size_t count, geodesy::Way way) {
  std::vector<geodesy::Path> out;
  for (std::size_t i = 0; i < count; ++i) {
    const double share = (static_cast<double>(i) + 0.5) / static_cast<double>(count);
    out.push_back(
        geodesy::make_path(island, GeoPoint::at_deg(80 - 160 * share, 137.5 * static_cast<double>(i)), way));
  }
  return out;
}

void prepare_one(benchmark::State& state, GeoPoint to, geodesy::Way way) {
  const auto path = geodesy::make_path(island, to, way);
  for (auto _ : state) benchmark::DoNotOptimize(circuit::Circuits(std::span(&path, 1), climate()));
}
BENCHMARK_CAPTURE(prepare_one, hops_1890_km, near_place, geodesy::Way::short_way)
    ->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(prepare_one, long_path_9900_km, far_place, geodesy::Way::short_way)
    ->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(prepare_one, long_way_30000_km, far_place, geodesy::Way::long_way)
    ->Unit(benchmark::kMicrosecond);

// Paths prepared together, one thread: time per path.
void prepare_fan(benchmark::State& state) {
  set_thread_count(1);
  const auto paths = fan(static_cast<std::size_t>(state.range(0)), geodesy::Way::short_way);
  for (auto _ : state) benchmark::DoNotOptimize(circuit::Circuits(paths, climate()));
  state.SetItemsProcessed(state.iterations() * state.range(0));
  set_thread_count(0);
}
BENCHMARK(prepare_fan)->Arg(1)->Arg(8)->Arg(64)->Arg(128)->Arg(512)->Unit(benchmark::kMicrosecond);

void modes_and_losses(benchmark::State& state, GeoPoint to, double mhz) {
  const auto path = geodesy::make_path(island, to, geodesy::Way::short_way);
  const circuit::Circuits circuits(std::span(&path, 1), climate());
  int hour = 0;
  for (auto _ : state) {
    benchmark::DoNotOptimize(circuits.passage(0, hour, mhz));
    hour = (hour + 1) % 24;
  }
}
BENCHMARK_CAPTURE(modes_and_losses, hops_7_mhz, near_place, 7.1);
BENCHMARK_CAPTURE(modes_and_losses, hops_14_mhz, near_place, 14.1);
BENCHMARK_CAPTURE(modes_and_losses, long_path_14_mhz, far_place, 14.1);

// A day of three bands, as a line of batch asks for it, from the path to the contacts; per question.
void day_of_three_bands(benchmark::State& state) {
  const auto path = geodesy::make_path(island, near_place, geodesy::Way::short_way);
  const std::array mhz{7.1, 14.1, 21.1};
  const circuit::Station a;
  const noise::Mode mode;
  std::vector<circuit::Contact> contacts(mhz.size());
  for (auto _ : state) {
    const circuit::Circuits circuits(std::span(&path, 1), climate());
    circuit::Link link(circuits, 0, mhz, a, a, mode);
    for (int hour = 0; hour < 24; ++hour) {
      link.contacts(
          hour, [&](std::size_t i) -> circuit::Contact& { return contacts[i]; },
          [](std::size_t) { return nullptr; });
      benchmark::DoNotOptimize(contacts.data());
    }
  }
}
BENCHMARK(day_of_three_bands)->Unit(benchmark::kMicrosecond);

void noise_strength_and_link(benchmark::State& state) {
  const auto path = geodesy::make_path(island, near_place, geodesy::Way::short_way);
  const circuit::Circuits circuits(std::span(&path, 1), climate());
  const circuit::Station a;
  const noise::Mode mode;
  std::vector<circuit::Passage> passages;
  for (int h = 0; h < 24; ++h) passages.push_back(circuits.passage(0, h, 14.1));
  int hour = 0;
  for (auto _ : state) {
    const auto& passage = passages[static_cast<std::size_t>(hour)];
    const auto level = circuit::level(passage, path, a, a);
    const auto noise = circuit::noise_at(circuits.to_sky(0, hour), path.to, 2, a, 14.1);
    benchmark::DoNotOptimize(circuit::direction(passage, level.received(10), noise, mode, 15));
    hour = (hour + 1) % 24;
  }
}
BENCHMARK(noise_strength_and_link);

// The whole way, on all cores, preparation included: grid step in tenths of a degree, hours, bands, best of
// both ways.
void world(benchmark::State& state) {
  circuit::CoverageQuestion q;
  q.from.at = island;
  q.to.power_w = 100;
  q.climate = climate();
  q.grid.step_deg = static_cast<double>(state.range(0)) / 10;
  for (int h = 0; h < state.range(1); ++h) q.hours.push_back(h);
  constexpr double mhz[]{14.06, 7.03, 21.06, 3.56, 28.06, 10.116, 18.086, 24.906, 5.36, 1.836};
  for (int f = 0; f < state.range(2); ++f) q.frequencies.push_back({"", mhz[f]});
  q.way = state.range(3) != 0 ? circuit::WayChoice::best : circuit::WayChoice::short_way;
  double sum = 0;
  for (auto _ : state) {
    const bool whole = circuit::coverage(q, [&](const circuit::CoveragePart& part) {
      sum += static_cast<double>(part.values.back().days_in_ten);
      return true;
    });
    benchmark::DoNotOptimize(whole);
  }
  benchmark::DoNotOptimize(sum);
  const double circuits = static_cast<double>(q.grid.cells() * q.hours.size() * q.frequencies.size()) *
                          (state.range(3) != 0 ? 2 : 1);
  const double all = circuits * static_cast<double>(state.iterations());
  state.counters["cells"] = static_cast<double>(q.grid.cells());
  state.counters["chb_per_s"] = benchmark::Counter(all, benchmark::Counter::kIsRate);
  state.counters["per_chb"] =
      benchmark::Counter(all, benchmark::Counter::kIsRate | benchmark::Counter::kInvert);
  state.counters["threads"] = thread_count();
}
void sporadic_e_odds(benchmark::State& state) {
  circuit::EsRay ray = circuit::es_ray(1600, 1).value();
  ray.foes[0] = {3.4, 4.3, 7.5};
  for (auto _ : state) {
    const circuit::EsOdds odds(ray, 21);
    double sum = 0;
    for (double spare_db = 0; spare_db < 65; spare_db += 5) sum += odds(spare_db);
    benchmark::DoNotOptimize(sum);
  }
}
BENCHMARK(sporadic_e_odds);

#define WORLD                                          \
  BENCHMARK(world)                                     \
      ->ArgNames({"tenths", "hours", "bands", "best"}) \
      ->Unit(benchmark::kMillisecond)                  \
      ->MeasureProcessCPUTime()                        \
      ->UseRealTime()
WORLD->Args({20, 24, 1, 0})->Args({20, 24, 10, 0})->Args({20, 24, 1, 1});
// Cost against cells, hours and bands: each doubled in turn.
WORLD->Args({60, 24, 1, 0})
    ->Args({40, 24, 1, 0})
    ->Args({30, 24, 1, 0})
    ->Args({15, 24, 1, 0})
    ->Args({10, 24, 1, 0});
WORLD->Args({20, 6, 1, 0})->Args({20, 12, 1, 0});
WORLD->Args({20, 24, 2, 0})->Args({20, 24, 4, 0})->Args({20, 24, 8, 0});

}  // namespace
