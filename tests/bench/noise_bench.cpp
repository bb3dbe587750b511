// Times the noise at one end, hour and band: asked for every cell of a trip.
#include <benchmark/benchmark.h>

#include "skerry/noise/noise.hpp"

namespace noise = skerry::noise;

static void one_noise(benchmark::State& state) {
  noise::Conditions at;
  at.environment = noise::Environment::quiet;
  at.fof2_mhz = 6;
  double f = 1.8;
  for (auto _ : state) {
    f = f > 28 ? 1.8 : f + 1.7;
    at.lat_deg = f;
    at.solar_hour = f * 0.8;
    at.zenith_deg = f * 6;
    benchmark::DoNotOptimize(noise::noise(at, f));
  }
}
BENCHMARK(one_noise);

static void combine_three(benchmark::State& state) {
  const noise::Level parts[] = {{43.6, 9.2, 4.6}, {32.4, 2, 2}, {40.0, 9.0, 7.0}};
  for (auto _ : state) benchmark::DoNotOptimize(noise::combine(parts, 3));
}
BENCHMARK(combine_three);
