#include <algorithm>
#include <chrono>
#include <cmath>
#include <iterator>
#include <utility>

#include "advise_parts.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/parallel.hpp"
#include "ways.hpp"

namespace skerry::advice {

namespace {

/// Judgement: what assumed currents, slopes and wet ropes cost more than computed.
constexpr double worse_antenna_db = -2;
/// Judgement: more than a dozen sessions differ little from each other.
constexpr std::size_t most_lost_sessions = 12;
/// Judgement: a gain of the worst case under half a percent is no reason to carry another kit.
constexpr double worth_telling = 0.005;

struct Question {
  Scenario scenario;
  choose::Problem problem;
};

std::optional<choose::Choice> find_runner_up(const Advice& advice, const AdviceOptions& options) {
  // Whatever does not contain this kit lacks one of its things: the best of the best kits without one of
  // them.
  std::vector<int> droppable;
  std::copy_if(advice.kit.items.begin(), advice.kit.items.end(), std::back_inserter(droppable),
               [&](int i) { return !nth(advice.inventory.things, i).always; });
  std::vector<choose::Choice> others(droppable.size());
  parallel_for(others.size(), 1, [&](std::size_t begin, std::size_t end) {
    for (std::size_t k = begin; k < end; ++k)
      others[k] =
          choose::loss_of_dropping(advice.problem, advice.kit, droppable[k], aside(options, others.size()))
              .kit;
  });
  std::optional<choose::Choice> best;
  for (const auto& other : others) {
    if (!best || other.reach > best->reach || (other.reach == best->reach && other.mass_g < best->mass_g))
      best = other;
  }
  return best;
}

Question under_stress(const Advice& advice, const kit::Trip& trip, const ReachModel& model,
                      const Scenario& scenario, const Stress& stress) {
  Question out;
  out.scenario = scenario;
  out.problem = advice.problem;
  const ReachModel other = model.under(stress);
  lay_out_ways(out.problem, trip, advice.inventory, advice.setups, other, weights_of(trip, model));
  return out;
}

std::size_t hour_index(int site, int utc_hour) {
  return static_cast<std::size_t>(site) * 24 + static_cast<std::size_t>(utc_hour);
}

/// One session of one day taken away; its weight stays in the whole.
std::vector<Question> without_sessions(const Advice& advice, const kit::Trip& trip, const ReachModel& model) {
  std::vector<Question> out;
  std::vector<double> minutes(trip.sites.size() * 24, 0);
  for (const auto& h : session_hours(trip)) minutes[hour_index(h.site, h.utc_hour)] = h.minutes;
  const auto weights = weights_of(trip, model);
  for (std::size_t k = 0; k < trip.sessions.size() && out.size() < most_lost_sessions; ++k) {
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
    Question q;
    q.scenario.kind = Scenario::Kind::session_lost;
    q.scenario.session.emplace(k);
    q.scenario.day = lost_day;
    q.problem = advice.problem;
    lay_out_ways(q.problem, trip, advice.inventory, advice.setups, model, now, lost);
    out.push_back(std::move(q));
  }
  return out;
}

/// All scenarios side by side, each as heavy as any other.
choose::Problem mean_of(const Advice& advice, const std::vector<Question>& questions) {
  choose::Problem out = advice.problem;
  std::vector<const choose::Problem*> parts = {&advice.problem};
  for (const auto& q : questions) parts.push_back(&q.problem);
  out.weights.clear();
  std::vector<std::size_t> start;
  for (const auto* part : parts) {
    start.push_back(out.weights.size());
    double sum = 0;
    for (const double w : part->weights) sum += w;
    for (const double w : part->weights) out.weights.push_back(sum > 0 ? w / sum : 0);
  }
  for (std::size_t s = 0; s < out.bundles.size(); ++s) {
    out.bundles[s].cells = choose::CellSet(out.weights.size());
    for (std::size_t k = 0; k < parts.size(); ++k) {
      const auto& cells = parts[k]->bundles[s].cells;
      for (std::size_t c = 0; c < parts[k]->weights.size(); ++c) {
        if (cells.has(c)) out.bundles[s].cells.add(start[k] + c);
      }
    }
  }
  return out;
}

double worst_of(const Advice& advice, const std::vector<Question>& questions, const std::vector<int>& kit) {
  double out = choose::reach_of(advice.problem, kit);
  for (const auto& q : questions) out = std::min(out, choose::reach_of(q.problem, kit));
  return out;
}

void find_robust(Advice& advice, std::vector<Question>& questions, const AdviceOptions& options) {
  auto& out = advice.robustness;
  std::vector<choose::Choice> candidates = {advice.kit};
  out.bound = advice.kit.bound;
  std::vector<choose::Choice> answers(questions.size() + 1);
  parallel_for(answers.size(), 1, [&](std::size_t begin, std::size_t end) {
    // The mean of all is the largest: first.
    for (std::size_t k = begin; k < end; ++k)
      answers[k] = choose::best(k == 0 ? mean_of(advice, questions) : questions[k - 1].problem,
                                aside(options, answers.size()));
  });
  for (std::size_t k = 0; k < questions.size(); ++k) {
    const auto& answer = answers[k + 1];
    candidates.push_back(answer);
    questions[k].scenario.best = answer.reach;
    out.bound = std::min(out.bound, answer.bound);
  }
  candidates.push_back(std::move(answers[0]));
  if (advice.firmness.runner_up) candidates.push_back(*advice.firmness.runner_up);
  candidates.insert(candidates.end(), advice.frontier.kits.begin(), advice.frontier.kits.end());
  out.worst = -1;
  for (const auto& kit : candidates) {
    const double worst = worst_of(advice, questions, kit.items);
    const double reach = choose::reach_of(advice.problem, kit.items);
    const bool better =
        worst > out.worst + 1e-12 ||
        (worst > out.worst - 1e-12 &&
         (reach > out.kit.reach + 1e-12 || (reach > out.kit.reach - 1e-12 && kit.mass_g < out.kit.mass_g)));
    if (!better) continue;
    out.kit = kit;
    out.kit.reach = out.kit.bound = reach;
    out.kit.proved = false;
    out.worst = std::max(worst, out.worst);
  }
  out.worst_of_chosen = worst_of(advice, questions, advice.kit.items);
  out.proved = out.worst >= out.bound - 1e-9;
  out.differs = out.worst > out.worst_of_chosen + worth_telling;
  for (auto& q : questions) {
    q.scenario.kit = choose::reach_of(q.problem, advice.kit.items);
    q.scenario.best = std::max(q.scenario.best, q.scenario.kit);
    q.scenario.robust = choose::reach_of(q.problem, out.kit.items);
    if (advice.firmness.runner_up)
      q.scenario.runner_up = choose::reach_of(q.problem, advice.firmness.runner_up->items);
    out.scenarios.push_back(q.scenario);
  }
}

std::vector<Question> ask_all(const Advice& advice, const kit::Trip& trip, const ReachModel& model) {
  using Kind = Scenario::Kind;
  struct Case {
    Scenario scenario;
    Stress stress;
  };
  std::vector<Case> cases;
  const auto add = [&](Kind kind, double amount, const Stress& stress) {
    cases.push_back({{}, stress});
    cases.back().scenario.kind = kind;
    cases.back().scenario.amount = amount;
  };
  if (trip.high_r12 > trip.low_r12) {
    for (const auto& [kind, r12] :
         {std::pair{Kind::quieter_sun, trip.low_r12}, {Kind::active_sun, trip.high_r12}}) {
      Stress sun;
      sun.r12 = r12;
      add(kind, r12, sun);
    }
  }
  Stress noisier, worse;
  noisier.noisier_site = true;
  add(Kind::noisier_site, 0, noisier);
  worse.antenna_db = worse_antenna_db;
  add(Kind::worse_antennas, -worse_antenna_db, worse);
  std::vector<Question> out(cases.size());
  parallel_for(cases.size(), 1, [&](std::size_t begin, std::size_t end) {
    for (std::size_t k = begin; k < end; ++k)
      out[k] = under_stress(advice, trip, model, cases[k].scenario, cases[k].stress);
  });
  auto lost = without_sessions(advice, trip, model);
  std::move(lost.begin(), lost.end(), std::back_inserter(out));
  return out;
}

}  // namespace

void weigh_firmness(Advice& advice, const kit::Trip& trip, const ReachModel& model,
                    const AdviceOptions& options) {
  auto& out = advice.firmness;
  const auto days = model.best_days(working(advice.shares));
  for (std::size_t c = 0; c < days.size(); ++c) {
    const double spare = days[c] - trip.want_days_in_ten;
    const double share = model.cells()[c].weight / model.total_weight();
    if (spare >= 0 && spare < edge_days) out.fragile += share;
    if (spare < 0 && spare > -edge_days) out.nearly += share;
  }
  if (advice.kit.reach <= 0) return;
  out.runner_up = find_runner_up(advice, options);
  out.low_r12 = trip.low_r12;
  out.high_r12 = trip.high_r12;
  if (options.uncertainty && !ended(options)) {
    auto questions = ask_all(advice, trip, model);
    find_robust(advice, questions, options);
    if (trip.high_r12 > trip.low_r12) {
      out.asked_the_sun = true;
      const auto& low = advice.robustness.scenarios[0];
      const auto& high = advice.robustness.scenarios[1];
      out.reach_low = low.kit;
      out.reach_high = high.kit;
      out.runner_up_low = low.runner_up;
      out.runner_up_high = high.runner_up;
    }
  }
  if (!out.runner_up) {
    out.why = Firmness::Why::no_other_kit;
    return;
  }
  const double lead = advice.kit.reach - out.runner_up->reach;
  const auto& scenarios = advice.robustness.scenarios;
  const auto flip = std::find_if(scenarios.begin(), scenarios.end(), [](const Scenario& s) {
    return s.kind != Scenario::Kind::session_lost && s.runner_up > s.kit + 1e-9;
  });
  const bool too_near =
      lead < 0.5 * (out.fragile + out.nearly) && lead < 0.02 && out.runner_up->mass_g <= advice.kit.mass_g;
  out.toss_up = flip != scenarios.end() || too_near;
  if (flip != scenarios.end()) {
    out.why = Firmness::Why::overtaken;
    out.overtaken_in = static_cast<std::size_t>(flip - scenarios.begin());
  } else if (too_near) {
    out.why = Firmness::Why::too_near;
  } else {
    out.why = scenarios.empty() ? Firmness::Why::ahead : Firmness::Why::ahead_in_all;
  }
}

}  // namespace skerry::advice
