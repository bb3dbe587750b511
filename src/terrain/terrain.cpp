#include "skerry/terrain/terrain.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "skerry/core/units.hpp"

namespace skerry::terrain {

namespace {

/// Judgement: cells to a block's side, about 1 km at 1 arc-second.
constexpr std::size_t block = 32;
/// Source: WGS84, a degree of the meridian in the mean.
constexpr double m_per_degree = 111132.95;

/// Steps of two grids agree within this share of one: the same lattice.
constexpr double same = 1e-4;

bool is_whole(double x) {
  return std::abs(x - std::round(x)) < same;
}

/// Height of a tile between its own, NaN next to a void and outside.
float between(const Tile& t, double row, double column) {
  const auto nothing = std::numeric_limits<float>::quiet_NaN();
  // A pixel may stand for an area: half a step beyond the outermost height is still the tile's.
  if (row < -0.5 - same || column < -0.5 - same || row > t.rows - 0.5 + same ||
      column > t.columns - 0.5 + same)
    return nothing;
  row = std::clamp(row, 0.0, static_cast<double>(t.rows - 1));
  column = std::clamp(column, 0.0, static_cast<double>(t.columns - 1));
  const int r = std::min(static_cast<int>(row), std::max(0, t.rows - 2));
  const int c = std::min(static_cast<int>(column), std::max(0, t.columns - 2));
  const double y = row - r, x = column - c;
  double sum = 0;
  for (const int down : {0, 1}) {
    for (const int right : {0, 1}) {
      const double weight = (down == 1 ? y : 1 - y) * (right == 1 ? x : 1 - x);
      if (weight < same) continue;
      const auto at = static_cast<std::size_t>(r + down) * static_cast<std::size_t>(t.columns) +
                      static_cast<std::size_t>(c + right);
      sum += weight * static_cast<double>(t.height_m[at]);
    }
  }
  return static_cast<float>(sum);
}

/// A grid that is being put together. What no tile has stays at `never`, what only voids have at NaN.
struct Mosaic {
  static constexpr float never = -std::numeric_limits<float>::infinity();
  double north_deg = 0, west_deg = 0, lat_step_deg = 0, lon_step_deg = 0;
  long rows = 0, columns = 0;
  std::vector<float> height_m;

