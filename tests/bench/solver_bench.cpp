// How long the solved antennas of a kit take: ten antennas on nine bands, with and without the ground's
// tables, and what part of it is the factorisation.
#include <benchmark/benchmark.h>

#include <chrono>

#include "../../src/antenna/mom_sommerfeld.hpp"
#include "../../src/antenna/mom_system.hpp"
#include "skerry/antenna/solver.hpp"
#include "skerry/core/parallel.hpp"

using namespace skerry;
using namespace skerry::antenna;

namespace {

constexpr double bands_mhz[] = {3.6, 5.36, 7.1, 10.12, 14.1, 18.1, 21.2, 24.9, 28.5};

Wire wire(Vec3 from, Vec3 to) {
  Wire w;
  w.from_m = from;
  w.to_m = to;
  w.insulated = true;
  return w;
}

WireAntenna named(std::vector<Wire> wires, Feed feed) {
  WireAntenna a;
  a.wires = std::move(wires);
  a.feed = feed;
  return a;
}

/// What a traveller might put up on a 6 m and a 10 m pole.
std::vector<WireAntenna> kit(double mhz) {
  const double quarter = 71.3 / mhz;
  std::vector<WireAntenna> out;
  const auto radials = [&](int count, double base) {
    std::vector<Wire> w{wire({0, 0, base}, {0, 0, base + quarter})};
    for (int i = 0; i < count; ++i) {
      const double a = 2 * 3.14159265358979 * i / count;
      w.push_back(wire({0, 0, base}, {quarter * std::cos(a), quarter * std::sin(a), base}));
    }
    return w;
  };
  out.push_back(named(radials(2, 0.5), {1, 0}));
  out.push_back(named(radials(8, 0.2), {1, 0}));
  out.push_back(named({wire({-quarter, 0, 6}, {quarter, 0, 6})}, {1, 0.5}));
  out.push_back(named({wire({0, 0, 6}, {-0.87 * quarter, 0, 6 - std::min(5.0, 0.5 * quarter)}),
                       wire({0, 0, 6}, {0.87 * quarter, 0, 6 - std::min(5.0, 0.5 * quarter)})},
                      {1, 0}));
  const auto end_fed = [&](double length, double top) {
    const double run = std::sqrt(std::max(length * length - (top - 1) * (top - 1), 1.0));
    return named({wire({0, 0, top}, {run, 0, 1}), wire({0, 0, top}, {0, 0, top - 2})}, {1, 0});
  };
  out.push_back(end_fed(20.4, 6));
  out.push_back(end_fed(20.4, 10));
  out.push_back(end_fed(41, 10));
  out.push_back(end_fed(12.5, 6));
  out.push_back(named({wire({0, 0, 1}, {0, 0, 3.5}), wire({0, 0, 1}, {3, 0, 0.3})}, {1, 0}));
  out.push_back(named({wire({-quarter, 0, 9}, {quarter, 0, 9}),
                       wire({-1.05 * quarter, 0.6 * quarter, 9}, {1.05 * quarter, 0.6 * quarter, 9})},
                      {1, 0.5}));
  return out;
}

struct Task {
  WireAntenna antenna;
  double mhz;
};
std::vector<Task> tasks() {
  std::vector<Task> out;
  for (const double mhz : bands_mhz) {
    for (WireAntenna& a : kit(mhz)) out.push_back({std::move(a), mhz});
  }
  return out;
}

void ground_table_build(benchmark::State& state) {
  const Ground ground = *find_ground(state.range(0) == 0   ? "rock"
                                     : state.range(0) == 1 ? "average"
                                                           : "sea",
                                     {});
  for (auto _ : state) {
    benchmark::DoNotOptimize(
        mom::SommerfeldTable(complex_permittivity(ground, 14.1), 0.006, {3 * 3.14159, 0.006, 2.5 * 3.14159})
            .size());
  }
}
BENCHMARK(ground_table_build)
    ->DenseRange(0, 2)
    ->Unit(benchmark::kMillisecond)
    ->MeasureProcessCPUTime()
    ->UseRealTime();

/// Ground whose tables nobody has asked for yet: its conductivity differs in the ninth digit.
void whole_kit(benchmark::State& state) {
  const std::vector<Task> all = tasks();
  Ground ground = *find_ground(state.range(0) == 0 ? "rock" : state.range(0) == 1 ? "average" : "sea", {});
  const bool fresh = state.range(1) != 0;
  double radiated = 0;
  for (auto _ : state) {
    if (fresh) ground.sigma_s_per_m *= 1 + 1e-9;
    std::vector<double> out(all.size());
    parallel_for(all.size(), 1, [&](std::size_t begin, std::size_t end) {
      for (std::size_t i = begin; i < end; ++i) {
        const auto s = solve(all[i].antenna, ground, all[i].mhz);
        if (s) out[i] = far_field(*s, ground).radiated_w;
      }
    });
    for (const double r : out) radiated += r;
  }
  benchmark::DoNotOptimize(radiated);
  state.counters["antennas"] = static_cast<double>(all.size());
}
BENCHMARK(whole_kit)
    ->ArgsProduct({{0, 1, 2}, {0, 1}})
    ->Unit(benchmark::kMillisecond)
    ->MeasureProcessCPUTime()
    ->UseRealTime();

/// One thread, tables there: the parts.
void parts(benchmark::State& state) {
  const std::vector<Task> all = tasks();
  const Ground ground = *find_ground("average", {});
  using Clock = std::chrono::steady_clock;
  Clock::duration fill{};
  Clock::duration factor{};
  Clock::duration field{};
  double sum = 0;
  Eigen::Index unknowns = 0;
  for (auto _ : state) {
    for (const Task& task : all) {
      const auto t0 = Clock::now();
      const auto system = mom::make_system(task.antenna, {task.antenna.feed}, ground, task.mhz, {});
      const auto t1 = Clock::now();
      if (!system) continue;
      const Eigen::VectorXcd drive = system->feeds.col(0).cast<std::complex<double>>();
      sum += std::abs(system->matrix.partialPivLu().solve(drive)(0));
      const auto t2 = Clock::now();
      const auto s = solve(task.antenna, ground, task.mhz);
      const auto t3 = Clock::now();
      if (s) sum += far_field(*s, ground).radiated_w;
      const auto t4 = Clock::now();
      fill += t1 - t0;
      factor += t2 - t1;
      field += t4 - t3;
      unknowns = std::max(unknowns, system->matrix.rows());
    }
  }
  benchmark::DoNotOptimize(sum);
  const auto ms = [&](Clock::duration d) {
    return std::chrono::duration<double, std::milli>(d).count() / static_cast<double>(state.iterations());
  };
  state.counters["fill_ms"] = ms(fill);
  state.counters["lu_ms"] = ms(factor);
  state.counters["field_ms"] = ms(field);
  state.counters["lu_share"] = ms(factor) / (ms(fill) + ms(factor) + ms(field));
  state.counters["most_unknowns"] = static_cast<double>(unknowns);
}
BENCHMARK(parts)->Unit(benchmark::kMillisecond);

}  // namespace
