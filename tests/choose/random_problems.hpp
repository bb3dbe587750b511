// Random packing problems, for tests and benchmarks; fixed seeds, the same on every machine.
#pragma once

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <string>
#include <vector>

#include "skerry/choose/choose.hpp"

namespace skerry::choose {

/// Source: Steele, Lea and Flood 2014 (splitmix64). The standard library's distributions differ between
/// makers.
class Dice {
 public:
  explicit Dice(std::uint64_t seed) : state_(seed) {}
  std::uint64_t next() {
    std::uint64_t z = (state_ += 0x9e3779b97f4a7c15ULL);
    z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9ULL;
    z = (z ^ (z >> 27)) * 0x94d049bb133111ebULL;
    return z ^ (z >> 31);
  }
  double unit() { return static_cast<double>(next() >> 11) * 0x1.0p-53; }
  int below(int n) { return static_cast<int>(next() % static_cast<std::uint64_t>(n)); }

 private:
  std::uint64_t state_;
};

/// Bundles of 2 to 5 random things, each serving a random share of the cells.
inline Problem random_problem(Dice& dice, int items, int bundles, int cells, double limit_share,
                              double density) {
  Problem p;
  double total = 0;
  for (int i = 0; i < items; ++i) {
    p.items.push_back({"item " + std::to_string(i), 50.0 + dice.below(1450), false, false});
    total += p.items.back().mass_g;
  }
  for (int c = 0; c < cells; ++c) p.weights.push_back(0.1 + dice.unit());
  for (int s = 0; s < bundles; ++s) {
    Bundle bundle;
    bundle.cells = CellSet(static_cast<std::size_t>(cells));
    const int needs = std::min(items, 2 + dice.below(4));
    while (static_cast<int>(bundle.items.size()) < needs) {
      const int i = dice.below(items);
      if (std::find(bundle.items.begin(), bundle.items.end(), i) == bundle.items.end())
        bundle.items.push_back(i);
    }
    const double share = density * (0.3 + 1.4 * dice.unit());
    for (int c = 0; c < cells; ++c) {
      if (dice.unit() < share) bundle.cells.add(static_cast<std::size_t>(c));
    }
    p.bundles.push_back(std::move(bundle));
  }
  p.limit_g = limit_share * total;
  return p;
}

/// Like a traveller's inventory: a rig, an antenna, a support, perhaps a cable and a tuner; cells are
/// (region, hour, band), an antenna has a few bands, openings are runs of hours, height and power widen them.
inline Problem inventory_problem(Dice& dice, int items, int bundles, int regions, double limit_share) {
  constexpr int hours = 24, bands = 10;
  Problem p;
  const int rigs = std::max(1, items / 12), supports = std::max(2, items / 5),
            tuners = std::max(1, items / 15);
  const int cables = std::max(1, items / 6);
  const int antennas = items - rigs - supports - tuners - cables;
  double total = 0;
  const auto thing = [&](const char* kind, int n, double low_g, double high_g) {
    p.items.push_back({std::string(kind) + " " + std::to_string(n),
                       low_g + std::floor(dice.unit() * (high_g - low_g)), false, false});
    total += p.items.back().mass_g;
    return static_cast<int>(p.items.size()) - 1;
  };
  std::vector<int> rig, support, tuner, cable, antenna;
  std::vector<double> power, height;
  // More power and more height weigh more, with luck on top: nothing is simply best.
  for (int i = 0; i < rigs; ++i) {
    power.push_back(dice.unit());
    rig.push_back(thing("rig", i, 200 + 1200 * power.back(), 500 + 1500 * power.back()));
  }
  for (int i = 0; i < supports; ++i) {
    height.push_back(dice.unit());
    support.push_back(thing("mast", i, 200 + 2000 * height.back(), 500 + 3000 * height.back()));
  }
  for (int i = 0; i < tuners; ++i) tuner.push_back(thing("tuner", i, 150, 350));
  for (int i = 0; i < cables; ++i) cable.push_back(thing("cable", i, 100, 500));
  std::vector<std::vector<int>> antenna_bands;
  for (int i = 0; i < antennas; ++i) {
    antenna.push_back(thing("antenna", i, 60, 900));
    std::vector<int> on;
    for (int b = 0; b < bands; ++b) {
      if (dice.unit() < 0.35) on.push_back(b);
    }
    if (on.empty()) on.push_back(dice.below(bands));
    antenna_bands.push_back(on);
  }
  const int cells = regions * hours * bands;
  std::vector<double> ease(static_cast<std::size_t>(cells));
  for (int r = 0; r < regions; ++r) {
    const double weight = 0.5 + dice.unit();
    for (int b = 0; b < bands; ++b) {
      const double middle = 24 * dice.unit(), width = 2 + 6 * dice.unit(), hard = dice.unit();
      for (int h = 0; h < hours; ++h) {
        double away = std::abs(h - middle);
        away = std::min(away, 24 - away);
        ease[static_cast<std::size_t>((r * bands + b) * hours + h)] =
            1.2 - away / width - 0.6 * hard + 0.2 * dice.unit();
        p.weights.push_back(weight);
      }
    }
  }
  for (int s = 0; s < bundles; ++s) {
    Bundle bundle;
    bundle.cells = CellSet(static_cast<std::size_t>(cells));
    const int r = dice.below(rigs), a = dice.below(antennas), m = dice.below(supports);
    bundle.items = {rig[static_cast<std::size_t>(r)], antenna[static_cast<std::size_t>(a)],
                    support[static_cast<std::size_t>(m)]};
    if (dice.unit() < 0.6) bundle.items.push_back(cable[static_cast<std::size_t>(dice.below(cables))]);
    if (dice.unit() < 0.3) bundle.items.push_back(tuner[static_cast<std::size_t>(dice.below(tuners))]);
    const double strength = 0.4 * power[static_cast<std::size_t>(r)] +
                            0.4 * height[static_cast<std::size_t>(m)] + 0.3 * dice.unit();
    for (const int b : antenna_bands[static_cast<std::size_t>(a)]) {
      for (int region = 0; region < regions; ++region) {
        for (int h = 0; h < hours; ++h) {
          const int c = (region * bands + b) * hours + h;
          if (ease[static_cast<std::size_t>(c)] + strength > 1.1)
            bundle.cells.add(static_cast<std::size_t>(c));
        }
      }
    }
    p.bundles.push_back(std::move(bundle));
  }
  p.limit_g = limit_share * total;
  return p;
}

}  // namespace skerry::choose
