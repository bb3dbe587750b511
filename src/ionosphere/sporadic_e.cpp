#include "skerry/ionosphere/sporadic_e.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <memory>
#include <utility>

#include "kept.hpp"
#include "maps.hpp"
#include "skerry/core/parallel.hpp"
#include "skerry/core/units.hpp"
#include "skerry/ionosphere/field.hpp"

namespace skerry::ionosphere {

namespace {

using detail::foes_functions;
using detail::hours;

// Judgement: as in the sky's product: what stays in the second-level cache.
constexpr std::size_t block_places = 128;

// Judgement: nothing weaker leaves the maps. Measured on a 5 x 10 degree grid, all months and hours, R12 0 to
// 180: under this in at most 0.3 % of places and hours; the largest upper decile is 14.5 MHz.
constexpr double least_foes_mhz = 0.5;

struct Workspace {
  Eigen::Matrix<double, block_places, foes_functions, Eigen::RowMajor> functions;
  Eigen::Matrix<double, block_places, 3 * hours, Eigen::RowMajor> values;
};

}  // namespace

SporadicE sporadic_e(std::span<const GeoPoint> places, const Climate& climate) {
  assert(climate.day.ok());
  SporadicE out;
  for (HourTable* table : {&out.lower_mhz, &out.median_mhz, &out.upper_mhz})
    table->resize(static_cast<Eigen::Index>(places.size()), hours);
  if (places.empty()) return out;
  static detail::Kept<std::pair<unsigned, double>, detail::FoesCoefficients, detail::most_kept> kept;
  const auto month = static_cast<unsigned>(climate.day.month());
  const auto coefficients =
      kept.of({month, climate.r12}, [&] { return detail::foes_coefficients(month, climate.r12); });
  parallel_for(places.size(), 4 * block_places, [&](std::size_t begin, std::size_t end) {
    const auto work = std::make_unique<Workspace>();
    for (std::size_t at = begin; at < end; at += block_places) {
      const std::size_t count = std::min(block_places, end - at);
      for (std::size_t i = 0; i < count; ++i) {
        const GeoPoint p = places[at + i];
        detail::foes_place_functions(sin_deg(modip_deg(p, climate.field_epoch)),
                                     std::abs(p.lat_deg) == 90.0 ? 0.0 : cos_deg(p.lat_deg),
                                     cos_deg(p.lon_deg), sin_deg(p.lon_deg),
                                     work->functions.row(static_cast<Eigen::Index>(i)).data());
      }
      const auto rows = static_cast<Eigen::Index>(count);
      const auto first = static_cast<Eigen::Index>(at);
      work->values.topRows(rows).noalias() = work->functions.topRows(rows) * *coefficients;
      const auto values = work->values.topRows(rows).array();
      auto median = out.median_mhz.middleRows(first, rows);
      median = values.middleCols<hours>(hours).max(least_foes_mhz);
      out.lower_mhz.middleRows(first, rows) = values.leftCols<hours>().max(least_foes_mhz).min(median);
      out.upper_mhz.middleRows(first, rows) = values.rightCols<hours>().max(median);
    }
  });
  return out;
}

}  // namespace skerry::ionosphere
