#include "skerry/terrain/spots.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "skerry/core/units.hpp"

namespace skerry::terrain {

namespace {

using geodesy::cliff_within_m;
using geodesy::Spot;
using Kind = Spot::Kind;

class Finder {
 public:
  Finder(const Island& island, const Walks& walks, const Wanted& wanted)
      : island_(island), walks_(walks), wanted_(wanted), grid_(island.grid) {}

  void add(Kind kind, GeoPoint at, std::string name = {}) {
    Spot spot;
    spot.kind = kind;
    spot.name = std::move(name);
    spot.at = at;
    if (const auto cell = grid_.cell_at(at)) {
      taken_.insert(*cell);
      fill(spot, *cell);
    }
    out_.push_back(std::move(spot));
  }

  void add_summits() {
    std::vector<std::size_t> tops;
    each_near([&](std::size_t cell) {
      if (height(cell) >= least_summit_m) tops.push_back(cell);
    });
    std::sort(tops.begin(), tops.end(), [&](std::size_t a, std::size_t b) {
      return height(a) != height(b) ? height(a) > height(b) : a < b;
    });
    std::vector<std::size_t> kept;
    for (const auto cell : tops) {
      if (static_cast<int>(kept.size()) >= wanted_.summits) break;
      if (!is_top(cell) || near_one_of(kept, cell, summit_apart_m)) continue;
      kept.push_back(cell);
    }
    for (const auto cell : kept) add_cell(Kind::summit, cell);
  }

  /// In each sector the shore that is reached soonest.
  void add_shores() {
    const auto middle = middle_of_land();
    std::vector<std::optional<std::size_t>> soonest(static_cast<std::size_t>(wanted_.shores));
    const double sector_deg = 360.0 / wanted_.shores;
    each_near([&](std::size_t cell) {
      if (!by_the_sea(cell)) return;
      const double bearing = out_from(middle, cell);
      auto& best =
          soonest[static_cast<std::size_t>(wrap_360(bearing + sector_deg / 2) / sector_deg) % soonest.size()];
      if (!best || walks_.out_minutes[cell] < walks_.out_minutes[*best]) best = cell;
    });
    for (const auto& cell : soonest) {
      if (!cell || !add_cell(Kind::shore, *cell)) continue;
      out_.back().faces_deg = out_from(middle, *cell);
    }
  }

  /// The closest net of squares that has no more than so many knots within the walk.
  void add_net() {
    if (wanted_.net <= 0) return;
    int near = 0;
    each_near([&](std::size_t) { ++near; });
    // So many squares hold all cells; a shore that is not straight may let more knots in than squares.
    const int least = std::max(1, static_cast<int>(std::sqrt(static_cast<double>(near) / wanted_.net)));
    for (int apart = least; apart < grid_.columns; ++apart) {
      std::vector<std::size_t> knots;
      each_near([&](std::size_t cell) {
        if ((grid_.column(cell) - grid_.columns / 2) % apart == 0 &&
            (grid_.row(cell) - grid_.rows / 2) % apart == 0)
          knots.push_back(cell);
      });
      if (static_cast<int>(knots.size()) > wanted_.net) continue;
      // Judgement: so near to a place that is there already a knot tells nothing new.
      const std::vector<std::size_t> there(taken_.begin(), taken_.end());
      for (const auto cell : knots) {
        if (!near_one_of(there, cell, apart * grid_.step_m / 3)) add_cell(Kind::between, cell);
      }
      return;
    }
  }

  std::vector<Spot> take() { return std::move(out_); }

 private:
  struct Middle {
    double east_m = 0, north_m = 0;
  };

  [[nodiscard]] double height(std::size_t cell) const { return static_cast<double>(island_.height_m[cell]); }

  /// Land of this island within the walk.
  template <class Do>
  void each_near(const Do& what) const {
    for (std::size_t cell = 0; cell < grid_.cells(); ++cell) {
      if (island_.land[cell] != 0 && static_cast<double>(walks_.out_minutes[cell]) <= wanted_.walk_minutes)
        what(cell);
    }
  }

