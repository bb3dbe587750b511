#include "skerry/circuit/coverage.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>

#include "skerry/core/parallel.hpp"
#include "skerry/core/units.hpp"

namespace skerry::circuit {

namespace {

// Judgement: cells worked on together; their sky and paths (about 0.8 MB) stay near the core.
constexpr std::size_t block_cells = 64;
// Judgement: what is kept before it is handed on.
constexpr std::size_t part_bytes = 4U << 20U;
constexpr std::size_t most_part_cells = 4096;

/// Of two ways, the one to take.
bool better(const CoverageValue& a, const CoverageValue& b) {
  if (a.open != b.open) return a.open;
  if (a.both_days_in_ten() != b.both_days_in_ten()) return a.both_days_in_ten() > b.both_days_in_ten();
  return std::min(a.snr_db, a.return_snr_db) > std::min(b.snr_db, b.return_snr_db);
}

/// What holds for the whole question.
struct Job {
  const CoverageQuestion& q;
  Station from, to;
  std::vector<double> mhz;
  unsigned month = 1;
  std::size_t ways = 1;
};

CoverageValue value(const BothWays& both, geodesy::Way way) {
  CoverageValue out;
  out.open = both.open();
  out.long_way = way == geodesy::Way::long_way;
  if (!out.open) return out;
  out.snr_db = static_cast<float>(both.there.snr_db);
  out.return_snr_db = static_cast<float>(both.back.snr_db);
  out.days_in_ten = static_cast<float>(both.there.days_in_ten);
  out.return_days_in_ten = static_cast<float>(both.back.days_in_ten);
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
  const std::vector<Circuits::Horizon> horizons(paths.size(), {q.from.skyline, q.to.skyline});
  const Circuits circuits(paths, q.climate, q.settings, horizons);

  const std::size_t bands = job.mhz.size();
  std::vector<Noise> noise_from(q.hours.size() * bands);  // the site is the same for all cells
  for (std::size_t f = 0; f < bands; ++f) {
    const Receiving receiving(q.from.at, job.month, job.from, job.mhz[f]);
    for (std::size_t h = 0; h < q.hours.size(); ++h)
      noise_from[h * bands + f] = receiving.at(circuits.from_sky(0, q.hours[h]));
  }
  std::vector<Noise> noise_to(bands);
  std::vector<BothWays> both(bands);
  std::vector<Receiving> receiving;
  std::vector<Link> links;
  Station to = job.to;
  for (std::size_t i = 0; i < count; ++i) {
    const std::size_t first_path = i * job.ways;
    const GeoPoint there = paths[first_path].to;
    to.land_share = land_share(there);
    receiving.clear();
    for (const double mhz : job.mhz) receiving.emplace_back(there, job.month, to, mhz);
    links.clear();
    for (std::size_t w = 0; w < job.ways; ++w)
      links.emplace_back(circuits, first_path + w, job.mhz, job.from, to, q.mode);
    for (std::size_t h = 0; h < q.hours.size(); ++h, values += bands) {
      const auto sky = circuits.to_sky(first_path, q.hours[h]);
      for (std::size_t f = 0; f < bands; ++f) noise_to[f] = receiving[f].at(sky);
      const auto noise_here = std::span(noise_from).subspan(h * bands, bands);
      for (std::size_t w = 0; w < job.ways; ++w) {
        links[w].contacts(q.hours[h], noise_here, noise_to, both);
        for (std::size_t f = 0; f < bands; ++f) {
          const auto now = value(both[f], paths[first_path + w].way);
          if (w == 0 || better(now, values[f])) values[f] = now;
        }
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
  return static_cast<float>(both_ways(days_in_ten, return_days_in_ten));
}

bool coverage(const CoverageQuestion& q, const std::function<bool(const CoveragePart&)>& sink) {
  assert(q.grid.fits() && !q.frequencies.empty() && !q.hours.empty());
  Job job{q,
          station_of(q.from),
          station_of(q.to),
          {},
          static_cast<unsigned>(q.climate.day.month()),
          q.way == WayChoice::best ? 2U : 1U};
  for (const auto& f : q.frequencies) job.mhz.push_back(f.mhz);
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

}  // namespace skerry::circuit
