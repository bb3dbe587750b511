// Simulated logs whose truth is known: the stated intervals must hold it as often as they say.
#include "skerry/after/learn.hpp"

#include <cmath>
#include <random>

#include "check.hpp"
#include "skerry/circuit/contact.hpp"
#include "skerry/core/nth.hpp"

namespace {

using namespace skerry;
using namespace skerry::after;

struct Truth {
  double erp_db = 0;
  std::size_t step = 2;
  std::array<double, hour_blocks> log_hours{};
  std::vector<double> log_rates;
  double log_common = 0;
};

/// Three regions, six blocks of their day, four bands: margins that differ as those of real paths do, and
/// noise classes that weigh less where man-made noise does not rule.
LearnProblem scene(std::mt19937& random) {
  LearnProblem out;
  out.regions = {"a", "b", "c"};
  std::uniform_real_distribution<double> margin(-25, 25), exposure(30, 120), share(0.2, 1);
  for (int region = 0; region < 3; ++region) {
    for (int block = 0; block < hour_blocks; ++block) {
      for (int band = 0; band < 4; ++band) {
        LearnCell c;
        c.region = region;
        c.block = block;
        c.exposure = exposure(random) * share(random);
        const double middle = margin(random), ruled = 1 + 5 * share(random);
        for (std::size_t s = 0; s < noise_steps.size(); ++s)
          c.there_margin_db[s] = middle - ruled * noise_steps[s];
        c.there_upper_db = 9;
        c.there_lower_db = 11;
        c.back_chance = share(random);
        out.cells.push_back(c);
      }
    }
  }
  return out;
}

double works(const LearnCell& c, const Truth& truth, const LearnPrior& prior) {
  const double there =
      circuit::reliability(c.there_margin_db[truth.step] + truth.erp_db, c.there_upper_db, c.there_lower_db);
  return prior.unmodelled + (1 - prior.unmodelled) * circuit::both_ways(there, c.back_chance);
}

void simulate_contacts(LearnProblem& problem, const Truth& truth, const LearnPrior& prior,
                       std::mt19937& random) {
  for (auto& c : problem.cells) {
    const double rate =
        std::exp(truth.log_common + nth(truth.log_rates, c.region) + nth(truth.log_hours, c.block));
    c.contacts = std::poisson_distribution<int>(rate * c.exposure * works(c, truth, prior))(random);
  }
}

/// Reports of one group share `shared_db`.
void simulate_reports(LearnProblem& problem, const Truth& truth, int groups, int each, double shared_db,
                      double own_db, std::mt19937& random) {
  std::uniform_real_distribution<double> level(-22, 8);
  std::normal_distribution<double> normal;
  for (int g = 0; g < groups; ++g) {
    const double median = level(random);
    const double day = shared_db * normal(random);
    for (int i = 0; i < each; ++i) {
      LearnReport r;
      r.group = g;
      r.deviation_db = std::hypot(shared_db, own_db);
      for (std::size_t s = 0; s < noise_steps.size(); ++s) r.predicted_db[s] = median - 4.0 * noise_steps[s];
      // What is too weak makes no contact, and another one is reported.
      for (int tries = 0; tries < 10000; ++tries) {
        r.measured_db = r.predicted_db[truth.step] + truth.erp_db + day + own_db * normal(random);
        if (r.measured_db < r.needed_db + LearnPrior{}.softness_db * normal(random)) continue;
        problem.reports.push_back(r);
        break;
      }
    }
  }
}

Truth draw(const LearnPrior& prior, std::mt19937& random) {
  std::normal_distribution<double> normal;
  Truth t;
  t.erp_db = prior.erp_deviation_db * normal(random);
  t.step = std::discrete_distribution<std::size_t>(prior.noise_step.begin(), prior.noise_step.end())(random);
  for (auto& x : t.log_hours) x = prior.hours_deviation * normal(random);
  t.log_common = std::log(0.02);
  for (int i = 0; i < 3; ++i) t.log_rates.push_back(0.8 * normal(random));
  return t;
}

double contrast(const Truth& t, int block) {
  double mean = 0;
  for (const double x : t.log_hours) mean += x / hour_blocks;
  return std::exp(nth(t.log_hours, block) - mean);
}

bool holds(const Interval& interval, double truth) {
  return truth >= interval.low && truth <= interval.high;
}

}  // namespace

