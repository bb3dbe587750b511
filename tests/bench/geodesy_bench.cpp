#include <benchmark/benchmark.h>

#include <array>
#include <cmath>
#include <cstddef>

#include "skerry/geodesy/land.hpp"
#include "skerry/geodesy/path.hpp"
#include "skerry/geodesy/region.hpp"

using skerry::GeoPoint;
using namespace skerry::geodesy;

static std::array<GeoPoint, 4096> scattered() {
  std::array<GeoPoint, 4096> out{};
  for (std::size_t i = 0; i < out.size(); ++i) {
    const auto n = static_cast<double>(i);
    const double height = 1 - (2 * n + 1) / static_cast<double>(out.size());
    out[i] = GeoPoint::at_deg(std::asin(height) * 57.29577951308232, 222.49223594996216 * n);
  }
  return out;
}

static void make_path_scattered(benchmark::State& state) {
  const auto places = scattered();
  std::size_t i = 0;
  for (auto _ : state) {
    benchmark::DoNotOptimize(make_path({-19.7, 63.43}, places[i++ & 4095U], Way::short_way));
  }
}
BENCHMARK(make_path_scattered);

static void point_at_along(benchmark::State& state) {
  const Path path = make_path({-19.7, 63.43}, {51.5, -0.1}, Way::long_way);
  double share = 0;
  for (auto _ : state) {
    benchmark::DoNotOptimize(point_at(path, share));
    share += 0.001;
    if (share > 1) share = 0;
  }
}
BENCHMARK(point_at_along);

static void is_land_scattered(benchmark::State& state) {
  const auto places = scattered();
  std::size_t i = 0;
  benchmark::DoNotOptimize(is_land(places[0]));
  for (auto _ : state) benchmark::DoNotOptimize(is_land(places[i++ & 4095U]));
}
BENCHMARK(is_land_scattered);

static void sample_people_preset(benchmark::State& state, const char* id) {
  const Region region = *preset_region(id, {});
  for (auto _ : state) benchmark::DoNotOptimize(sample_people(region, static_cast<int>(state.range(0))));
}
BENCHMARK_CAPTURE(sample_people_preset, western_europe, "western-europe")->Arg(20)->Arg(200);
BENCHMARK_CAPTURE(sample_people_preset, china, "china")->Arg(20)->Arg(200);

static void itu_region_scattered(benchmark::State& state) {
  const auto places = scattered();
  std::size_t i = 0;
  for (auto _ : state) benchmark::DoNotOptimize(itu_region(places[i++ & 4095U]));
}
BENCHMARK(itu_region_scattered);
