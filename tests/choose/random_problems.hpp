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

inline int add_item(Problem& p, std::string name, double mass_g) {
  Item item;
  item.name = std::move(name);
  item.mass_g = mass_g;
  p.items.push_back(std::move(item));
  return static_cast<int>(p.items.size()) - 1;
}
/// A way with a row of its own.
inline void add_way(Problem& p, std::vector<int> items, std::vector<float> row, int engine = 0) {
  Way way;
  way.items = std::move(items);
  way.row = static_cast<int>(p.rows.size());
  way.engine = engine;
  p.rows.push_back(std::move(row));
  p.ways.push_back(std::move(way));
}
/// Cells in turn among so many turns of an hour each, one day, one engine without a limit.
inline void plain_hours(Problem& p, int turns) {
  const auto cells = static_cast<int>(p.weights.size());
  for (int c = 0; c < cells; ++c) p.turns.push_back(c * turns / std::max(1, cells));
  Spell day;
  for (int t = 0; t < turns; ++t) day.parts.push_back({t, 1});
  p.spells.push_back(std::move(day));
  p.engines.emplace_back();
}

/// Ways of 2 to 5 random things, each with random gains in a random share of the cells.
inline Problem random_problem(Dice& dice, int items, int ways, int cells, double limit_share,
                              double density) {
  Problem p;
  double total = 0;
  for (int i = 0; i < items; ++i) {
    add_item(p, "item " + std::to_string(i), 50.0 + dice.below(1450));
    total += p.items.back().mass_g;
  }
  for (int c = 0; c < cells; ++c) p.weights.push_back(0.1 + dice.unit());
  plain_hours(p, 12);
  for (int s = 0; s < ways; ++s) {
    std::vector<int> needs;
    const int count = std::min(items, 2 + dice.below(4));
    while (static_cast<int>(needs.size()) < count) {
      const int i = dice.below(items);
      if (std::find(needs.begin(), needs.end(), i) == needs.end()) needs.push_back(i);
    }
    const double share = density * (0.3 + 1.4 * dice.unit());
    std::vector<float> row(static_cast<std::size_t>(cells), 0);
    for (auto& v : row) {
      if (dice.unit() < share) v = static_cast<float>(0.3 + 0.7 * dice.unit());
    }
    add_way(p, std::move(needs), std::move(row));
  }
  p.limit_g = limit_share * total;
  return p;
}

/// What a traveller's inventory has.
struct Stock {
  int rigs = 2, antennas = 8, masts = 4, cables = 2, tuners = 1, packs = 3;
  int regions = 6, days = 3;
  double hours_a_day = 6;  ///< on the air
  int alike = 1;           ///< so many of each antenna and mast that differ by next to nothing
  double own_hours = 0;    ///< of a rig without a pack
};

