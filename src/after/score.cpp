#include "skerry/after/score.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <numeric>

namespace skerry::after {

namespace {

constexpr std::size_t bins = 10;

std::size_t bin_of(double forecast) {
  assert(forecast >= 0 && forecast <= 1);
  return std::min(bins - 1, static_cast<std::size_t>(forecast * bins));
}

double quantile(const std::vector<double>& sorted, double share) {
  const double at = share * static_cast<double>(sorted.size() - 1);
  const auto low = static_cast<std::size_t>(at);
  const auto high = std::min(low + 1, sorted.size() - 1);
  return sorted[low] + (at - static_cast<double>(low)) * (sorted[high] - sorted[low]);
}

/// Ranks from 1, ties sharing their middle.
std::vector<double> ranks(std::span<const double> values) {
  std::vector<std::size_t> order(values.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return values[a] < values[b]; });
  std::vector<double> out(values.size());
  for (std::size_t i = 0; i < order.size();) {
    std::size_t j = i;
    while (j < order.size() && values[order[j]] == values[order[i]]) ++j;
    for (std::size_t k = i; k < j; ++k) out[order[k]] = 0.5 * static_cast<double>(i + 1 + j);
    i = j;
  }
  return out;
}

}  // namespace

std::vector<Bin> reliability_bins(std::span<const Trial> trials) {
  std::vector<Bin> out(bins);
  for (std::size_t b = 0; b < bins; ++b) {
    out[b].low = static_cast<double>(b) / bins;
    out[b].high = static_cast<double>(b + 1) / bins;
  }
  for (const auto& t : trials) {
    auto& bin = out[bin_of(t.forecast)];
    bin.trials += t.weight;
    bin.mean_forecast += t.weight * t.forecast;
    bin.observed += t.happened ? t.weight : 0;
  }
  // Source: the normal distribution's 95 % point.
  constexpr double z = 1.6449;
  for (auto& bin : out) {
    if (bin.trials <= 0) continue;
    bin.mean_forecast /= bin.trials;
    bin.observed /= bin.trials;
    const double n = bin.trials, p = bin.observed;
    const double middle = (p + z * z / (2 * n)) / (1 + z * z / n);
    const double half = z / (1 + z * z / n) * std::sqrt(p * (1 - p) / n + z * z / (4 * n * n));
    bin.observed_low = std::max(0.0, middle - half);
    bin.observed_high = std::min(1.0, middle + half);
  }
  return out;
}

Brier brier(std::span<const Trial> trials) {
  Brier out;
  double happened = 0;
  for (const auto& t : trials) {
    out.trials += t.weight;
    happened += t.happened ? t.weight : 0;
    out.mean_forecast += t.weight * t.forecast;
    const double miss = t.forecast - (t.happened ? 1 : 0);
    out.score += t.weight * miss * miss;
  }
  if (out.trials <= 0) return out;
  out.score /= out.trials;
  out.mean_forecast /= out.trials;
  out.base_rate = happened / out.trials;
  out.uncertainty = out.base_rate * (1 - out.base_rate);
  for (const auto& bin : reliability_bins(trials)) {
    if (bin.trials <= 0) continue;
    const double share = bin.trials / out.trials;
    out.reliability += share * (bin.mean_forecast - bin.observed) * (bin.mean_forecast - bin.observed);
    out.resolution += share * (bin.observed - out.base_rate) * (bin.observed - out.base_rate);
  }
  out.within_bins = out.score - (out.reliability - out.resolution + out.uncertainty);
  if (out.uncertainty > 0) out.skill = 1 - out.score / out.uncertainty;
  return out;
}

std::optional<double> roc_area(std::span<const Trial> trials) {
  std::vector<const Trial*> sorted;
  sorted.reserve(trials.size());
  for (const auto& t : trials) sorted.push_back(&t);
  std::sort(sorted.begin(), sorted.end(),
            [](const Trial* a, const Trial* b) { return a->forecast < b->forecast; });
  double below = 0;  // weight of cases that did not happen, with a lower forecast
  double yes = 0, no = 0, won = 0;
  for (std::size_t i = 0; i < sorted.size();) {
    double tied_yes = 0, tied_no = 0;
    std::size_t j = i;
    for (; j < sorted.size() && sorted[j]->forecast == sorted[i]->forecast; ++j)
      (sorted[j]->happened ? tied_yes : tied_no) += sorted[j]->weight;
    won += tied_yes * (below + 0.5 * tied_no);
    below += tied_no;
    yes += tied_yes;
    no += tied_no;
    i = j;
  }
  if (yes <= 0 || no <= 0) return std::nullopt;
  return won / (yes * no);
}

std::optional<double> rank_correlation(std::span<const double> a, std::span<const double> b) {
  assert(a.size() == b.size());
  const auto ra = ranks(a);
  const auto rb = ranks(b);
  const double middle = 0.5 * (static_cast<double>(a.size()) + 1);
  double aa = 0, bb = 0, ab = 0;
  for (std::size_t i = 0; i < ra.size(); ++i) {
    aa += (ra[i] - middle) * (ra[i] - middle);
    bb += (rb[i] - middle) * (rb[i] - middle);
    ab += (ra[i] - middle) * (rb[i] - middle);
  }
  if (aa <= 0 || bb <= 0) return std::nullopt;
  return ab / std::sqrt(aa * bb);
}

double group_climatology_score(std::span<const Trial> trials, std::span<const int> groups) {
  assert(trials.size() == groups.size());
  struct Sum {
    double trials = 0, happened = 0;
  };
  std::vector<Sum> sums;
  double total = 0;
  for (std::size_t i = 0; i < trials.size(); ++i) {
    const auto g = static_cast<std::size_t>(groups[i]);
    if (g >= sums.size()) sums.resize(g + 1);
    sums[g].trials += trials[i].weight;
    sums[g].happened += trials[i].happened ? trials[i].weight : 0;
    total += trials[i].weight;
  }
  double score = 0;
  for (const auto& s : sums) {
    if (s.trials > 0) score += s.happened * (1 - s.happened / s.trials);
  }
  return total > 0 ? score / total : 0;
}

Spread spread_of(std::vector<double> d) {
  Spread out;
  out.count = d.size();
  if (d.empty()) return out;
  const auto n = static_cast<double>(d.size());
  for (const double x : d) {
    out.mean += x / n;
    out.rms += x * x / n;
  }
  out.rms = std::sqrt(out.rms);
  double about = 0;
  for (const double x : d) about += (x - out.mean) * (x - out.mean);
  if (d.size() > 1) out.deviation = std::sqrt(about / (n - 1));
  std::sort(d.begin(), d.end());
  out.median = quantile(d, 0.5);
  out.p10 = quantile(d, 0.1);
  out.p90 = quantile(d, 0.9);
  return out;
}

}  // namespace skerry::after
