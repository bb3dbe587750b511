#include "skerry/terrain/walk.hpp"

#include <array>
#include <cmath>
#include <limits>
#include <queue>

#include "skerry/core/units.hpp"

namespace skerry::terrain {

namespace {

struct Step {
  int columns, rows;
};
/// Sides, corners and a chess knight's moves.
constexpr std::array<Step, 16> steps{{{1, 0},
                                      {1, 1},
                                      {0, 1},
                                      {-1, 1},
                                      {-1, 0},
                                      {-1, -1},
                                      {0, -1},
                                      {1, -1},
                                      {2, 1},
                                      {1, 2},
                                      {-1, 2},
                                      {-2, 1},
                                      {-2, -1},
                                      {-1, -2},
                                      {1, -2},
                                      {2, -1}}};

struct Reached {
  float minutes;
  std::size_t cell;
  bool operator>(const Reached& o) const {
    return minutes != o.minutes ? minutes > o.minutes : cell > o.cell;
  }
};

/// outward: from the start to each cell, or from each cell to the start.
void find(const Island& island, bool outward, std::vector<float>& minutes, std::vector<float>* climb_m) {
  const auto& g = island.grid;
  minutes.assign(g.cells(), std::numeric_limits<float>::infinity());
  if (climb_m != nullptr) climb_m->assign(g.cells(), 0);
  std::priority_queue<Reached, std::vector<Reached>, std::greater<>> open;
  minutes[island.start] = 0;
  open.push({0, island.start});
  const double steepest = tan_deg(geodesy::steepest_walk_deg);
  while (!open.empty()) {
    const auto [at, cell] = open.top();
    open.pop();
    if (at > minutes[cell]) continue;
    const int column = g.column(cell), row = g.row(cell);
    for (const auto& step : steps) {
      const int c = column + step.columns, r = row + step.rows;
      if (c < 0 || r < 0 || c >= g.columns || r >= g.rows) continue;
      const auto next = g.index(c, r);
      if (island.land[next] == 0) continue;
      const double m = g.step_m * std::hypot(step.columns, step.rows);
      const double rise_m =
          static_cast<double>(island.height_m[next]) - static_cast<double>(island.height_m[cell]);
      if (std::abs(rise_m) > steepest * m) continue;
      const double up_m = std::max(0.0, outward ? rise_m : -rise_m);
      const auto there = static_cast<float>(static_cast<double>(at) + m / 1000 * minutes_per_km +
                                            up_m / 100 * minutes_per_100_m_up);
      if (there >= minutes[next]) continue;
      minutes[next] = there;
      if (climb_m != nullptr) (*climb_m)[next] = (*climb_m)[cell] + static_cast<float>(up_m);
      open.push({there, next});
    }
  }
}

}  // namespace

Walks walks(const Island& island) {
  Walks out;
  find(island, true, out.out_minutes, &out.climb_m);
  find(island, false, out.back_minutes, nullptr);
  return out;
}

}  // namespace skerry::terrain