  void lay(const Tile& t) {
    const double row_of_top =
        (t.north_deg - north_deg) / lat_step_deg;  // of the tile's first row, to be negated
    const double row0 = -row_of_top, column0 = (t.west_deg - west_deg) / lon_step_deg;
    const double row_scale = t.lat_step_deg / lat_step_deg, column_scale = t.lon_step_deg / lon_step_deg;
    const auto first = [](double x, long most) {
      return std::clamp(static_cast<long>(std::ceil(x)), 0L, most);
    };
    const long top = first(row0 - 0.5 * row_scale - same, rows);
    const long low = first(row0 + (t.rows - 0.5) * row_scale + same, rows);
    const long left = first(column0 - 0.5 * column_scale - same, columns);
    const long right = first(column0 + (t.columns - 0.5) * column_scale + same, columns);
    const bool aligned = std::abs(row_scale - 1) * t.rows < same &&
                         std::abs(column_scale - 1) * t.columns < same && is_whole(row0) && is_whole(column0);
    for (long r = top; r < low; ++r) {
      float* to = &height_m[static_cast<std::size_t>(r * columns)];
      const double row = (static_cast<double>(r) - row0) / row_scale;
      const auto* from =
          aligned && row > -0.4 && row < t.rows - 0.6
              ? &t.height_m[static_cast<std::size_t>(std::lround(row)) * static_cast<std::size_t>(t.columns)]
              : nullptr;
      for (long c = left; c < right; ++c) {
        const double column = (static_cast<double>(c) - column0) / column_scale;
        const bool on = from != nullptr && column > -0.4 && column < t.columns - 0.6;
        const float h = on ? from[std::lround(column)] : between(t, row, column);
        // A void does not hide what a coarser tile knows.
        if (!std::isnan(h) || to[c] == never) to[c] = h;
      }
    }
  }
};

}  // namespace

Result<Terrain> Terrain::make(const std::vector<Tile>& tiles, const Box& box) {
  std::vector<const Tile*> used;
  for (const auto& t : tiles) {
    if (t.rows > 0 && t.columns > 0) used.push_back(&t);
  }
  if (used.empty())
    return fail({}, "no elevation file that reaches the place", "the tile of the place and those around it");
  // The finest lies on top.
  std::stable_sort(used.begin(), used.end(), [](const Tile* a, const Tile* b) {
    return a->lat_step_deg * a->lon_step_deg > b->lat_step_deg * b->lon_step_deg;
  });
  const Tile& finest = *used.back();
  Box whole{90, 1e9, -90, -1e9};
  double lat_step = finest.lat_step_deg, lon_step = finest.lon_step_deg;
  for (const auto* t : used) {
    whole.south_deg = std::min(whole.south_deg, t->south_deg());
    whole.north_deg = std::max(whole.north_deg, t->north_deg);
    whole.west_deg = std::min(whole.west_deg, t->west_deg);
    whole.east_deg = std::max(whole.east_deg, t->east_deg());
    lat_step = std::min(lat_step, t->lat_step_deg);
    lon_step = std::min(lon_step, t->lon_step_deg);
  }
  whole.south_deg = std::max(whole.south_deg, box.south_deg - 2 * lat_step);
  whole.north_deg = std::min(whole.north_deg, box.north_deg + 2 * lat_step);
  whole.west_deg = std::max(whole.west_deg, box.west_deg - 2 * lon_step);
  whole.east_deg = std::min(whole.east_deg, box.east_deg + 2 * lon_step);
  if (whole.north_deg < whole.south_deg || whole.east_deg < whole.west_deg)
    return fail({}, "no elevation file that reaches the place", "the tile of the place and those around it");

  Mosaic m;
  m.lat_step_deg = lat_step;
  m.lon_step_deg = lon_step;
  m.north_deg =
      finest.north_deg + lat_step * std::ceil((whole.north_deg - finest.north_deg) / lat_step - same);
  m.west_deg = finest.west_deg + lon_step * std::floor((whole.west_deg - finest.west_deg) / lon_step + same);
  const double rows = std::floor((m.north_deg - whole.south_deg) / lat_step + same) + 1;
  const double columns = std::floor((whole.east_deg - m.west_deg) / lon_step + same) + 1;
  if (rows * columns > most_cells) {
    return fail(
        {}, fmt::format("{:.0f} million heights around the place", rows * columns / 1e6),
        fmt::format("at most {:.0f} million", most_cells / 1e6),
        "take a coarser file, of 10 to 30 m, or cut a fine one to the island and leave the coarse one out");
  }
  m.rows = static_cast<long>(rows);
  m.columns = static_cast<long>(columns);
  m.height_m.assign(static_cast<std::size_t>(m.rows * m.columns), Mosaic::never);
  for (const auto* t : used) m.lay(*t);

  Terrain out;
  out.box_ = box;
  out.north_deg_ = m.north_deg;
  out.west_deg_ = m.west_deg;
  out.lat_step_deg_ = lat_step;
  out.lon_step_deg_ = lon_step;
  const auto r_count = static_cast<std::size_t>(m.rows), c_count = static_cast<std::size_t>(m.columns);
  out.last_row_ = static_cast<double>(r_count - 1);
  out.last_column_ = static_cast<double>(c_count - 1);
  out.rows_ = r_count + 1;
  out.columns_ = c_count + 1;
  out.height_m_.assign(out.rows_ * out.columns_, 0.0F);
  out.known_.assign(r_count * c_count, false);
  const GeoPoint middle =
      GeoPoint::at_deg(0.5 * (box.south_deg + box.north_deg), 0.5 * (box.west_deg + box.east_deg));
  out.cell_m_ = m_per_degree * std::min(lat_step, lon_step * std::max(0.01, cos_deg(middle.lat_deg)));
  const auto cell = out.cell_of(middle);
  const bool inside =
      cell.row >= 0 && cell.column >= 0 && cell.row <= out.last_row_ && cell.column <= out.last_column_;
  const auto here =
      inside
          ? m.height_m[static_cast<std::size_t>(cell.row) * c_count + static_cast<std::size_t>(cell.column)]
          : 0.0F;
  // Judgement: no inhabited shore lies deeper; what does is a sea bed.
  const bool below_sea = here < 0 && here > -450;
  std::size_t known = 0, voids = 0;
  for (std::size_t r = 0; r < r_count; ++r) {
    for (std::size_t c = 0; c < c_count; ++c) {
      const float h = m.height_m[r * c_count + c];
      if (std::isnan(h)) ++voids;
      if (!std::isfinite(h)) continue;
      ++known;
      out.known_[r * c_count + c] = true;
      out.height_m_[r * out.columns_ + c] = below_sea ? h : std::max(0.0F, h);
    }
  }
  // Beyond the outermost heights nothing is asked; the last ones are repeated so that they can be.
  for (std::size_t r = 0; r < r_count; ++r)
    out.height_m_[r * out.columns_ + c_count] = out.height_m_[r * out.columns_ + c_count - 1];
  std::copy_n(&out.height_m_[(r_count - 1) * out.columns_], out.columns_,
              &out.height_m_[r_count * out.columns_]);
  const double asked =
      std::max(1.0, (box.north_deg - box.south_deg) / lat_step * (box.east_deg - box.west_deg) / lon_step);
  out.void_share_ = std::min(1.0, static_cast<double>(voids) / asked);
  out.missing_share_ = std::clamp(1 - static_cast<double>(known + voids) / asked, 0.0, 1.0);

  out.block_rows_ = (r_count + block - 1) / block;
  out.block_columns_ = (c_count + block - 1) / block;
  out.highest_m_.assign(out.block_rows_ * out.block_columns_, 0.0F);
  for (std::size_t r = 0; r < out.rows_; ++r) {
    for (std::size_t c = 0; c < out.columns_; ++c) {
      const float h = out.height_m_[r * out.columns_ + c];
      // The first row and column of a block are also the last neighbours of the one before.
      for (const std::size_t br : {r / block, r > 0 ? (r - 1) / block : 0}) {
        for (const std::size_t bc : {c / block, c > 0 ? (c - 1) / block : 0}) {
          if (br >= out.block_rows_ || bc >= out.block_columns_) continue;
          float& most = out.highest_m_[br * out.block_columns_ + bc];
          most = std::max(most, h);
        }
      }
    }
  }
  return out;
}

Terrain::Cell Terrain::cell_of(GeoPoint at) const {
  double lon = at.lon_deg + turns_into(box_, at.lon_deg, at.lon_deg);
  return {(lon - west_deg_) / lon_step_deg_, (north_deg_ - at.lat_deg) / lat_step_deg_};
}

double Terrain::height_m(GeoPoint at) const {
  return height_m(cell_of(at));
}

bool Terrain::knows(GeoPoint at) const {
  const auto cell = cell_of(at);
  const double row = std::round(cell.row), column = std::round(cell.column);
  if (!(row >= 0 && column >= 0 && row <= last_row_ && column <= last_column_)) return false;
  return known_[static_cast<std::size_t>(row) * (columns_ - 1) + static_cast<std::size_t>(column)];
}

double Terrain::highest_m(Cell a, Cell b) const {
  const auto in_block = [](double x, double last) {
    return static_cast<std::size_t>(std::clamp(x, 0.0, last)) / block;
  };
  const std::size_t top = in_block(std::min(a.row, b.row), last_row_);
  const std::size_t low = in_block(std::max(a.row, b.row), last_row_);
  const std::size_t left = in_block(std::min(a.column, b.column), last_column_);
  const std::size_t right = in_block(std::max(a.column, b.column), last_column_);
  float most = 0;
  for (std::size_t r = top; r <= low; ++r) {
    for (std::size_t c = left; c <= right; ++c) most = std::max(most, highest_m_[r * block_columns_ + c]);
  }
  return static_cast<double>(most);
}

}  // namespace skerry::terrain
