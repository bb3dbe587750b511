// How long scoring takes.
#include <benchmark/benchmark.h>

#include <random>

#include "skerry/after/spots.hpp"

namespace {

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
  skerry::after::SpotQuestion question;
  question.mode = *skerry::noise::find_mode("wspr", {});
  double cases = 0;
  for (auto _ : state) {
    const auto spots = skerry::after::read_spots(text, "bench");
    const auto scores = skerry::after::score_spots(*spots, question);
    cases = scores.all.heard + scores.all.silent;
    benchmark::DoNotOptimize(cases);
  }
  state.counters["cases"] = cases;
}

}  // namespace

// Read, computed and scored, from the text on.
BENCHMARK(scoring)->Arg(10000)->Arg(100000)->Unit(benchmark::kMillisecond)->Iterations(1);