TEST_CASE("90 % intervals hold the truth in 85 to 95 % of simulated logs", "[after][property]") {
  // Source: Cook, Gelman and Rubin, Journal of Computational and Graphical Statistics 15, 675-692, 2006:
  // truths drawn from the prior, data from the truths; intervals of a right posterior then hold their share.
  const LearnPrior prior;
  std::mt19937 random(20270214);
  constexpr int logs = 300;
  int erp = 0, hours = 0;
  double brier = 0, prior_brier = 0, width = 0;
  for (int i = 0; i < logs; ++i) {
    const auto truth = draw(prior, random);
    auto problem = scene(random);
    simulate_contacts(problem, truth, prior, random);
    simulate_reports(problem, truth, i % 2 == 0 ? 20 : 0, 1, 0, 8, random);
    const auto found = learn(problem, prior);
    erp += holds(found.erp_db, truth.erp_db);
    width += (found.erp_db.high - found.erp_db.low) / logs;
    for (int b = 0; b < hour_blocks; ++b) hours += holds(nth(found.hours, b), contrast(truth, b));
    for (std::size_t s = 0; s < noise_steps.size(); ++s) {
      const double happened = truth.step == s ? 1 : 0;
      brier += std::pow(found.noise_probability[s] - happened, 2);
      prior_brier += std::pow(prior.noise_step[s] - happened, 2);
    }
  }
  CAPTURE(erp, hours, width, brier, prior_brier);
  CHECK(erp >= 0.85 * logs);
  CHECK(erp <= 0.95 * logs);
  CHECK(hours >= 0.85 * logs * hour_blocks);
  CHECK(hours <= 0.95 * logs * hour_blocks);
  // The logs say something: narrower than the prior's 16.4 dB, and the noise classes better placed than
  // before.
  CHECK(width < 12);
  CHECK(brier < prior_brier);
}

TEST_CASE("reports of one day and band share their sky and are not counted as many", "[after][property]") {
  const LearnPrior prior;
  std::mt19937 random(7);
  constexpr int logs = 200;
  int erp = 0;
  for (int i = 0; i < logs; ++i) {
    const auto truth = draw(prior, random);
    auto problem = scene(random);
    simulate_contacts(problem, truth, prior, random);
    // 10 groups of 8 reports with 5 dB in common and 6 dB of their own.
    simulate_reports(problem, truth, 10, 8, 5, 6, random);
    erp += holds(learn(problem, prior).erp_db, truth.erp_db);
  }
  CAPTURE(erp);
  // Counting groups once is careful: the interval may hold more than it says, never much less.
  CHECK(erp >= 0.85 * logs);
}

TEST_CASE("an empty log gives back what was believed before", "[after][edge]") {
  LearnProblem problem;
  problem.regions = {"a"};
  const LearnPrior prior;
  const auto found = learn(problem, prior);
  CHECK(found.contacts == 0);
  // Source: the normal distribution: 5 and 95 % at 1.6449 standard deviations.
  CHECK(found.erp_db.low == Approx(-1.6449 * 5).margin(0.05));
  CHECK(found.erp_db.median == Approx(0).margin(0.05));
  CHECK(found.erp_db.high == Approx(1.6449 * 5).margin(0.05));
  for (std::size_t s = 0; s < noise_steps.size(); ++s)
    CHECK(found.noise_probability[s] == Approx(prior.noise_step[s]).epsilon(1e-6));
  CHECK(found.hours[3].low == Approx(found.prior_hours[3].low).epsilon(1e-3));
  CHECK(found.hours[3].high == Approx(found.prior_hours[3].high).epsilon(1e-3));
}

TEST_CASE("many strong reports move own power to their mean, less what the prior holds back",
          "[after][known]") {
  LearnProblem problem;
  problem.regions = {"a"};
  LearnPrior prior;
  prior.noise_step = {0, 0, 1, 0, 0};
  for (int i = 0; i < 25; ++i) {
    LearnReport r;
    r.group = i;
    r.predicted_db.fill(10);
    r.measured_db = 10 - 4 + (i % 5 - 2);
    r.deviation_db = 5;
    r.needed_db = -100;
    problem.reports.push_back(r);
  }
  const auto found = learn(problem, prior);
  // Source: normal data with known variance and a normal prior (Gelman et al., Bayesian Data Analysis,
  // section 2.5): precision 25/25 + 1/25, mean -4 x 1 / 1.04, deviation 1 / sqrt(1.04).
  CHECK(found.erp_db.median == Approx(-4 / 1.04).margin(0.02));
  CHECK(found.erp_db.low == Approx(-4 / 1.04 - 1.6449 / std::sqrt(1.04)).margin(0.05));
  CHECK(found.net_db.median == Approx(found.erp_db.median).margin(0.5));
}
