#include "skerry/advice/coverage.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "skerry/core/parallel.hpp"
#include "skerry/core/units.hpp"

namespace skerry::advice {

namespace {

// Judgement: cells worked on together; their sky and paths (about 0.8 MB) stay near the core.
constexpr std::size_t block_cells = 64;
// Judgement: what is kept before it is handed on.
constexpr std::size_t part_bytes = 4U << 20U;
constexpr std::size_t most_part_cells = 4096;

circuit::Station station(const PathEnd& end) {
  circuit::Station s;
  s.power_w = end.power_w;
  s.gain_dbi = end.gain_dbi;
  s.environment = end.environment;
  s.receiver_noise_figure_db = end.noise_figure_db;
  return s;
}

/// Of two ways, the one to take.
bool better(const CoverageValue& a, const CoverageValue& b) {
  if (a.open != b.open) return a.open;
  if (a.both_days_in_ten() != b.both_days_in_ten()) return a.both_days_in_ten() > b.both_days_in_ten();
  return std::min(a.snr_db, a.return_snr_db) > std::min(b.snr_db, b.return_snr_db);
}

/// What holds for the whole question.
struct Job {
  const CoverageQuestion& q;
  circuit::Station from, to;
  unsigned month = 1;
  double back_db = 0;  ///< their power over ours: the rest of a circuit is the same in both directions
  std::size_t ways = 1;
};

CoverageValue value(const Job& job, const circuit::Cell& cell, const geodesy::Path& path,
                    const circuit::Station& to, const circuit::Noise& noise_to,
                    const circuit::Noise& noise_from) {
  circuit::Strength strength = circuit::strength(cell, path, job.from, to, true);
  CoverageValue out;
  out.open = strength.open;
  out.long_way = path.way == geodesy::Way::long_way;
  if (!out.open) return out;
  const auto there = circuit::link(cell, strength, noise_to, job.q.mode);
  strength.received_dbw += job.back_db;
  const auto back = circuit::link(cell, strength, noise_from, job.q.mode);
  out.snr_db = static_cast<float>(there.snr_db);
  out.return_snr_db = static_cast<float>(back.snr_db);
  out.days_in_ten = static_cast<float>(there.days_in_ten);
  out.return_days_in_ten = static_cast<float>(back.days_in_ten);
  return out;
}

void work_block(const Job& job, std::size_t first_cell, std::size_t count, CoverageValue* values) {
  const auto& q = job.q;
  std::vector<geodesy::Path> paths;
  paths.reserve(count * job.ways);
  for (std::size_t i = 0; i < count; ++i) {
    const GeoPoint there = q.grid.centre(first_cell + i);
    if (q.way != WayChoice::long_way)
      paths.push_back(geodesy::make_path(q.from.at, there, geodesy::Way::short_way));
    if (q.way != WayChoice::short_way)
      paths.push_back(geodesy::make_path(q.from.at, there, geodesy::Way::long_way));
  }
  const std::vector<circuit::Circuits::Horizon> horizons(paths.size(),
                                                         {q.from.skyline_deg, q.to.skyline_deg});
  const circuit::Circuits circuits(paths, q.climate, q.settings, horizons);

  std::vector<circuit::Noise> noise_from;  // the site is the same for all cells
  noise_from.reserve(q.hours.size() * q.frequencies.size());
  for (const int hour : q.hours) {
    for (const auto& f : q.frequencies) {
      noise_from.push_back(
          circuit::noise_at(circuits.from_sky(0, hour), q.from.at, job.month, job.from, f.mhz));
    }
  }
  circuit::Station to = job.to;
  for (std::size_t i = 0; i < count; ++i) {
    const std::size_t first_path = i * job.ways;
    const GeoPoint there = paths[first_path].to;
    to.near_land = near_land(there);
    for (std::size_t h = 0; h < q.hours.size(); ++h) {
      const auto sky = circuits.to_sky(first_path, q.hours[h]);
      for (std::size_t f = 0; f < q.frequencies.size(); ++f) {
        const double mhz = q.frequencies[f].mhz;
        const auto noise_to = circuit::noise_at(sky, there, job.month, to, mhz);
        const auto& noise_here = noise_from[h * q.frequencies.size() + f];
        CoverageValue best;
        for (std::size_t w = 0; w < job.ways; ++w) {
          const auto cell = circuits.cell(first_path + w, q.hours[h], mhz);
          const auto now = value(job, cell, paths[first_path + w], to, noise_to, noise_here);
          if (w == 0 || better(now, best)) best = now;
        }
        *values++ = best;
      }
    }
  }
}

}  // namespace

int Grid::rows() const {
  return static_cast<int>(std::lround(180 / step_deg));
}
int Grid::columns() const {
  return 2 * rows();
}
std::size_t Grid::cells() const {
  return static_cast<std::size_t>(rows()) * static_cast<std::size_t>(columns());
}
GeoPoint Grid::centre(std::size_t cell) const {
  assert(cell < cells());
  const auto row = cell / static_cast<std::size_t>(columns());
  const auto column = cell % static_cast<std::size_t>(columns());
  return GeoPoint::at_deg(90 - (static_cast<double>(row) + 0.5) * step_deg,
                          (static_cast<double>(column) + 0.5) * step_deg - 180);
}
bool Grid::fits() const {
  return step_deg >= 0.5 && step_deg <= 30 && std::abs(180 / step_deg - std::round(180 / step_deg)) < 1e-9;
}

float CoverageValue::both_days_in_ten() const {
  return static_cast<float>(circuit::both_ways(days_in_ten, return_days_in_ten));
}

bool coverage(const CoverageQuestion& q, const std::function<bool(const CoveragePart&)>& sink) {
  assert(q.grid.fits() && !q.frequencies.empty() && !q.hours.empty());
  Job job{q,
          station(q.from),
          station(q.to),
          static_cast<unsigned>(q.climate.day.month()),
          to_db(q.to.power_w) - to_db(q.from.power_w),
          q.way == WayChoice::best ? 2U : 1U};
  job.from.near_land = near_land(q.from.at);
  const std::size_t per_cell = q.hours.size() * q.frequencies.size();
  const std::size_t fitting = part_bytes / (per_cell * sizeof(CoverageValue)) / block_cells * block_cells;
  const std::size_t part_cells = std::clamp(fitting, block_cells, most_part_cells);
  const std::size_t cells = q.grid.cells();
  std::vector<CoverageValue> values(std::min(cells, part_cells) * per_cell);
  for (std::size_t first = 0; first < cells; first += part_cells) {
    const std::size_t count = std::min(part_cells, cells - first);
    parallel_for(count, block_cells, [&](std::size_t begin, std::size_t end) {
      for (std::size_t at = begin; at < end; at += block_cells) {
        work_block(job, first + at, std::min(block_cells, end - at), values.data() + at * per_cell);
      }
    });
    if (!sink({first, count, std::span(values).first(count * per_cell)})) return false;
  }
  return true;
}

CoverageShare::CoverageShare(const CoverageQuestion& q, double days)
    : grid_(q.grid),
      frequencies_(q.frequencies.size()),
      days_(days),
      sums_(q.hours.size() * q.frequencies.size()) {}

void CoverageShare::add(const CoveragePart& part) {
  for (std::size_t c = 0; c < part.cells; ++c) {
    const double area = cos_deg(grid_.centre(part.first_cell + c).lat_deg);
    total_ += area;
    for (std::size_t i = 0; i < sums_.size(); ++i) {
      const auto& v = part.values[c * sums_.size() + i];
      if (v.open && v.both_days_in_ten() >= days_) sums_[i] += area;
    }
  }
}

double CoverageShare::at(std::size_t hour, std::size_t frequency) const {
  return total_ > 0 ? sums_[hour * frequencies_ + frequency] / total_ : 0;
}

}  // namespace skerry::advice
