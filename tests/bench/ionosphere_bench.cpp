#include <benchmark/benchmark.h>

#include <vector>

#include "skerry/core/parallel.hpp"
#include "skerry/ionosphere/field.hpp"
#include "skerry/ionosphere/sky.hpp"
#include "skerry/ionosphere/sporadic_e.hpp"

namespace {

using namespace skerry;
using namespace std::chrono_literals;

// A grid of n places, spread evenly in latitude and longitude.
std::vector<GeoPoint> grid(std::size_t n) {
  std::vector<GeoPoint> out;
  for (std::size_t i = 0; i < n; ++i) {
    const double share = (static_cast<double>(i) + 0.5) / static_cast<double>(n);
    out.push_back(
        GeoPoint::at_deg(90.0 - 180.0 * share,
                         360.0 * (share * 137.5 - static_cast<double>(static_cast<int>(share * 137.5)))));
  }
  return out;
}

// Arguments: places, threads (0: all of the machine).
void sky_of_a_day(benchmark::State& state) {
  const auto places = grid(static_cast<std::size_t>(state.range(0)));
  set_thread_count(static_cast<unsigned>(state.range(1)));
  const ionosphere::Climate climate{2027y / std::chrono::February / 15, ionosphere::R12(60),
                                    ionosphere::MapSet::ccir, 2020};
  for (auto _ : state) benchmark::DoNotOptimize(ionosphere::sky(places, climate));
  set_thread_count(0);
}
BENCHMARK(sky_of_a_day)
    ->Args({1, 1})
    ->Args({100, 1})
    ->Args({16200, 1})
    ->Args({16200, 0})
    ->Args({160000, 0})
    ->Unit(benchmark::kMicrosecond)
    ->UseRealTime();

void sporadic_e_of_a_day(benchmark::State& state) {
  const auto places = grid(static_cast<std::size_t>(state.range(0)));
  set_thread_count(static_cast<unsigned>(state.range(1)));
  const ionosphere::Climate climate{2027y / std::chrono::July / 15, ionosphere::R12(60),
                                    ionosphere::MapSet::ccir, 2020};
  for (auto _ : state) benchmark::DoNotOptimize(ionosphere::sporadic_e(places, climate));
  set_thread_count(0);
}
BENCHMARK(sporadic_e_of_a_day)->Args({1, 1})->Args({16200, 1})->Unit(benchmark::kMicrosecond)->UseRealTime();

void field_at_one_place(benchmark::State& state) {
  double lon = 0;
  for (auto _ : state) benchmark::DoNotOptimize(ionosphere::field(GeoPoint{20, lon += 1e-3}, 300, 2020));
}
BENCHMARK(field_at_one_place);

}  // namespace
