#include <benchmark/benchmark.h>

#include <cmath>

#include "skerry/core/parallel.hpp"
#include "skerry/terrain/around.hpp"

using skerry::GeoPoint;
using namespace skerry::terrain;

// 100 km by 100 km at 1 arc-second, rough all over: nothing can be passed over because it is sea.
static const Terrain& ground(GeoPoint at) {
  static const Terrain made = [at] {
    const auto box = box_about(at, 50);
    Tile t;
    t.lat_step_deg = t.lon_step_deg = 1.0 / 3600;
    t.north_deg = box.north_deg;
    t.west_deg = box.west_deg;
    t.rows = static_cast<int>((box.north_deg - box.south_deg) * 3600) + 1;
    t.columns = static_cast<int>((box.east_deg - box.west_deg) * 3600) + 1;
    for (int r = 0; r < t.rows; ++r) {
      for (int c = 0; c < t.columns; ++c) {
        const double y = r * 0.031, x = c * 0.029;
        double h = 400;
        for (int k = 1; k <= 6; ++k)
          h += 180 / k * std::sin(0.02 * k * k * x + k) * std::cos(0.017 * k * k * y - k);
        t.height_m.push_back(static_cast<float>(h));
      }
    }
    return Terrain::make({t}, box).value();
  }();
  return made;
}

static void all_round_50_km(benchmark::State& state) {
  const auto at = GeoPoint::at_deg(-19.7, 63.43);
  const auto& surface = ground(at);
  skerry::set_thread_count(static_cast<unsigned>(state.range(0)));
  for (auto _ : state) benchmark::DoNotOptimize(around(surface, at));
  skerry::set_thread_count(0);
}
BENCHMARK(all_round_50_km)->Arg(1)->Arg(2)->Unit(benchmark::kMillisecond)->UseRealTime();
