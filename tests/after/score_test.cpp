// Scores against an independent library, a published decomposition, and arithmetic by hand.
#include "skerry/after/score.hpp"

#include <cmath>
#include <fstream>
#include <map>
#include <random>
#include <sstream>

#include "check.hpp"
#include "skerry/core/csv.hpp"
#include "skerry/core/text.hpp"

using namespace skerry;
using namespace skerry::after;

TEST_CASE("Brier score and ROC area agree with an independent library", "[after][known]") {
  // Source: scikit-learn's brier_score_loss and roc_auc_score, see tests/after/authorities/make_scores.py.
  std::ifstream file(std::string(SKERRY_SOURCE_DIR) + "/tests/after/authorities/scores.csv");
  std::stringstream text;
  text << file.rdbuf();
  const auto table = parse_csv(text.str(), "scores.csv");
  REQUIRE(table);
  std::map<std::string, std::vector<Trial>> sets;
  int checked = 0;
  for (const auto& row : table->rows) {
    const auto number = [&](std::size_t i) { return *to_number(row.cells[i]); };
    if (row.cells[0][0] != '=') {
      sets[row.cells[0]].push_back({number(1), number(2) > 0.5, number(3)});
      continue;
    }
    const auto& trials = sets.at(row.cells[0].substr(1));
    CAPTURE(row.cells[0]);
    CHECK(brier(trials).score == Approx(number(1)).epsilon(1e-9));
    CHECK(*roc_area(trials) == Approx(number(2)).epsilon(1e-9));
    ++checked;
  }
  CHECK(checked == 4);
}

TEST_CASE("Murphy's decomposition adds up, and by hand for two forecasts", "[after][known]") {
  // Source: by hand after Murphy 1973. Forecast 0.25 four times, happened once; forecast 0.75 four times,
  // happened twice. Base rate 3/8; reliability (0 + 0.0625) / 2; resolution (0.125^2 + 0.125^2) / 2.
  std::vector<Trial> trials;
  for (int i = 0; i < 4; ++i) trials.push_back({0.25, i == 0, 1});
  for (int i = 0; i < 4; ++i) trials.push_back({0.75, i < 2, 1});
  const auto b = brier(trials);
  CHECK(b.base_rate == Approx(0.375));
  CHECK(b.uncertainty == Approx(0.375 * 0.625));
  CHECK(b.reliability == Approx(0.03125));
  CHECK(b.resolution == Approx(0.015625));
  CHECK(b.within_bins == Approx(0).margin(1e-12));
  CHECK(b.score == Approx(0.03125 - 0.015625 + 0.234375));
  CHECK(*b.skill == Approx(1 - b.score / 0.234375));
  // Same cases, as weights.
  const std::vector<Trial> weighted{{0.25, true, 1}, {0.25, false, 3}, {0.75, true, 2}, {0.75, false, 2}};
  CHECK(brier(weighted).score == Approx(b.score));
  CHECK(*roc_area(weighted) == Approx(*roc_area(trials)));
  // By hand: of 15 pairs, forecasts 0.75 against 0.25 win 2 x 3, lose 1 x 2, the others tie.
  CHECK(*roc_area(trials) == Approx((6 + 0.5 * (1 * 3 + 2 * 2)) / 15));
}

TEST_CASE("forecasts of an honest coin are reliable, and the interval holds them", "[after][property]") {
  std::mt19937 random(3);
  std::uniform_real_distribution<double> uniform;
  std::vector<Trial> trials;
  for (int i = 0; i < 40000; ++i) {
    const double p = uniform(random);
    trials.push_back({p, uniform(random) < p, 1});
  }
  const auto b = brier(trials);
  // Source: by integration over uniform p: E[p(1-p)] = 1/6, uncertainty 1/4, skill 1/3; ROC area 5/6.
  CHECK(b.score == Approx(1.0 / 6).margin(0.003));
  CHECK(*b.skill == Approx(1.0 / 3).margin(0.02));
  CHECK(*roc_area(trials) == Approx(5.0 / 6).margin(0.006));
  CHECK(b.reliability < 0.0005);
  CHECK(b.reliability - b.resolution + b.uncertainty + b.within_bins == Approx(b.score).epsilon(1e-12));
  int held = 0;
  for (const auto& bin : reliability_bins(trials))
    held += bin.mean_forecast >= bin.observed_low && bin.mean_forecast <= bin.observed_high;
  CHECK(held >= 8);
}

TEST_CASE("scores of nothing, or of one outcome alone, have no skill and no ROC area", "[after][edge]") {
  CHECK(brier({}).trials == 0);
  CHECK_FALSE(brier({}).skill);
  CHECK_FALSE(roc_area({}));
  const std::vector<Trial> all_yes{{0.2, true, 1}, {1, true, 1}, {0, true, 1}};
  CHECK_FALSE(brier(all_yes).skill);
  CHECK_FALSE(roc_area(all_yes));
  CHECK(brier(all_yes).score == Approx((0.64 + 0 + 1) / 3));
  const auto bins = reliability_bins(all_yes);
  CHECK(bins.back().trials == 1);
  CHECK(bins.front().trials == 1);
}

TEST_CASE("a rate by groups scores better than one rate where groups differ", "[after][known]") {
  const std::vector<Trial> trials{{0, true, 1}, {0, true, 1}, {0, false, 1}, {0, false, 1}};
  const std::vector<int> same{0, 0, 0, 0}, apart{0, 0, 3, 3};
  CHECK(group_climatology_score(trials, same) == Approx(0.25));
  CHECK(group_climatology_score(trials, apart) == 0);
}

TEST_CASE("bias and spread of differences by hand", "[after][known]") {
  const auto s = spread_of({1, 2, 3, 10});
  CHECK(s.count == 4);
  CHECK(s.mean == 4);
  CHECK(s.median == 2.5);
  CHECK(s.rms == Approx(std::sqrt(114.0 / 4)));
  CHECK(s.deviation == Approx(std::sqrt((9 + 4 + 1 + 36) / 3.0)));
  CHECK(s.p10 == Approx(1.3));
  CHECK(s.p90 == Approx(7.9));
  CHECK(spread_of({}).count == 0);
  CHECK(spread_of({5}).deviation == 0);
}

TEST_CASE("rank correlation, by hand and with ties", "[after][known]") {
  // Source: by hand: ranks 1 2 3 4 5 against 2 1 4 3 5: 1 - 6 x 4 / (5 x 24) = 0.8; with ties Pearson's of the ranks
  // 1.5 1.5 3 and 1 2 3: 1.5 / sqrt(1.5 x 2).
  const std::vector<double> a{1, 2, 3, 4, 5};
  CHECK(*rank_correlation(a, std::vector<double>{20, 10, 40, 30, 50}) == Approx(0.8));
  CHECK(*rank_correlation(std::vector<double>{7, 7, 9}, std::vector<double>{1, 2, 3}) ==
        Approx(1.5 / std::sqrt(3.0)));
  CHECK(*rank_correlation(a, std::vector<double>{5, 4, 3, 2, 1}) == Approx(-1));
  CHECK_FALSE(rank_correlation(a, std::vector<double>(5, 0.0)));
  CHECK_FALSE(rank_correlation({}, {}));
}
