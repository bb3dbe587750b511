// Why the best kit reaches nothing: mass, bags, power or the sky.
#include <algorithm>
#include <optional>

#include "advise_parts.hpp"
#include "skerry/core/nth.hpp"
#include "verdict_parts.hpp"

namespace skerry::advice {

namespace {

struct Candidate {
  std::vector<int> things;  ///< sorted, with what always goes
  double mass_g = 0;
};

bool serves(const choose::Problem& problem, const choose::Way& way) {
  const auto& row = nth(problem.rows, way.row);
  return std::any_of(row.begin(), row.end(), [](float v) { return v > 0; });
}

/// The lightest item that feeds an engine which has no hours of its own.
std::optional<int> lightest_feed(const choose::Problem& problem, const choose::Engine& engine) {
  std::optional<int> out;
  for (const auto& feed : engine.feeds) {
    const auto& item = nth(problem.items, feed.item);
    if (item.excluded) continue;
    if (!out || item.mass_g < nth(problem.items, *out).mass_g) out = feed.item;
  }
  return out;
}

bool lighter(const Candidate& a, const std::optional<Candidate>& b) {
  return !b || a.mass_g < b->mass_g;
}

}  // namespace

void find_why_nothing_works(Advice& advice, const kit::Trip& trip) {
  const auto& problem = advice.problem;
  std::vector<int> always;
  for (std::size_t i = 0; i < problem.items.size(); ++i) {
    if (problem.items[i].always && !problem.items[i].excluded) always.push_back(static_cast<int>(i));
  }
  std::optional<Candidate> lightest, blocked;
  for (const auto& way : problem.ways) {
    if (!serves(problem, way)) continue;
    const auto& engine = nth(problem.engines, way.engine);
    Candidate one{way.items, 0};
    if (engine.own_hours <= 0) {
      const auto feed = lightest_feed(problem, engine);
      if (!feed) continue;
      one.things.push_back(*feed);
    }
    one.things.insert(one.things.end(), always.begin(), always.end());
    std::sort(one.things.begin(), one.things.end());
    one.things.erase(std::unique(one.things.begin(), one.things.end()), one.things.end());
    one.mass_g = choose::mass_of(problem, one.things);
    const bool excluded = std::any_of(one.things.begin(), one.things.end(),
                                      [&](int i) { return nth(problem.items, i).excluded; });
    auto& best = excluded || (problem.feasible && !problem.feasible(one.things)) ? blocked : lightest;
    if (lighter(one, best)) best = std::move(one);
  }
  if (lightest || blocked) {
    advice.outcome = lightest ? Outcome::over_limit : Outcome::blocked;
    auto& found = lightest ? *lightest : *blocked;
    choose::Choice& out = advice.lightest.emplace();
    out.items = std::move(found.things);
    out.mass_g = found.mass_g;
    out.reach = choose::Solver(problem).reach_of(out.items);
    const bool excluded = std::any_of(out.items.begin(), out.items.end(),
                                      [&](int i) { return nth(problem.items, i).excluded; });
    if (!lightest && !excluded) advice.in_the_way = bag_problems(trip, advice.inventory, out.items);
    return;
  }
  const auto& power = advice.inventory.power;
  const bool any_power = std::any_of(power.begin(), power.end(), [](const auto& p) { return p.possible; });
  advice.outcome = power.empty() || any_power ? Outcome::no_sky : Outcome::no_power;
}

}  // namespace skerry::advice
