#include <algorithm>
#include <chrono>
#include <cmath>
#include <iterator>
#include <map>
#include <memory>
#include <numeric>
#include <set>
#include <utility>

#include "advise_parts.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/parallel.hpp"
#include "ways.hpp"

namespace skerry::advice {

namespace {

/// Judgement: what assumed currents, slopes and wet ropes cost more than computed, or less.
constexpr double antenna_db = 2;
/// Judgement: more than a dozen sessions differ little from each other.
constexpr std::size_t most_lost_sessions = 12;
/// Judgement: a gain of the worst case under half a percent is no reason to carry another kit.
constexpr double worth_telling = 0.005;
/// Source: data/ground: water of any kind is over this, land under it. A ground of 1 would be none.
constexpr double water_eps = 60, least_eps = 1.5;
/// Judgement: a rival that leads in so many of the cases is no worse a choice.
constexpr double often = 0.25;

/// One case with its problem ready; the first is the trip as expected and has no case.
struct Question {
  const Case* asked = nullptr;
  std::unique_ptr<choose::Problem> problem;
  std::unique_ptr<choose::Solver> solver;
  Question(const choose::Problem& expected, const Case* other)
      : asked(other), problem(std::make_unique<choose::Problem>(expected)) {
    if (asked != nullptr && !asked->weights.empty()) {
      problem->weights = asked->weights;
      problem->turns.push_back(problem->turns.empty() ? 0 : problem->turns.back());
      for (auto& row : problem->rows) row.push_back(0);
    } else if (asked != nullptr) {
      problem->rows = asked->rows;
    }
    solver = std::make_unique<choose::Solver>(*problem);
  }
};

/// Judgement: about what neighbours in data/ground differ by.
constexpr double class_sigma = 3, class_eps = 1.4;

/// The trip over ground one class poorer or better; nothing where there is none that may be otherwise (water).
std::optional<kit::Trip> over_other_ground(const kit::Trip& trip, bool better) {
  kit::Trip out = trip;
  bool any = false;
  for (auto& site : out.sites) {
    auto& ground = site.ground;
    if (ground.kind != antenna::GroundKind::real || ground.eps_r >= water_eps) continue;
    ground.sigma_s_per_m *= better ? class_sigma : 1 / class_sigma;
    ground.eps_r = std::max(least_eps, ground.eps_r * (better ? class_eps : 1 / class_eps));
    any = true;
  }
  return any ? std::optional(std::move(out)) : std::nullopt;
}

/// What some kits use of their setups: for each way its bands that are best in some hour.
std::map<int, std::set<int>> used_ways(const Advice& advice, const ReachModel& model,
                                       const choose::Solver& solver,
                                       const std::vector<const std::vector<int>*>& kits) {
  std::map<int, std::set<int>> out;
  std::map<int, std::vector<std::vector<float>>> by_band;
  for (const auto* kit : kits) {
    const auto account = solver.account(*kit);
    for (std::size_t c = 0; c < account.way.size(); ++c) {
      if (account.way[c] < 0 || account.got[c] <= 0) continue;
      const int setup = nth(advice.problem.ways, account.way[c]).origin;
      const auto [rows, fresh] = by_band.try_emplace(setup);
      if (fresh) rows->second = model.by_band(setup);
      const auto best = std::max_element(rows->second.begin(), rows->second.end(),
                                         [&](const auto& a, const auto& b) { return a[c] < b[c]; });
      out[account.way[c]].insert(nth(nth(advice.book.setups, setup), best - rows->second.begin()).band);
    }
  }
  return out;
}

/// Some kits' reach over other ground. Antennas are solved there on the bands that the kits use now: what they
/// might find besides is left out.
std::vector<double> reach_over(const kit::Trip& other, const Advice& advice, const ReachModel& model,
                               const std::map<int, std::set<int>>& used,
                               const std::vector<const std::vector<int>*>& kits) {
  kit::Setups setups;
  std::vector<double> layouts;
  choose::Problem problem = advice.problem;
  problem.ways.clear();
  for (const auto& [w, bands] : used) {
    const auto& way = nth(advice.problem.ways, w);
    auto setup = nth(advice.setups.possible, way.origin);
    setup.bands.assign(bands.begin(), bands.end());
    const int place = static_cast<int>(problem.ways.size());
    problem.ways.push_back({way.items, place, way.engine, place});
    setups.possible.push_back(std::move(setup));
    layouts.push_back(nth(model.setups(), way.origin).layout_azimuth_deg);
  }
  auto book = pattern_book(other, setups.possible, &advice.book);
  limit_to_feeds(other, setups, book);
  const auto there = model.over(other, setups.possible, book, layouts);
  problem.rows = rows_of(other, setups, there);
  const choose::Solver solver(problem);
  std::vector<double> out;
  for (const auto* kit : kits) out.push_back(solver.reach_of(*kit));
  return out;
}

std::size_t hour_index(int site, int utc_hour) {
  return static_cast<std::size_t>(site) * 24 + static_cast<std::size_t>(utc_hour);
}

/// One session of one day taken away; its weight stays in the whole.
void without_sessions(const kit::Trip& trip, const ReachModel& model, std::vector<Case>& out) {
  std::vector<double> minutes(trip.sites.size() * 24, 0);
  for (const auto& h : session_hours(trip)) minutes[hour_index(h.site, h.utc_hour)] = h.minutes;
  const auto weights = weights_of(trip, model);
  for (std::size_t k = 0; k < std::min(trip.sessions.size(), most_lost_sessions); ++k) {
    kit::Trip rest;
    rest.first_day = trip.first_day;
    rest.last_day = trip.last_day;
    rest.sites = trip.sites;
    rest.sessions = trip.sessions;
    auto& days = rest.sessions[k].days;
    if (days.empty()) {
      for (std::chrono::sys_days d{trip.first_day}; d <= std::chrono::sys_days{trip.last_day};
           d += std::chrono::days{1})
        days.emplace_back(d);
    }
    const Day lost_day = days.front();
    days.erase(days.begin());
    if (days.empty()) rest.sessions.erase(rest.sessions.begin() + static_cast<std::ptrdiff_t>(k));
    std::vector<double> left(minutes.size(), 0);
    if (!rest.sessions.empty()) {  // none at all would mean all day
      for (const auto& h : session_hours(rest)) left[hour_index(h.site, h.utc_hour)] = h.minutes;
    }
    auto now = weights;
    double lost = 0;
    for (std::size_t c = 0; c < now.size(); ++c) {
      const auto& cell = model.cells()[c];
      const auto at = hour_index(cell.site, cell.utc_hour);
      if (minutes[at] > 0) now[c] *= left[at] / minutes[at];
      lost += weights[c] - now[c];
    }
    Scenario scenario;
    scenario.kind = Scenario::Kind::session_lost;
    scenario.session.emplace(k);
    scenario.day = lost_day;
    // What is lost stays in the whole, in a cell that nothing serves.
    now.push_back(lost);
    out.push_back({scenario, {}, std::move(now)});
  }
}

/// A kit's reach in each of the cases.
using Worths = std::vector<double>;

struct Candidate {
  choose::Choice kit;
  Worths worth;
  [[nodiscard]] double mean() const {
    return std::accumulate(worth.begin(), worth.end(), 0.0) / static_cast<double>(worth.size());
  }
  [[nodiscard]] double worst() const { return *std::min_element(worth.begin(), worth.end()); }
};

/// Every kit looked at that may be carried, once, the recommended one first, in all cases.
std::vector<Candidate> all_worths(const Advice& advice, const std::vector<Question>& questions,
                                  std::vector<choose::Choice> kits) {
  std::vector<Candidate> out{{advice.kit, {}}};
  std::set<std::vector<int>> known{advice.kit.items};
  const auto lacks = [&](const choose::Choice& kit) {
    for (std::size_t i = 0; i < advice.problem.items.size(); ++i) {
      const auto& item = advice.problem.items[i];
      if (item.always && !item.excluded &&
          !std::binary_search(kit.items.begin(), kit.items.end(), static_cast<int>(i)))
        return true;
    }
    return false;
  };
  for (auto& kit : kits) {
    if (lacks(kit)) continue;
    if (kit.over_limit || kit.items.empty() || kit.mass_g > advice.limit_g + 1e-6) continue;
    if (known.insert(kit.items).second) out.push_back({std::move(kit), {}});
  }
  parallel_for(out.size(), 1, [&](std::size_t begin, std::size_t end) {
    for (std::size_t k = begin; k < end; ++k) {
      for (const auto& q : questions) out[k].worth.push_back(q.solver->reach_of(out[k].kit.items));
      out[k].kit.reach = out[k].worth.front();
    }
  });
  return out;
}

/// Kits with each thing that stays, at the same limit.
std::vector<choose::Choice> with_each(const Advice& advice, const choose::Solver& solver,
                                      const AdviceOptions& options) {
  std::vector<int> left;
  for (const auto& item : advice.items) {
    if (!item.carry && item.used && !nth(advice.inventory.things, item.thing).excluded)
      left.push_back(item.thing);
  }
  std::vector<choose::Choice> out(left.size());
  parallel_for(left.size(), 1, [&](std::size_t begin, std::size_t end) {
    for (std::size_t k = begin; k < end; ++k)
      out[k] = solver.best({.with = {left[k]}, .start = advice.optimum.items}, aside(options, left.size()));
  });
  return out;
}

void find_robust(Robustness& out, const std::vector<Candidate>& candidates, double worst_bound,
                 double tolerance) {
  const auto& chosen = candidates.front();
  const Candidate* best = &chosen;
  for (const auto& other : candidates) {
    const double lead = other.worst() - best->worst();
    if (lead > 1e-12 || (lead > -1e-12 && other.kit.reach > best->kit.reach + 1e-12)) best = &other;
  }
  out.kit = best->kit;
  out.kit.bound = out.kit.reach;
  out.kit.proved = false;
  out.worst = best->worst();
  out.worst_of_chosen = chosen.worst();
  out.bound = worst_bound;
  out.proved = out.worst >= out.bound - 1e-9;
  out.differs = out.worst > out.worst_of_chosen + std::max(worth_telling, tolerance);
}

/// The kit against its rival, case by case.
void compare(Advice& advice, const Candidate& chosen, const Candidate& rival) {
  auto& out = advice.firmness;
  const std::size_t cases = chosen.worth.size();
  std::size_t ahead = 0;
  double most = 0;
  for (std::size_t k = 0; k < cases; ++k) {
    const double lead = rival.worth[k] - chosen.worth[k];
    if (lead > advice.tolerance) ++ahead;
    if (lead <= most || k == 0) continue;
    most = lead;
    out.overtaken_in = k - 1;
  }
  out.runner_up = rival.kit;
  differences(chosen.kit.items, rival.kit.items, out.comes, out.goes);
  out.mean_lead = chosen.mean() - rival.mean();
  out.ahead = static_cast<double>(ahead) / static_cast<double>(cases);
  const bool overtaken = out.ahead >= often;
  const bool too_near =
      std::abs(out.mean_lead) < advice.tolerance && rival.kit.mass_g <= chosen.kit.mass_g + 1e-6;
  out.toss_up = overtaken || too_near;
  out.why = overtaken    ? Firmness::Why::overtaken
            : too_near   ? Firmness::Why::too_near
            : ahead == 0 ? Firmness::Why::ahead_in_all
                         : Firmness::Why::ahead;
  if (!overtaken) out.overtaken_in.reset();
}

/// The kit, its rival and the robust kit over other ground: one case more for each.
void ask_the_ground(Advice& advice, const kit::Trip& trip, const ReachModel& model,
                    const choose::Solver& solver, Candidate& chosen, Candidate* rival) {
  auto& robust = advice.robustness;
  std::vector<const std::vector<int>*> kits{&chosen.kit.items, &robust.kit.items};
  if (rival != nullptr) kits.push_back(&rival->kit.items);
  const auto used = used_ways(advice, model, solver, kits);
  for (const bool better : {false, true}) {
    const auto other = over_other_ground(trip, better);
    if (!other) return;
    const auto worth = reach_over(*other, advice, model, used, kits);
    Scenario scenario;
    scenario.kind = better ? Scenario::Kind::better_ground : Scenario::Kind::poorer_ground;
    scenario.kit = worth[0];
    scenario.robust = worth[1];
    chosen.worth.push_back(worth[0]);
    if (rival != nullptr) {
      scenario.runner_up = worth[2];
      rival->worth.push_back(worth[2]);
    }
    scenario.best = *std::max_element(worth.begin(), worth.end());
    robust.scenarios.push_back(scenario);
    robust.worst = std::min(robust.worst, scenario.robust);
    robust.worst_of_chosen = std::min(robust.worst_of_chosen, scenario.kit);
  }
  if (robust.worst < robust.worst_of_chosen) {
    robust.kit = chosen.kit;
    robust.worst = robust.worst_of_chosen;
    for (auto& scenario : robust.scenarios) scenario.robust = scenario.kit;
  }
  robust.proved = robust.worst >= robust.bound - 1e-9;
  robust.differs = robust.worst > robust.worst_of_chosen + std::max(worth_telling, advice.tolerance);
}

}  // namespace

std::vector<Case> cases_of(const kit::Trip& trip, const Advice& base, const ReachModel& model) {
  using Kind = Scenario::Kind;
  std::vector<std::pair<Scenario, Stress>> cases;
  const auto add = [&](Kind kind, double amount = 0) -> Stress& {
    Scenario scenario;
    scenario.kind = kind;
    scenario.amount = amount;
    return cases.emplace_back(scenario, Stress{}).second;
  };
  if (trip.high_r12 > trip.low_r12) {
    add(Kind::quieter_sun, trip.low_r12).r12 = trip.low_r12;
    add(Kind::active_sun, trip.high_r12).r12 = trip.high_r12;
  }
  add(Kind::noisier_site).noisier = true;
  add(Kind::worse_antennas, -antenna_db).antenna_db = -antenna_db;
  add(Kind::better_antennas, antenna_db).antenna_db = antenna_db;
  add(Kind::two_limits).method = circuit::FarMethod::limits;
  if (trip.sporadic_e) add(Kind::no_sporadic_e).no_es = true;
  std::vector<Case> out(cases.size());
  parallel_for(cases.size(), 1, [&](std::size_t begin, std::size_t end) {
    for (std::size_t k = begin; k < end; ++k)
      out[k] = {cases[k].first, rows_of(trip, base.setups, model.under(cases[k].second)), {}};
  });
  without_sessions(trip, model, out);
  return out;
}

void weigh_firmness(Advice& advice, const kit::Trip& trip, const ReachModel& model,
                    const std::vector<int>& working, const std::vector<Case>& cases,
                    std::vector<choose::Choice> looked_at, const AdviceOptions& options) {
  auto& out = advice.firmness;
  const auto days = model.best_days(working);
  for (std::size_t c = 0; c < days.size(); ++c) {
    const double spare = days[c] - trip.want_days_in_ten;
    const double share = model.cells()[c].weight / model.total_weight();
    if (spare >= 0 && spare < edge_days) out.fragile += share;
    if (spare < 0 && spare > -edge_days) out.nearly += share;
  }
  if (advice.kit.reach <= 0) return;
  out.low_r12 = trip.low_r12;
  out.high_r12 = trip.high_r12;
  std::vector<std::optional<Question>> made(1 + cases.size());
  parallel_for(made.size(), 1, [&](std::size_t begin, std::size_t end) {
    for (std::size_t k = begin; k < end; ++k)
      made[k].emplace(advice.problem, k == 0 ? nullptr : &cases[k - 1]);
  });
  std::vector<Question> questions;
  for (auto& one : made) questions.push_back(std::move(*one));
  auto more = with_each(advice, *questions.front().solver, options);
  std::move(more.begin(), more.end(), std::back_inserter(looked_at));
  double worst_bound = advice.optimum.bound;
  std::vector<choose::Choice> best(questions.size());
  parallel_for(questions.size(), 1, [&](std::size_t begin, std::size_t end) {
    for (std::size_t k = std::max<std::size_t>(begin, 1); k < end; ++k)
      best[k] = questions[k].solver->best({.start = advice.optimum.items}, aside(options, questions.size()));
  });
  for (std::size_t k = 1; k < questions.size(); ++k) {
    worst_bound = std::min(worst_bound, best[k].bound);
    looked_at.push_back(best[k]);
  }
  auto candidates = all_worths(advice, questions, std::move(looked_at));
  auto& chosen = candidates.front();
  const auto rival =
      std::max_element(candidates.begin() + 1, candidates.end(), [](const Candidate& a, const Candidate& b) {
        return a.mean() != b.mean() ? a.mean() < b.mean() : a.kit.mass_g > b.kit.mass_g;
      });
  const bool any = rival != candidates.end() && rival->mean() > 0;
  auto& robust = advice.robustness;
  if (questions.size() > 1) find_robust(robust, candidates, worst_bound, advice.tolerance);
  for (std::size_t k = 1; k < questions.size(); ++k) {
    auto scenario = questions[k].asked->scenario;
    scenario.kit = chosen.worth[k];
    scenario.best = std::max(best[k].reach, scenario.kit);
    scenario.robust = questions[k].solver->reach_of(robust.kit.items);
    if (any) scenario.runner_up = rival->worth[k];
    robust.scenarios.push_back(scenario);
  }
  if (questions.size() > 1 && !ended(options))
    ask_the_ground(advice, trip, model, *questions.front().solver, chosen, any ? &*rival : nullptr);
  if (questions.size() > 1 && trip.high_r12 > trip.low_r12) {
    out.asked_the_sun = true;
    const auto& low = advice.robustness.scenarios[0];
    const auto& high = advice.robustness.scenarios[1];
    out.reach_low = low.kit;
    out.reach_high = high.kit;
    out.runner_up_low = low.runner_up;
    out.runner_up_high = high.runner_up;
  }
  if (!any) {
    out.why = Firmness::Why::no_other_kit;
    return;
  }
  compare(advice, chosen, *rival);
}

}  // namespace skerry::advice
