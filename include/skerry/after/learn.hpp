// What a log says about three assumptions: own radiated power, noise at the far ends, hours of partners.
// Room: after. Sees circuit; numbers in, intervals out.
#pragma once

#include <array>
#include <cstdint>
#include <string>
#include <vector>

namespace skerry::after {

/// Classes by which the far ends may be noisier than told.
inline constexpr std::array<int, 5> noise_steps{-2, -1, 0, 1, 2};
using BySteps = std::array<double, noise_steps.size()>;
/// Blocks of four hours of the far end's local day.
inline constexpr int hour_blocks = 6;

/// People of one region that could have answered during one stretch on one band.
struct LearnCell {
  int region = 0;
  int block = 0;  ///< of their local hour
  /// Minutes on the band x their share of the region x the table's chance that they listen.
  double exposure = 0;
  int contacts = 0;
  BySteps there_margin_db{};  ///< median margin of the own signal at their end, by how much noisier they are
  double there_upper_db = 1, there_lower_db = 1;
  double spread_db = 0;    ///< of what is not known of the partner
  double back_chance = 1;  ///< of their signal here, 0..1
};
/// A report in dB that somebody there gave.
struct LearnReport {
  int group = 0;  ///< reports of one day, band and region share one sky and count together as one
  double measured_db = 0;
  BySteps predicted_db{};
  double deviation_db = 8;  ///< of one report about its median, station to station and day to day
  double needed_db = -16;   ///< below about this no contact comes about, so that nobody reports it
};
struct LearnProblem {
  std::vector<std::string> regions;
  std::vector<LearnCell> cells;
  std::vector<LearnReport> reports;
  /// Hours on the air by the local hour of those that could answer, each times the share of what is wanted that
  /// the band then carried.
  std::array<double, 24> open_weekday{}, open_weekend{};
};

/// What was believed before. All judgement: +-5 dB is what a portable antenna, its feed and the ground under
/// it leave open; noise surveys differ by about one class; the table of hours is no statistic.
struct LearnPrior {
  double erp_deviation_db = 5;
  BySteps noise_step{0.05, 0.2, 0.5, 0.2, 0.05};
  double hours_deviation = 0.7;  ///< of the natural logarithm of a block's factor
  double rate_deviation = 2;     ///< of the logarithm of a region's rate about that of all
  /// Chance of a contact that nothing in the model opens (sporadic E and the like), so that one contact
  /// cannot refute all.
  double unmodelled = 0.002;
  /// How softly contacts fail about LearnReport::needed_db: half of the way from what is just copied to what
  /// is planned with.
  double softness_db = 3;
};

/// 90 % of the probability lies between low and high, 5 % on either side.
struct Interval {
  double low = 0, median = 0, high = 0;
};
struct Findings {
  int contacts = 0, reports = 0, report_groups = 0;
  Interval erp_db;  ///< own radiated power against what was computed
  Interval prior_erp_db;
  BySteps noise_probability{};  ///< of each of noise_steps
  int noise_step = 0;           ///< the most probable
  /// Own power less the rise of the noise there: what signals alone tell. The split between the two rests on
  /// the priors and on bands where man-made noise does not rule.
  Interval net_db;
  /// Factor on the table of hours, by block, against the mean of the blocks.
  std::array<Interval, hour_blocks> hours{};
  std::array<Interval, hour_blocks> prior_hours{};
};

/// Posterior by grid over own power (0.5 dB steps, -20 to 20) and noise, with Laplace's approximation for the
/// rates of regions and the factors of hours at each grid point.
///   contacts  a Poisson process thinned three times: rate = region's rate x block's factor x exposure x
///             chance that the path works both ways (circuit::reliability; the worse direction)
///   reports   normal about the predicted median, thinned by the chance that so weak a signal makes a contact
///             (a normal curve about the needed level), so that what was too weak to be reported is allowed
///             for
///   source    Gelman et al., Bayesian Data Analysis, 3rd ed., chapters 2, 3 and 13; Tierney and Kadane, J.
///             Am. Stat. Assoc. 81, 82-86, 1986 (Laplace); Kingman, Poisson Processes, 1993 (thinning)
///   limits    no constant error of the method, and no error in the partners' power or gain, can be told from
///             the own radiated power: erp_db mends the sum of them
///   accuracy  tests/advice/learn_test.cpp: 90 % intervals hold the truth in 85 to 95 % of simulated logs
[[nodiscard]] Findings learn(const LearnProblem& problem, const LearnPrior& prior = {});

}  // namespace skerry::after
