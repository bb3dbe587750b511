#include "skerry/after/learn.hpp"

#include <Eigen/Cholesky>
#include <algorithm>
#include <cassert>
#include <cmath>
#include <map>

#include "skerry/circuit/contact.hpp"
#include "skerry/core/nth.hpp"

namespace skerry::after {

namespace {

constexpr double grid_step_db = 0.5, grid_end_db = 20;
constexpr int grid_points = 2 * static_cast<int>(grid_end_db / grid_step_db) + 1;
// Source: the normal distribution's 95 % point.
constexpr double z95 = 1.6449;

double erp_at(int i) {
  return -grid_end_db + i * grid_step_db;
}

double normal_cdf(double z) {
  return 0.5 * std::erfc(-z / std::sqrt(2.0));
}

/// log of the normal tail above z, without underflow. Source: asymptotic series of erfc beyond 8 (Abramowitz
/// and Stegun 7.1.23).
double log_tail(double z) {
  if (z < 8) return std::log(0.5 * std::erfc(z / std::sqrt(2.0)));
  return -0.5 * z * z - std::log(z * std::sqrt(2 * 3.14159265358979323846)) + std::log1p(-1 / (z * z));
}

struct RegionBlocks {
  Eigen::ArrayXXd contacts;  ///< regions x blocks
  Eigen::ArrayXXd exposure;  ///< the same, times the chance
};

/// The mode of the log rates and log factors, with Laplace's evidence and the blocks' covariance.
struct Laplace {
  double log_evidence = 0;
  Eigen::VectorXd blocks;  ///< contrasts against their mean
  Eigen::VectorXd blocks_deviation;
};

Laplace fit(const RegionBlocks& rb, double log_rate, const LearnPrior& prior) {
  const auto r = rb.contacts.rows();
  const auto k = rb.contacts.cols();
  const auto n = r + k;
  const double rate_precision = 1 / (prior.rate_deviation * prior.rate_deviation);
  const double block_precision = 1 / (prior.hours_deviation * prior.hours_deviation);
  Eigen::VectorXd x = Eigen::VectorXd::Zero(n);
  x.head(r).setConstant(log_rate);
  const auto value = [&](const Eigen::VectorXd& at) {
    double sum = 0;
    for (Eigen::Index i = 0; i < r; ++i) {
      for (Eigen::Index j = 0; j < k; ++j) {
        const double log_factor = at(i) + at(r + j);
        sum += rb.contacts(i, j) * log_factor - rb.exposure(i, j) * std::exp(log_factor);
      }
      sum -= 0.5 * rate_precision * (at(i) - log_rate) * (at(i) - log_rate);
    }
    return sum - 0.5 * block_precision * at.tail(k).squaredNorm();
  };
  Eigen::MatrixXd hessian(n, n);
  Eigen::LLT<Eigen::MatrixXd> solver;
  double here = value(x);
  // Newton's method on a concave function, with halved steps where a full one overshoots.
  for (int round = 0; round < 60; ++round) {
    Eigen::VectorXd slope = Eigen::VectorXd::Zero(n);
    hessian.setZero();
    for (Eigen::Index i = 0; i < r; ++i) {
      slope(i) -= rate_precision * (x(i) - log_rate);
      hessian(i, i) += rate_precision;
      for (Eigen::Index j = 0; j < k; ++j) {
        const double expected = rb.exposure(i, j) * std::exp(x(i) + x(r + j));
        slope(i) += rb.contacts(i, j) - expected;
        slope(r + j) += rb.contacts(i, j) - expected;
        hessian(i, i) += expected;
        hessian(r + j, r + j) += expected;
        hessian(i, r + j) += expected;
        hessian(r + j, i) += expected;
      }
    }
    for (Eigen::Index j = 0; j < k; ++j) {
      slope(r + j) -= block_precision * x(r + j);
      hessian(r + j, r + j) += block_precision;
    }
    solver.compute(hessian);
    const Eigen::VectorXd step = solver.solve(slope);
    double share = 1;
    double next = value(x + step);
    while (!(next >= here - 1e-12) && share > 1e-4) {
      share /= 2;
      next = value(x + share * step);
    }
    x += share * step;
    const bool done = std::abs(next - here) < 1e-9 * (1 + std::abs(here));
    here = next;
    if (done) break;
  }
  Laplace out;
  double log_determinant = 0;
  const Eigen::MatrixXd factor = solver.matrixL();
  for (Eigen::Index i = 0; i < n; ++i) log_determinant += 2 * std::log(factor(i, i));
  out.log_evidence = here - 0.5 * log_determinant;
  const Eigen::MatrixXd covariance = solver.solve(Eigen::MatrixXd::Identity(n, n)).bottomRightCorner(k, k);
  const Eigen::MatrixXd contrast =
      Eigen::MatrixXd::Identity(k, k) - Eigen::MatrixXd::Constant(k, k, 1.0 / static_cast<double>(k));
  out.blocks = contrast * x.tail(k);
  out.blocks_deviation = (contrast * covariance * contrast.transpose()).diagonal().array().max(0).sqrt();
  return out;
}

struct GridPoint {
  double erp_db = 0;
  std::size_t step = 0;
  double log_weight = 0, weight = 0;
  Laplace hours;
};

double log_reports(const LearnProblem& problem, const std::vector<double>& shares, double erp_db,
                   std::size_t step, double softness_db) {
  double sum = 0;
  for (std::size_t i = 0; i < problem.reports.size(); ++i) {
    const auto& report = problem.reports[i];
    const double median = report.predicted_db[step] + erp_db;
    const double z = (report.measured_db - median) / report.deviation_db;
    // The integral of a normal density times a normal distribution function is such a function again.
    const double cut = (report.needed_db - median) / std::hypot(report.deviation_db, softness_db);
    sum += shares[i] * (-0.5 * z * z - log_tail(cut));
  }
  return sum;
}

/// Each report's share of its group's one vote.
std::vector<double> group_shares(const LearnProblem& problem) {
  std::map<int, int> members;
  for (const auto& report : problem.reports) ++members[report.group];
  std::vector<double> out;
  for (const auto& report : problem.reports) out.push_back(1.0 / members[report.group]);
  return out;
}

/// Quantiles of a weighted list of values, each spread over `width` about it.
Interval interval_of(std::vector<std::pair<double, double>> values, double width) {
  std::sort(values.begin(), values.end());
  double total = 0;
  for (const auto& [value, weight] : values) total += weight;
  const auto at = [&](double share) {
    double sum = 0;
    for (const auto& [value, weight] : values) {
      const double w = weight / total;
      if (sum + w >= share) return value + width * ((w > 0 ? (share - sum) / w : 0.5) - 0.5);
      sum += w;
    }
    return values.back().first;
  };
  return {at(0.05), at(0.5), at(0.95)};
}

/// Quantiles of a mixture of normals, as factors.
Interval mixture(const std::vector<GridPoint>& grid, Eigen::Index block) {
  const auto at = [&](double share) {
    double low = -10, high = 10;
    for (int round = 0; round < 50; ++round) {
      const double middle = 0.5 * (low + high);
      double below = 0;
      for (const auto& point : grid) {
        if (point.weight < 1e-7) continue;
        below += point.weight * normal_cdf((middle - point.hours.blocks(block)) /
                                           std::max(1e-9, point.hours.blocks_deviation(block)));
      }
      (below < share ? low : high) = middle;
    }
    return std::exp(0.5 * (low + high));
  };
  return {at(0.05), at(0.5), at(0.95)};
}

}  // namespace

Findings learn(const LearnProblem& problem, const LearnPrior& prior) {
  const auto regions = static_cast<Eigen::Index>(std::max<std::size_t>(1, problem.regions.size()));
  const auto shares = group_shares(problem);
  double contacts = 0, exposure = 0, rise_weight = 0;
  BySteps rise{};  // mean of how much the noise takes from the margin
  for (const auto& c : problem.cells) {
    assert(c.region >= 0 && c.region < regions && c.block >= 0 && c.block < hour_blocks);
    contacts += c.contacts;
    exposure += c.exposure;
    rise_weight += c.exposure;
    for (std::size_t s = 0; s < noise_steps.size(); ++s)
      rise[s] += c.exposure * (c.there_margin_db[2] - c.there_margin_db[s]);
  }
  if (rise_weight > 0) {
    for (auto& r : rise) r /= rise_weight;
  }
  // Judgement: half of the exposure works, as a middle for the regions' rates; their prior is wide.
  const double log_rate = std::log((contacts + 0.5) / std::max(1e-9, 0.5 * exposure));

  std::vector<GridPoint> grid;
  RegionBlocks rb{Eigen::ArrayXXd(regions, hour_blocks), Eigen::ArrayXXd(regions, hour_blocks)};
  for (std::size_t step = 0; step < noise_steps.size(); ++step) {
    if (prior.noise_step[step] <= 0) continue;
    for (int i = 0; i < grid_points; ++i) {
      GridPoint point;
      point.erp_db = erp_at(i);
      point.step = step;
      rb.contacts.setZero();
      rb.exposure.setZero();
      double log_cells = 0;
      for (const auto& c : problem.cells) {
        const double there = circuit::reliability(c.there_margin_db[step] + point.erp_db, c.there_upper_db,
                                                  c.there_lower_db, c.spread_db);
        const double works =
            prior.unmodelled + (1 - prior.unmodelled) * circuit::both_ways(there, c.back_chance);
        rb.exposure(c.region, c.block) += c.exposure * works;
        rb.contacts(c.region, c.block) += c.contacts;
        if (c.contacts > 0) log_cells += c.contacts * std::log(works);
      }
      point.hours = fit(rb, log_rate, prior);
      const double z = point.erp_db / prior.erp_deviation_db;
      point.log_weight = -0.5 * z * z + std::log(prior.noise_step[step]) + log_cells +
                         point.hours.log_evidence +
                         log_reports(problem, shares, point.erp_db, step, prior.softness_db);
      grid.push_back(std::move(point));
    }
  }
  double best = grid.front().log_weight;
  for (const auto& point : grid) best = std::max(best, point.log_weight);
  double total = 0;
  for (auto& point : grid) total += point.weight = std::exp(point.log_weight - best);

  Findings out;
  out.contacts = static_cast<int>(contacts);
  out.reports = static_cast<int>(problem.reports.size());
  std::map<int, int> groups;
  for (const auto& report : problem.reports) groups[report.group] = 1;
  out.report_groups = static_cast<int>(groups.size());
  std::vector<std::pair<double, double>> erp(grid_points), net;
  for (int i = 0; i < grid_points; ++i) nth(erp, i) = {erp_at(i), 0};
  for (std::size_t i = 0; i < grid.size(); ++i) {
    auto& point = grid[i];
    point.weight /= total;
    erp[i % grid_points].second += point.weight;
    out.noise_probability[point.step] += point.weight;
    net.emplace_back(point.erp_db - rise[point.step], point.weight);
  }
  out.erp_db = interval_of(erp, grid_step_db);
  out.net_db = interval_of(std::move(net), 0);
  out.prior_erp_db = {-z95 * prior.erp_deviation_db, 0, z95 * prior.erp_deviation_db};
  const auto likeliest = std::max_element(out.noise_probability.begin(), out.noise_probability.end());
  out.noise_step = nth(noise_steps, likeliest - out.noise_probability.begin());
  const double prior_block = prior.hours_deviation * std::sqrt(1 - 1.0 / hour_blocks);
  for (int b = 0; b < hour_blocks; ++b) {
    nth(out.hours, b) = mixture(grid, b);
    nth(out.prior_hours, b) = {std::exp(-z95 * prior_block), 1, std::exp(z95 * prior_block)};
  }
  return out;
}

}  // namespace skerry::after
