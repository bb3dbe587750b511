// Times the Sun's place, a day's events and a day of grey line.
#include <benchmark/benchmark.h>

#include "skerry/geodesy/path.hpp"
#include "skerry/sun/events.hpp"
#include "skerry/sun/greyline.hpp"
#include "skerry/sun/position.hpp"

namespace sun = skerry::sun;
using namespace std::chrono;

static const skerry::UtcTime start{sys_days{year{2027} / February / 14}};

static void one_position(benchmark::State& state) {
  skerry::UtcTime t = start;
  for (auto _ : state) benchmark::DoNotOptimize(sun::position(t += seconds{61}));
}
BENCHMARK(one_position);

static void one_zenith_of_a_grid(benchmark::State& state) {
  const sun::Position p = sun::position(start);
  double lon = 0;
  for (auto _ : state) {
    lon = lon > 179 ? -179 : lon + 1;
    benchmark::DoNotOptimize(sun::zenith_deg({-19.7, lon}, p));
  }
}
BENCHMARK(one_zenith_of_a_grid);

static void one_day(benchmark::State& state) {
  for (auto _ : state) benchmark::DoNotOptimize(sun::day({59.53, -1.63}, year{2027} / February / 14));
}
BENCHMARK(one_day);

static void grey_line_of_a_day(benchmark::State& state) {
  const auto path = skerry::geodesy::make_path({-19.7, 63.4}, {50, 10}, skerry::geodesy::Way::short_way);
  for (auto _ : state) benchmark::DoNotOptimize(sun::grey_windows(path, start, start + hours{24}));
}
BENCHMARK(grey_line_of_a_day);
