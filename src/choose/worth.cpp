#include "worth.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

namespace skerry::choose {

namespace {

__extension__ typedef unsigned __int128 Wide;

Wide times(std::int64_t a, std::int64_t b) {
  return static_cast<Wide>(a) * static_cast<Wide>(b);
}

/// Whether an hour of part a brings more than one of part b; the turn decides between equals. Exact: quotients that
/// look alike are compared as whole numbers.
bool better(std::int64_t gain_a, const Clock::Part& a, std::int64_t gain_b, const Clock::Part& b) {
  const double rate_a = static_cast<double>(gain_a) * a.per_ms,
               rate_b = static_cast<double>(gain_b) * b.per_ms;
  constexpr double rounding = 1 + 1e-14;
  if (rate_a > rate_b * rounding) return true;
  if (rate_b > rate_a * rounding) return false;
  const Wide left = times(gain_a * a.share, b.ms), right = times(gain_b * b.share, a.ms);
  return left != right ? left > right : a.turn < b.turn;
}

}  // namespace

std::int64_t whole_ms(double hours) {
  assert(hours >= 0);
  const double ms = hours * 3.6e6;
  return ms >= static_cast<double>(no_limit_ms) ? no_limit_ms : std::llround(ms);
}

Clock::Clock(const Problem& problem) : engines(static_cast<int>(problem.engines.size())) {
  turns = problem.turns.empty() ? 0 : problem.turns.back() + 1;
  for (const auto& engine : problem.engines) {
    own_ms.push_back(whole_ms(engine.own_hours));
    among_spells.push_back(engine.spells);
    more_ms.push_back(whole_ms(engine.more_hours));
  }
  std::vector<double> all(static_cast<std::size_t>(turns), 0);
  for (const auto& spell : problem.spells) {
    for (const auto& part : spell.parts) {
      if (part.turn < turns)
        all[static_cast<std::size_t>(part.turn)] += spell.count * static_cast<double>(whole_ms(part.hours));
    }
  }
  for (const auto& spell : problem.spells) {
    Spell out;
    out.count = spell.count;
    for (const auto& part : spell.parts) {
      Part p;
      p.turn = part.turn;
      p.ms = whole_ms(part.hours);
      if (p.ms <= 0 || part.turn >= turns || all[static_cast<std::size_t>(part.turn)] <= 0) continue;
      const double share = spell.count * static_cast<double>(p.ms) / all[static_cast<std::size_t>(part.turn)];
      p.share = std::llround(share * static_cast<double>(whole_turn));
      p.per_ms = static_cast<double>(p.share) / static_cast<double>(p.ms);
      out.all_ms += p.ms;
      out.parts.push_back(p);
    }
    std::sort(out.parts.begin(), out.parts.end(),
              [](const Part& a, const Part& b) { return a.turn < b.turn; });
    if (!out.parts.empty()) spells.push_back(std::move(out));
  }
}

Scales::Scales(const Clock& clock) : clock_(clock) {
  for (const auto& spell : clock.spells) {
    for (int e = 0; e < clock.engines; ++e) {
      order_.emplace_back(spell.parts.size());
      for (std::size_t k = 0; k < spell.parts.size(); ++k) order_.back()[k] = static_cast<int>(k);
    }
  }
}

const std::vector<int>& Scales::best_first(std::size_t spell, int engine, const std::int64_t* gains) {
  const auto& parts = clock_.spells[spell].parts;
  auto& order = order_[spell * static_cast<std::size_t>(clock_.engines) + static_cast<std::size_t>(engine)];
  const auto* mine = gains + clock_.where(engine, 0);
  for (std::size_t k = 1; k < order.size(); ++k) {
    const int moved = order[k];
    const auto& part = parts[static_cast<std::size_t>(moved)];
    std::size_t to = k;
    for (; to > 0; --to) {
      const auto& before = parts[static_cast<std::size_t>(order[to - 1])];
      if (!better(mine[part.turn], part, mine[before.turn], before)) break;
      order[to] = order[to - 1];
    }
    order[to] = moved;
  }
  return order;
}

template <class Each>
std::int64_t Scales::spend(std::size_t spell, int engine, const std::int64_t* gains, std::int64_t ms,
                           Each&& each) {
  const auto& parts = clock_.spells[spell].parts;
  const auto* mine = gains + clock_.where(engine, 0);
  std::int64_t sum = 0;
  for (const int k : best_first(spell, engine, gains)) {
    const auto& part = parts[static_cast<std::size_t>(k)];
    if (mine[part.turn] <= 0) break;
    const std::int64_t most = mine[part.turn] * part.share;
    const std::int64_t spent = std::min(ms, part.ms);
    each(static_cast<std::size_t>(k), spent);
    if (spent < part.ms) {
      return sum + static_cast<std::int64_t>(times(most, spent) / static_cast<Wide>(part.ms));
    }
    sum += most;
    ms -= spent;
  }
  return sum;
}

std::int64_t Scales::worth(const std::int64_t* gains, const std::int64_t* ms) {
  std::int64_t sum = 0;
  for (std::size_t d = 0; d < clock_.spells.size(); ++d) {
    const auto& spell = clock_.spells[d];
    std::int64_t best = 0;
    for (int e = 0; e < clock_.engines; ++e) {
      if (ms[e] <= 0) continue;
      const auto* mine = gains + clock_.where(e, 0);
      std::int64_t all = 0;
      for (const auto& part : spell.parts) all += mine[part.turn] * part.share;
      if (all <= best) continue;
      const std::int64_t has = clock_.in_spell(e, ms[e]);
      if (has < spell.all_ms) all = spend(d, e, gains, has, [](std::size_t, std::int64_t) {});
      best = std::max(best, all);
    }
    sum += best;
  }
  return sum;
}

double Scales::marginal(std::size_t spell, int engine, const std::int64_t* gains, std::int64_t ms) {
  const auto& s = clock_.spells[spell];
  ms = clock_.in_spell(engine, ms);
  if (ms >= s.all_ms) return 0;
  const auto* mine = gains + clock_.where(engine, 0);
  for (const int k : best_first(spell, engine, gains)) {
    const auto& part = s.parts[static_cast<std::size_t>(k)];
    if (ms < part.ms) return static_cast<double>(mine[part.turn]) * part.per_ms;
    ms -= part.ms;
  }
  return 0;
}

Scales::Work Scales::work(std::size_t spell, int engine, const std::int64_t* gains, std::int64_t ms) {
  Work out;
  out.ms.assign(clock_.spells[spell].parts.size(), 0);
  out.worth = spend(spell, engine, gains, clock_.in_spell(engine, ms),
                    [&](std::size_t k, std::int64_t spent) { out.ms[k] = spent; });
  return out;
}

}  // namespace skerry::choose