/// Ways as a planner derives them: every rig with every antenna on every mast that suits it, with a cable that
/// reaches, with and without tuner. Cells are (region, hour); what a way gives there is a smooth chance that rises with
/// power, height and gain on the best of its bands. Packs feed each rig for hours of its own.
inline Problem inventory_problem(Dice& dice, const Stock& stock, double limit_share) {
  constexpr int hours = 24, bands = 8;
  Problem p;
  double total = 0;
  const auto thing = [&](const std::string& name, double low_g, double high_g) {
    const int i = add_item(p, name, low_g + std::floor(dice.unit() * (high_g - low_g)));
    total += p.items.back().mass_g;
    return i;
  };
  struct Part {
    int item = 0;
    double strength = 0;
    std::vector<char> on;
  };
  const auto similar = [&](const char* kind, int count, double base_g, double more_g) {
    std::vector<Part> out;
    double strength = 0;
    std::vector<char> on;
    for (int i = 0; i < count; ++i) {
      // Near equals: the same but for some grams and a shade of strength.
      if (i % stock.alike == 0) {
        strength = dice.unit();
        on.assign(bands, 0);
        for (auto& b : on) b = dice.unit() < 0.4 ? 1 : 0;
        on[static_cast<std::size_t>(dice.below(bands))] = 1;
      }
      const double low = base_g + more_g * strength;
      out.push_back(
          {thing(std::string(kind) + " " + std::to_string(i), low, low * (stock.alike > 1 ? 1.05 : 1.5)),
           strength + 0.02 * dice.unit(), on});
    }
    return out;
  };
  const auto rigs = similar("rig", stock.rigs, 250, 1200);
  const auto antennas = similar("antenna", stock.antennas, 100, 500);
  const auto masts = similar("mast", stock.masts, 200, 2000);
  const auto cables = similar("cable", stock.cables, 100, 300);
  const auto tuners = similar("tuner", stock.tuners, 150, 150);
  const auto packs = similar("pack", stock.packs, 200, 900);

  const int cells = stock.regions * hours;
  std::vector<double> region_weight, ease;
  for (int r = 0; r < stock.regions; ++r) region_weight.push_back(0.5 + dice.unit());
  ease.resize(static_cast<std::size_t>(cells * bands));
  for (int r = 0; r < stock.regions; ++r) {
    for (int b = 0; b < bands; ++b) {
      const double middle = 24 * dice.unit(), width = 3 + 5 * dice.unit(), hard = dice.unit();
      for (int h = 0; h < hours; ++h) {
        double away = std::abs(h - middle);
        away = std::min(away, 24 - away);
        ease[static_cast<std::size_t>((h * stock.regions + r) * bands + b)] =
            2.5 - 4 * away / width - 3 * hard;
      }
    }
  }
  for (int h = 0; h < hours; ++h) {
    for (int r = 0; r < stock.regions; ++r) {
      p.weights.push_back(region_weight[static_cast<std::size_t>(r)]);
      p.turns.push_back(h);
    }
  }
  for (int d = 0; d < stock.days; ++d) {
    Spell spell;
    spell.count = 1 + dice.below(2);
    const int first = dice.below(hours);
    const auto length = static_cast<int>(stock.hours_a_day);
    for (int h = 0; h < length; ++h) spell.parts.push_back({(first + h) % hours, 0.5 + 0.5 * dice.below(2)});
    p.spells.push_back(std::move(spell));
  }
  // The other hours of the day are a short look each.
  Spell rest;
  for (int h = 0; h < hours; ++h) rest.parts.push_back({h, 0.25});
  p.spells.push_back(std::move(rest));
  for (const auto& rig : rigs) {
    Engine engine;
    engine.own_hours = stock.packs > 0 ? stock.own_hours : std::numeric_limits<double>::infinity();
    for (const auto& pack : packs)
      engine.feeds.push_back({pack.item, (1 + 6 * pack.strength) * (1.3 - 0.8 * rig.strength)});
    p.engines.push_back(std::move(engine));
  }

  for (std::size_t r = 0; r < rigs.size(); ++r) {
    for (std::size_t a = 0; a < antennas.size(); ++a) {
      for (std::size_t m = 0; m < masts.size(); ++m) {
        if ((a + m) % 3 == 2) continue;  // does not hang there
        for (std::size_t c = 0; c < cables.size(); ++c) {
          if (cables[c].strength < 0.5 * masts[m].strength && c + 1 < cables.size()) continue;  // too short
          for (std::size_t t = 0; t <= tuners.size(); ++t) {
            const double strength = 2 * rigs[r].strength + 2.5 * masts[m].strength + antennas[a].strength -
                                    0.3 * cables[c].strength - (t > 0 ? 0.3 : 0);
            std::vector<float> row(static_cast<std::size_t>(cells), 0);
            for (int k = 0; k < cells; ++k) {
              double best = -10;
              for (int b = 0; b < bands; ++b) {
                const bool own = antennas[a].on[static_cast<std::size_t>(b)] != 0;
                const bool tuned = t > 0 && tuners[t - 1].on[static_cast<std::size_t>(b)] != 0;
                if (own || tuned)
                  best = std::max(best, ease[static_cast<std::size_t>(k * bands + b)] - (own ? 0 : 1));
              }
              const double z = best + strength - 2.5;
              const double chance = 1 / (1 + std::exp(-2 * z));
              row[static_cast<std::size_t>(k)] = chance < 0.01 ? 0.F : static_cast<float>(chance);
            }
            std::vector<int> items{rigs[r].item, antennas[a].item, masts[m].item, cables[c].item};
            if (t > 0) items.push_back(tuners[t - 1].item);
            add_way(p, std::move(items), std::move(row), static_cast<int>(r));
          }
        }
      }
    }
  }
  p.limit_g = limit_share * total;
  return p;
}

