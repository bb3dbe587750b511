#include "skerry/circuit/day_parts.hpp"

#include <algorithm>
#include <array>
#include <limits>

#include "skerry/core/nth.hpp"

namespace skerry::circuit {

namespace {

/// What stands for each hour: a frequency, or none where all are closed.
using Choice = std::array<std::optional<std::size_t>, 24>;

class Day {
 public:
  explicit Day(const WayAnswer& way) : way_(way), count_(way.hours.front().bands.size()) {}

  [[nodiscard]] double days(int hour, std::size_t f) const {
    return nth(way_.hours, (hour % 24 + 24) % 24).bands[f].days_in_ten;
  }
  [[nodiscard]] bool open(int hour, std::size_t f) const { return days(hour, f) >= least_open_days_told; }
  [[nodiscard]] std::size_t count() const { return count_; }
  [[nodiscard]] std::vector<std::optional<std::size_t>> choices(int hour) const {
    std::vector<std::optional<std::size_t>> out;
    for (std::size_t f = 0; f < count_; ++f) {
      if (open(hour, f)) out.emplace_back(f);
    }
    if (out.empty()) out.emplace_back();
    return out;
  }

  /// The best round of the day that begins with this choice at hour 0, and what it is worth.
  [[nodiscard]] std::pair<double, Choice> best_from(std::optional<std::size_t> first) const {
    struct State {
      std::optional<std::size_t> at;
      double worth = 0;
      std::size_t before = 0;
    };
    const auto worth = [&](int hour, std::optional<std::size_t> f) { return f ? days(hour, *f) : 0; };
    // To and from closed hours nobody decides anything.
    const auto step = [](std::optional<std::size_t> a, std::optional<std::size_t> b) {
      return a && b && a != b ? change_cost : 0;
    };
    std::array<std::vector<State>, 24> table;
    table[0] = {{first, worth(0, first), 0}};
    for (int h = 1; h < 24; ++h) {
      const auto& before = nth(table, h - 1);
      for (const auto& at : choices(h)) {
        State best{at, -std::numeric_limits<double>::infinity(), 0};
        for (std::size_t k = 0; k < before.size(); ++k) {
          const double sum = before[k].worth + worth(h, at) - step(before[k].at, at);
          if (sum > best.worth) best = {at, sum, k};
        }
        nth(table, h).push_back(best);
      }
    }
    std::size_t last = 0;
    double most = -std::numeric_limits<double>::infinity();
    for (std::size_t k = 0; k < table[23].size(); ++k) {
      const double sum = table[23][k].worth - step(table[23][k].at, first);
      if (sum > most) {
        most = sum;
        last = k;
      }
    }
    Choice out;
    for (int h = 23; h >= 0; --h) {
      const auto& state = nth(table, h)[last];
      nth(out, h) = state.at;
      last = state.before;
    }
    return {most, out};
  }

 private:
  const WayAnswer& way_;
  std::size_t count_;
};

DayPart part(const Day& day, std::optional<std::size_t> primary, int first, int hours) {
  DayPart out;
  out.start_h = first - 0.5;
  out.end_h = out.start_h + hours;
  out.primary = primary;
  const auto span = [&](std::size_t f, double& least, double& most) {
    least = 10;
    most = 0;
    double sum = 0;
    for (int h = first; h < first + hours; ++h) {
      least = std::min(least, day.days(h, f));
      most = std::max(most, day.days(h, f));
      sum += day.days(h, f);
    }
    return sum;
  };
  if (!primary) return out;
  span(*primary, out.primary_least, out.primary_most);
  double best = 0;
  for (std::size_t f = 0; f < day.count(); ++f) {
    double least = 0, most = 0;
    const double sum = span(f, least, most);
    if (f == *primary || most < least_open_days_told || sum <= best) continue;
    best = sum;
    out.fallback = f;
    out.fallback_least = least;
    out.fallback_most = most;
  }
  return out;
}

}  // namespace

std::vector<DayPart> day_parts(const WayAnswer& way) {
  const Day day(way);
  double most = -std::numeric_limits<double>::infinity();
  Choice chosen;
  for (const auto& first : day.choices(0)) {
    const auto [worth, choice] = day.best_from(first);
    if (worth <= most) continue;
    most = worth;
    chosen = choice;
  }
  // The first hour that differs from the one before it; none means one part.
  int start = 0;
  while (start < 24 && nth(chosen, start) == nth(chosen, (start + 23) % 24)) ++start;
  if (start == 24) return {part(day, chosen[0], 0, 24)};
  std::vector<DayPart> out;
  for (int h = start; h < start + 24;) {
    int hours = 1;
    while (h + hours < start + 24 && nth(chosen, (h + hours) % 24) == nth(chosen, h % 24)) ++hours;
    out.push_back(part(day, nth(chosen, h % 24), h % 24, hours));
    h += hours;
  }
  std::sort(out.begin(), out.end(), [](const DayPart& a, const DayPart& b) { return a.start_h < b.start_h; });
  return out;
}

}  // namespace skerry::circuit
