// How long a pattern takes, and a traveller's whole set of them.
#include <benchmark/benchmark.h>

#include "skerry/antenna/kinds.hpp"
#include "skerry/antenna/pattern.hpp"

using namespace skerry;
using namespace skerry::antenna;

namespace {

std::vector<Design> inventory() {
  std::vector<Design> out(5);
  for (std::size_t i = 0; i < out.size(); ++i) out[i].kind = static_cast<Kind>(i);
  out[1].wire_m = 2.5;
  out[1].wire_radius_mm = 2;
  out[3].wire_m = 20.4;
  out[4].wire_m = 12.5;
  return out;
}

void one_pattern(benchmark::State& state) {
  const Ground ground = *find_ground("average", {});
  const Design design = inventory()[static_cast<std::size_t>(state.range(0))];
  Support support;
  support.usable_height_m = 9;
  const Raising up = raise(design, support, 21.2);
  for (auto _ : state) {
    benchmark::DoNotOptimize(
        compute_pattern(up.ways.front().antenna, ground, 21.2, chain_for(design, 21.2, {})));
  }
}
BENCHMARK(one_pattern)->DenseRange(0, 4)->Unit(benchmark::kMillisecond);

void whole_kit(benchmark::State& state) {
  const Ground ground = *find_ground("rock", {});
  int patterns = 0;
  for (auto _ : state) {
    patterns = 0;
    for (const double height : {5.5, 9.0}) {
      Support support;
      support.usable_height_m = height;
      for (const Design& design : inventory()) {
        for (const double mhz : {3.6, 5.36, 7.1, 10.12, 14.1, 18.1, 21.2, 24.9, 28.5}) {
          for (const Raised& way : raise(design, support, mhz).ways) {
            benchmark::DoNotOptimize(compute_pattern(way.antenna, ground, mhz, chain_for(design, mhz, {})));
            ++patterns;
          }
        }
      }
    }
  }
  state.counters["patterns"] = patterns;
}
BENCHMARK(whole_kit)->Unit(benchmark::kMillisecond);

/// The balance of a dipole beside a conductive mast, whose foot comes near the ground: 89 s on 1.85 MHz when every
/// ring of waves was asked of every piece, however high it hangs.
void balance_beside_a_mast(benchmark::State& state) {
  const Ground ground = *find_ground("average", {});
  const double mhz = static_cast<double>(state.range(0)) / 100;
  Design design;
  design.kind = Kind::dipole;
  Support support;
  support.usable_height_m = 5.1;
  support.conductive = true;
  const auto radiated = radiate(raise(design, support, mhz).ways.front().antenna, ground, mhz);
  for (auto _ : state) benchmark::DoNotOptimize(energy_balance(*radiated));
}
BENCHMARK(balance_beside_a_mast)->Arg(1410)->Arg(355)->Arg(185)->Unit(benchmark::kMillisecond);

}  // namespace