  template <class Do>
  void each_about(std::size_t cell, double within_m, const Do& what) const {
    const int reach = std::max(1, static_cast<int>(within_m / grid_.step_m));
    for (int r = std::max(0, grid_.row(cell) - reach); r <= std::min(grid_.rows - 1, grid_.row(cell) + reach);
         ++r) {
      for (int c = std::max(0, grid_.column(cell) - reach);
           c <= std::min(grid_.columns - 1, grid_.column(cell) + reach); ++c) {
        const auto other = grid_.index(c, r);
        const double m = grid_.apart_m(other, cell);
        if (other != cell && m <= std::max(within_m, 1.5 * grid_.step_m)) what(other, m);
      }
    }
  }

  [[nodiscard]] bool is_top(std::size_t cell) const {
    bool top = true;
    each_about(cell, summit_apart_m,
               [&](std::size_t other, double) { top = top && height(other) <= height(cell); });
    return top;
  }

  [[nodiscard]] bool near_one_of(const std::vector<std::size_t>& cells, std::size_t cell,
                                 double within_m) const {
    return std::any_of(cells.begin(), cells.end(),
                       [&](std::size_t other) { return grid_.apart_m(other, cell) < within_m; });
  }

  [[nodiscard]] bool by_the_sea(std::size_t cell) const {
    bool sea = false;
    each_about(cell, grid_.step_m,
               [&](std::size_t other, double) { sea = sea || height(other) < lowest_land_m; });
    return sea;
  }

  [[nodiscard]] Middle middle_of_land() const {
    Middle sum;
    for (std::size_t cell = 0; cell < grid_.cells(); ++cell) {
      if (island_.land[cell] == 0) continue;
      sum.east_m += grid_.east_m(cell);
      sum.north_m += grid_.north_m(cell);
    }
    const auto count = static_cast<double>(island_.land_cells);
    return {sum.east_m / count, sum.north_m / count};
  }

  [[nodiscard]] double out_from(const Middle& middle, std::size_t cell) const {
    return wrap_360(deg_per_rad *
                    std::atan2(grid_.east_m(cell) - middle.east_m, grid_.north_m(cell) - middle.north_m));
  }

  bool add_cell(Kind kind, std::size_t cell) {
    if (!taken_.insert(cell).second) return false;
    Spot spot;
    spot.kind = kind;
    spot.at = grid_.at(cell);
    fill(spot, cell);
    out_.push_back(std::move(spot));
    return true;
  }

  void fill(Spot& spot, std::size_t cell) const {
    spot.height_m = std::max(0.0, height(cell));
    if (std::isfinite(walks_.out_minutes[cell]) && std::isfinite(walks_.back_minutes[cell])) {
      spot.out_minutes = static_cast<double>(walks_.out_minutes[cell]);
      spot.back_minutes = static_cast<double>(walks_.back_minutes[cell]);
      spot.climb_m = static_cast<double>(walks_.climb_m[cell]);
    }
    each_about(cell, cliff_within_m, [&](std::size_t other, double m) {
      const double fall_m = height(cell) - std::max(0.0, height(other));
      spot.steepest_deg = std::max(spot.steepest_deg, deg_per_rad * std::atan2(std::abs(fall_m), m));
    });
  }

  const Island& island_;
  const Walks& walks_;
  const Wanted& wanted_;
  const Grid& grid_;
  std::set<std::size_t> taken_;
  std::vector<Spot> out_;
};

}  // namespace

std::vector<Spot> spots_on(const Island& island, const Walks& walks, GeoPoint planned, const Wanted& wanted) {
  Finder finder(island, walks, wanted);
  finder.add(Kind::planned, planned);
  for (const auto& one : wanted.listed) finder.add(Kind::listed, one.at, one.name);
  finder.add_summits();
  finder.add_shores();
  finder.add_net();
  return finder.take();
}

}  // namespace skerry::terrain