/// Small, with whole weights, quarters as gains, round hours and masses, so that ties happen often; things and packs
/// that stand for one another, weightless things.
inline Problem small_problem(Dice& dice) {
  Problem p;
  const int parts = 3 + dice.below(4), packs = 1 + dice.below(6);
  const int engines = 1 + dice.below(3), turns = 1 + dice.below(6), cells = turns + dice.below(20);
  const auto name = [&] {
    return std::string(1, static_cast<char>('a' + dice.below(26))) + std::to_string(p.items.size());
  };
  for (int i = 0; i < parts; ++i) add_item(p, name(), 100 * (1 + dice.below(6)));
  for (int k = 0; k < packs; ++k) add_item(p, name(), 100 * (1 + dice.below(3)));
  for (int c = 0; c < cells; ++c) {
    p.weights.push_back(dice.below(4));
    p.turns.push_back(c * turns / cells);
  }
  p.weights[0] = 1;
  const int spells = 1 + dice.below(3);
  for (int d = 0; d < spells; ++d) {
    Spell spell;
    spell.count = 1 + dice.below(3);
    for (int t = 0; t < turns; ++t) {
      if (d == 0 || dice.unit() < 0.6) spell.parts.push_back({t, 0.5 * (1 + dice.below(3))});
    }
    p.spells.push_back(std::move(spell));
  }
  for (int e = 0; e < engines; ++e) {
    Engine engine;
    const double choice = dice.unit();
    if (choice < 0.7) engine.own_hours = choice < 0.4 ? 0 : 0.5 * dice.below(4);
    for (int k = 0; k < packs; ++k) {
      if (dice.unit() < 0.7) engine.feeds.push_back({parts + k, 0.5 * (1 + dice.below(4))});
    }
    p.engines.push_back(std::move(engine));
  }
  const int ways = 1 + dice.below(12);
  for (int s = 0; s < ways; ++s) {
    std::vector<int> items;
    for (int i = 0; i < parts; ++i) {
      if (dice.unit() < 0.35) items.push_back(i);
    }
    if (dice.unit() < 0.1) items.push_back(parts + dice.below(packs));
    if (items.empty() && dice.unit() < 0.8) items.push_back(dice.below(parts));
    std::vector<float> row;
    for (int c = 0; c < cells; ++c)
      row.push_back(dice.unit() < 0.4 ? 0.25F * static_cast<float>(1 + dice.below(4)) : 0.F);
    add_way(p, std::move(items), std::move(row), dice.below(engines));
  }
  // The last two or three packs are one like the other.
  if (packs >= 2 && dice.unit() < 0.5) {
    const int alike = 2 + dice.below(std::min(2, packs - 1));
    for (int k = 0; k < alike; ++k) {
      auto& pack = p.items[p.items.size() - 1 - static_cast<std::size_t>(k)];
      pack.mass_g = p.items.back().mass_g;
      pack.kind = 1;
    }
    const int last = parts + packs - 1;
    for (auto& engine : p.engines) {
      const auto mine = std::find_if(engine.feeds.begin(), engine.feeds.end(),
                                     [&](const auto& f) { return f.item == last; });
      const double hours = mine == engine.feeds.end() ? 0 : mine->hours;
      std::erase_if(engine.feeds, [&](const auto& f) { return f.item > last - alike; });
      for (int k = 0; k < alike && hours > 0; ++k) engine.feeds.push_back({last - k, hours});
    }
  }
  // A thing that comes twice: whatever works with the one works with the other.
  if (dice.unit() < 0.4) {
    const int twin = add_item(p, name(), p.items[0].mass_g);
    p.items[0].kind = p.items[static_cast<std::size_t>(twin)].kind = 2;
    for (std::size_t s = p.ways.size(); s-- > 0;) {
      Way way = p.ways[s];
      const auto one = std::find(way.items.begin(), way.items.end(), 0);
      if (one == way.items.end()) continue;
      *one = twin;
      p.ways.push_back(std::move(way));
    }
  }
  double total = 0;
  for (const auto& item : p.items) total += item.mass_g;
  p.limit_g = std::floor(total * (0.1 + 0.5 * dice.unit()));
  if (dice.unit() < 0.3) p.items[0].always = true;
  if (dice.unit() < 0.2) p.items[1].excluded = true;
  if (dice.unit() < 0.2 && !p.items[2].kind) p.items[2].mass_g = 0;
  return p;
}

}  // namespace skerry::choose
