#include "skerry/terrain/island.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "skerry/core/units.hpp"

namespace skerry::terrain {

namespace {

constexpr double m_per_deg = 1000 * earth_radius_km * rad_per_deg;

/// Cells of the grid that are joined to one by land, by their sides.
void spread(Island& island, std::size_t from) {
  const auto& g = island.grid;
  std::vector<std::size_t> open{from};
  island.land.assign(g.cells(), 0);
  island.land[from] = 1;
  island.whole = true;
  while (!open.empty()) {
    const auto cell = open.back();
    open.pop_back();
    ++island.land_cells;
    const int column = g.column(cell), row = g.row(cell);
    constexpr std::array<std::array<int, 2>, 4> sides{{{1, 0}, {-1, 0}, {0, 1}, {0, -1}}};
    for (const auto& side : sides) {
      const int c = column + side[0], r = row + side[1];
      if (c < 0 || r < 0 || c >= g.columns || r >= g.rows) {
        island.whole = false;
        continue;
      }
      const auto next = g.index(c, r);
      if (island.land[next] != 0 || static_cast<double>(island.height_m[next]) < lowest_land_m) continue;
      island.land[next] = 1;
      open.push_back(next);
    }
  }
}

}  // namespace

GeoPoint Grid::at(std::size_t cell) const {
  return GeoPoint::at_deg(middle.lat_deg + north_m(cell) / m_per_deg,
                          middle.lon_deg + east_m(cell) / m_per_deg / cos_deg(middle.lat_deg));
}

double Grid::apart_m(std::size_t a, std::size_t b) const {
  return std::hypot(east_m(a) - east_m(b), north_m(a) - north_m(b));
}

std::optional<std::size_t> Grid::cell_at(GeoPoint at) const {
  const double turns = std::remainder(at.lon_deg - middle.lon_deg, 360.0);
  const double c = std::round(turns * m_per_deg * cos_deg(middle.lat_deg) / step_m) + columns / 2;
  const double r = rows / 2 - std::round((at.lat_deg - middle.lat_deg) * m_per_deg / step_m);
  if (!(c >= 0 && r >= 0 && c < columns && r < rows)) return std::nullopt;
  return index(static_cast<int>(c), static_cast<int>(r));
}

Result<Island> island_about(const Terrain& ground, GeoPoint start, double within_km) {
  Island out;
  auto& g = out.grid;
  g.middle = start;
  g.step_m = std::max({finest_step_m, ground.cell_m(), 2000 * within_km / (most_cells_a_side - 1)});
  g.columns = g.rows = 2 * static_cast<int>(1000 * within_km / g.step_m) + 1;
  out.height_m.resize(g.cells());
  for (std::size_t i = 0; i < g.cells(); ++i) out.height_m[i] = static_cast<float>(ground.height_m(g.at(i)));
  auto best = start_slack_m;
  std::optional<std::size_t> from;
  for (std::size_t i = 0; i < g.cells(); ++i) {
    const double away_m = std::hypot(g.east_m(i), g.north_m(i));
    if (static_cast<double>(out.height_m[i]) < lowest_land_m || away_m > best || (from && away_m == best))
      continue;
    best = away_m;
    from = i;
  }
  if (!from)
    return fail({"start"}, fmt::format("no land within {:g} m of the start", start_slack_m),
                "a start on the ground that the elevation files have");
  out.start = *from;
  spread(out, *from);
  return out;
}

}  // namespace skerry::terrain
