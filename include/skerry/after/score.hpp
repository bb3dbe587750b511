// How good were forecasts of yes and no, and of levels: the usual scores of weather services.
// Room: after. Sees nothing of the radio: numbers in, scores out.
#pragma once

#include <optional>
#include <span>
#include <vector>

namespace skerry::after {

/// One forecast and what happened.
struct Trial {
  double forecast = 0;  ///< probability, 0..1 (asserted)
  bool happened = false;
  double weight = 1;  ///< how many like it this one stands for, > 0
};

/// Brier score and its parts. Source: Brier, Monthly Weather Review 78, 1-3, 1950; decomposition: Murphy,
/// Journal of Applied Meteorology 12, 595-600, 1973. Forecasts are gathered in ten bins (Bin); where they
/// differ inside a bin the three parts do not add up to the score, and `within_bins` is what is left over
/// (Stephenson, Coelho and Jolliffe, Weather and Forecasting 23, 752-757, 2008): score = reliability -
/// resolution + uncertainty + within_bins.
struct Brier {
  double trials = 0;  ///< sum of the weights
  double base_rate = 0, mean_forecast = 0;
  double score = 0;
  double reliability = 0, resolution = 0, uncertainty = 0, within_bins = 0;
  /// 1 - score / uncertainty: against always forecasting the base rate of this very sample, which no
  /// forecaster knew. None where everything or nothing happened.
  std::optional<double> skill;
};
[[nodiscard]] Brier brier(std::span<const Trial> trials);

/// One bar of a reliability diagram: forecasts from `low` to below `high` (the last: to 1).
struct Bin {
  double low = 0, high = 1;
  double trials = 0, mean_forecast = 0, observed = 0;
  /// 90 % interval of `observed` as if trials were independent, which hours of one day are not: too narrow.
  /// Source: Wilson, Journal of the American Statistical Association 22, 209-212, 1927.
  double observed_low = 0, observed_high = 1;
};
[[nodiscard]] std::vector<Bin> reliability_bins(std::span<const Trial> trials);

/// Area under the ROC curve: the chance that a case that happened had a higher forecast than one that did
/// not, ties counting half. 0.5: no better than a coin. None where everything or nothing happened. Source:
/// Hanley and McNeil, Radiology 143, 29-36, 1982.
[[nodiscard]] std::optional<double> roc_area(std::span<const Trial> trials);

/// Spearman's rank correlation, ties sharing their middle rank; -1..1. Both as long; none where either has only one
/// value, or there are fewer than two. Source: Spearman, American Journal of Psychology 15, 72-101, 1904; the form
/// with ties is Pearson's correlation of the ranks.
[[nodiscard]] std::optional<double> rank_correlation(std::span<const double> a, std::span<const double> b);

/// Brier score of always forecasting the rate of a trial's own group (same sample). `groups` as long as
/// `trials`, small numbers from 0 on.
[[nodiscard]] double group_climatology_score(std::span<const Trial> trials, std::span<const int> groups);

/// Differences, observed less forecast or as the caller says.
struct Spread {
  std::size_t count = 0;
  double mean = 0, median = 0, deviation = 0;  ///< standard deviation about the mean, n - 1; 0 for one alone
  double rms = 0;                              ///< about nought
  double p10 = 0, p90 = 0;                     ///< linear between order statistics
};
[[nodiscard]] Spread spread_of(std::vector<double> differences);

}  // namespace skerry::after
