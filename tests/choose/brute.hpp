// The worth of every kit there is, by the definition and without cleverness: the outside truth for small problems.
#pragma once

#include <algorithm>
#include <cmath>
#include <numeric>

#include "skerry/choose/choose.hpp"

namespace skerry::choose {

struct Brute {
  std::vector<int> items;
  double mass_g = 0, reach = -1;
};

/// Reals that differ by less are the same: whole weights, quarters and half hours differ by far more.
inline constexpr double brute_same = 1e-7;

inline double brute_reach(const Problem& p, const std::vector<int>& kit) {
  const auto has = [&](int i) { return std::find(kit.begin(), kit.end(), i) != kit.end(); };
  const std::size_t turns = p.turns.empty() ? 0 : static_cast<std::size_t>(p.turns.back()) + 1;
  std::vector<double> all(turns, 0);  // A(t)
  for (const auto& spell : p.spells) {
    for (const auto& part : spell.parts) all[static_cast<std::size_t>(part.turn)] += spell.count * part.hours;
  }
  std::vector<std::vector<double>> u(p.engines.size(), std::vector<double>(turns, 0));
  for (std::size_t e = 0; e < p.engines.size(); ++e) {
    for (std::size_t c = 0; c < p.weights.size(); ++c) {
      double most = 0;
      for (const auto& way : p.ways) {
        if (way.engine != static_cast<int>(e)) continue;
        const double v = p.rows[static_cast<std::size_t>(way.row)][c];
        if (v > most && std::all_of(way.items.begin(), way.items.end(), has)) most = v;
      }
      u[e][static_cast<std::size_t>(p.turns[c])] += p.weights[c] * most;
    }
  }
  double worth = 0;
  for (const auto& spell : p.spells) {
    double best = 0;
    for (std::size_t e = 0; e < p.engines.size(); ++e) {
      double hours = p.engines[e].own_hours;
      for (const auto& feed : p.engines[e].feeds) hours += has(feed.item) ? feed.hours : 0;
      const auto& engine = p.engines[e];
      if (engine.spells > 1) hours = std::min(hours, (hours + engine.more_hours) / engine.spells);
      auto parts = spell.parts;
      const auto rate = [&](const Spell::Part& part) {
        const auto t = static_cast<std::size_t>(part.turn);
        return u[e][t] / all[t];
      };
      std::sort(parts.begin(), parts.end(), [&](const auto& a, const auto& b) { return rate(a) > rate(b); });
      double sum = 0;
      for (const auto& part : parts) {
        const double spent = std::min(hours, part.hours);
        sum += spent * rate(part);
        hours -= spent;
      }
      best = std::max(best, sum);
    }
    worth += spell.count * best;
  }
  const double total = std::accumulate(p.weights.begin(), p.weights.end(), 0.0);
  return total > 0 ? worth / total : 0;
}

inline std::vector<std::string> sorted_names(const Problem& p, const std::vector<int>& kit) {
  std::vector<std::string> out;
  for (const int i : kit) out.push_back(p.items[static_cast<std::size_t>(i)].name);
  std::sort(out.begin(), out.end());
  return out;
}

inline bool better(const Problem& p, const Brute& a, const Brute& b) {
  if (std::abs(a.reach - b.reach) > brute_same) return a.reach > b.reach;
  if (a.mass_g != b.mass_g) return a.mass_g < b.mass_g;
  if (a.items.size() != b.items.size()) return a.items.size() < b.items.size();
  return sorted_names(p, a.items) < sorted_names(p, b.items);
}

/// All subsets, possible or not. Masses of the tests are whole grams: sums are exact.
inline std::vector<Brute> all_kits(const Problem& p) {
  std::vector<Brute> out;
  for (unsigned subset = 0; subset < (1U << p.items.size()); ++subset) {
    Brute kit;
    for (int i = 0; i < static_cast<int>(p.items.size()); ++i) {
      if (((subset >> i) & 1U) == 0) continue;
      kit.items.push_back(i);
      kit.mass_g += p.items[static_cast<std::size_t>(i)].mass_g;
    }
    kit.reach = brute_reach(p, kit.items);
    out.push_back(std::move(kit));
  }
  return out;
}

/// Whether a question lets a kit be.
inline bool legal(const Problem& p, const Ask& ask, const Brute& kit) {
  const auto in = [](const std::vector<int>& list, int i) {
    return std::find(list.begin(), list.end(), i) != list.end();
  };
  for (int i = 0; i < static_cast<int>(p.items.size()); ++i) {
    const auto& item = p.items[static_cast<std::size_t>(i)];
    const bool comes = in(ask.with, i) || (item.always && !item.excluded && !in(ask.without, i));
    const bool stays = in(ask.without, i) || (item.excluded && !in(ask.with, i));
    if (comes && !in(kit.items, i)) return false;
    if (stays && in(kit.items, i)) return false;
  }
  return kit.mass_g <= ask.limit_g.value_or(p.limit_g) && (!p.feasible || p.feasible(kit.items));
}

/// The best of them; reach -1 when there is none.
inline Brute best_of(const Problem& p, const std::vector<Brute>& kits, const Ask& ask = {}) {
  Brute best;
  for (const auto& kit : kits) {
    if (legal(p, ask, kit) && (best.reach < 0 || better(p, kit, best))) best = kit;
  }
  return best;
}

/// Every kit that no lighter or better one beats.
inline std::vector<Brute> frontier_of(const Problem& p, const std::vector<Brute>& kits, const Ask& ask = {}) {
  std::vector<Brute> out;
  for (Ask next = ask;;) {
    const Brute best = best_of(p, kits, next);
    if (best.reach < 0) break;
    out.push_back(best);
    next.limit_g = best.mass_g - 1;
    if (best.reach < brute_same) break;
  }
  std::reverse(out.begin(), out.end());
  if (out.size() > 1 && out.front().reach < brute_same) out.erase(out.begin());
  return out;
}

}  // namespace skerry::choose
