#include "skerry/geodesy/land.hpp"

#include <algorithm>
#include <array>
#include <atomic>
#include <boost/geometry.hpp>
#include <boost/geometry/geometries/box.hpp>
#include <boost/geometry/geometries/point_xy.hpp>
#include <boost/geometry/geometries/polygon.hpp>
#include <boost/geometry/index/rtree.hpp>
#include <cmath>
#include <cstdint>

#include "bytes.hpp"
#include "skerry/core/embedded.hpp"
#include "skerry/core/nth.hpp"

namespace skerry::geodesy {

namespace {

namespace bg = boost::geometry;

using Point = bg::model::d2::point_xy<double>;
using Box = bg::model::box<Point>;
using Polygon = bg::model::polygon<Point, true, false>;  // winding does not matter to covered_by
using Entry = std::pair<Box, std::uint32_t>;
using Tree = bg::index::rtree<Entry, bg::index::rstar<8>>;

constexpr double per_step = 0.001;  // thousandths of a degree; Source: data/land/import.py

enum class Tile : std::uint8_t { sea, land, mixed };

struct Map {
  int tile_deg = 1;
  int columns = 0;
  int rows = 0;
  std::vector<Tile> tiles;
  std::vector<Polygon> pieces;
  Tree tree;
};

struct Walker {
  std::int32_t lon = 0;
  std::int32_t lat = 0;
};

Map read_map() {
  Map map;
  Bytes bytes(embedded("land/land_tiles.bin"), "SKLT");
  map.tile_deg = static_cast<int>(bytes.count());
  map.columns = 360 / map.tile_deg;
  map.rows = 180 / map.tile_deg;
  map.tiles.reserve(static_cast<std::size_t>(map.columns * map.rows));
  std::vector<Entry> entries;
  for (int row = 0; row < map.rows; ++row) {
    for (int column = 0; column < map.columns; ++column) {
      const auto kind = static_cast<Tile>(bytes.count());
      map.tiles.push_back(kind);
      if (kind != Tile::mixed) continue;
      Walker at{(column * map.tile_deg - 180) * 1000, (row * map.tile_deg - 90) * 1000};
      const std::uint32_t polygons = bytes.count();
      for (std::uint32_t p = 0; p < polygons; ++p) {
        Polygon polygon;
        const std::uint32_t rings = bytes.count();
        polygon.inners().resize(rings - 1);
        for (std::uint32_t r = 0; r < rings; ++r) {
          auto& ring = r == 0 ? polygon.outer() : polygon.inners()[r - 1];
          const std::uint32_t points = bytes.count();
          ring.reserve(points);
          for (std::uint32_t i = 0; i < points; ++i) {
            at.lon += bytes.difference();
            at.lat += bytes.difference();
            ring.emplace_back(at.lon * per_step, at.lat * per_step);
          }
        }
        entries.emplace_back(bg::return_envelope<Box>(polygon),
                             static_cast<std::uint32_t>(map.pieces.size()));
        map.pieces.push_back(std::move(polygon));
      }
    }
  }
  map.tree = Tree(entries);  // the range constructor packs
  return map;
}

const Map& map() {
  static const Map built = read_map();
  return built;
}

}  // namespace

bool is_land(GeoPoint where) {
  const Map& m = map();
  const int column =
      std::clamp(static_cast<int>(std::floor((where.lon_deg + 180) / m.tile_deg)), 0, m.columns - 1);
  const int row = std::clamp(static_cast<int>(std::floor((where.lat_deg + 90) / m.tile_deg)), 0, m.rows - 1);
  const Tile tile = nth(m.tiles, row * m.columns + column);
  if (tile != Tile::mixed) return tile == Tile::land;
  const Point point(where.lon_deg, where.lat_deg);
  const auto holds = [&](const Entry& entry) { return bg::covered_by(point, m.pieces[entry.second]); };
  return m.tree.qbegin(bg::index::intersects(point) && bg::index::satisfies(holds)) != m.tree.qend();
}

double land_about(GeoPoint where) {
  constexpr double step_deg = 0.5;
  constexpr int columns = 720, rows = 361;
  // What was asked before: 0 not yet, 1 sea, 2 land. Who writes twice writes the same.
  static std::array<std::atomic<std::uint8_t>, static_cast<std::size_t>(columns) * rows> known{};
  const auto corner = [&](int row, int column) {
    auto& cell = nth(known, row * columns + column % columns);
    auto value = cell.load(std::memory_order_relaxed);
    if (value == 0) {
      const GeoPoint at{row * step_deg - 90, (column % columns) * step_deg - 180};
      value = is_land(at) ? 2 : 1;
      cell.store(value, std::memory_order_relaxed);
    }
    return value == 2 ? 1.0 : 0.0;
  };
  const double x = std::clamp((where.lon_deg + 180) / step_deg, 0.0, static_cast<double>(columns));
  const double y = std::clamp((where.lat_deg + 90) / step_deg, 0.0, rows - 1.0);
  const int column = std::min(static_cast<int>(x), columns - 1);
  const int row = std::min(static_cast<int>(y), rows - 2);
  const auto along = [&](int r) { return std::lerp(corner(r, column), corner(r, column + 1), x - column); };
  return std::lerp(along(row), along(row + 1), y - row);
}

std::vector<std::vector<GeoPoint>> coastline() {
  Bytes bytes(embedded("land/coast_110m.bin"), "SKCO");
  std::vector<std::vector<GeoPoint>> out(bytes.count());
  Walker at;
  for (auto& ring : out) {
    const std::uint32_t points = bytes.count();
    ring.reserve(points + 1);
    for (std::uint32_t i = 0; i < points; ++i) {
      at.lon += bytes.difference();
      at.lat += bytes.difference();
      ring.push_back({at.lat * per_step, at.lon * per_step});
    }
    ring.push_back(ring.front());
  }
  return out;
}

}  // namespace skerry::geodesy
