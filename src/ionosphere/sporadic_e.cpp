#include "skerry/ionosphere/sporadic_e.hpp"

#include <algorithm>
#include <cassert>
#include <cmath>
#include <memory>
#include <utility>
#include <vector>

#include "maps.hpp"
#include "skerry/core/kept.hpp"
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

using Functions = Eigen::Matrix<double, Eigen::Dynamic, foes_functions, Eigen::RowMajor>;
using Values = Eigen::Matrix<double, Eigen::Dynamic, 3 * hours, Eigen::RowMajor>;

// Judgement: no more than these belong to one path.
constexpr std::size_t few_places = 8;

void lay(std::span<const GeoPoint> places, double epoch, Functions& out) {
  for (std::size_t i = 0; i < places.size(); ++i) {
    const GeoPoint p = places[i];
    detail::foes_place_functions(sin_deg(modip_deg(p, epoch)),
                                 std::abs(p.lat_deg) == 90.0 ? 0.0 : cos_deg(p.lat_deg), cos_deg(p.lon_deg),
                                 sin_deg(p.lon_deg), out.row(static_cast<Eigen::Index>(i)).data());
  }
}

/// One path's places, which many questions share.
std::shared_ptr<const Functions> functions_of(std::span<const GeoPoint> places, double epoch) {
  static Kept<std::pair<std::vector<GeoPoint>, double>, Functions, most_kept> kept;
  return kept.of({{places.begin(), places.end()}, epoch}, [&] {
    Functions out(places.size(), foes_functions);
    lay(places, epoch, out);
    return out;
  });
}

}  // namespace

SporadicE sporadic_e(std::span<const GeoPoint> places, const Climate& climate) {
  assert(climate.day.ok());
  SporadicE out;
  for (HourTable* table : {&out.lower_mhz, &out.median_mhz, &out.upper_mhz})
    table->resize(static_cast<Eigen::Index>(places.size()), hours);
  if (places.empty()) return out;
  static Kept<std::pair<unsigned, double>, detail::FoesCoefficients, most_kept> kept;
  const auto month = static_cast<unsigned>(climate.day.month());
  const auto coefficients =
      kept.of({month, climate.r12}, [&] { return detail::foes_coefficients(month, climate.r12); });
  const auto fill = [&](std::size_t at, Eigen::Index rows, const Functions& functions, Values& work) {
    const auto first = static_cast<Eigen::Index>(at);
    work.topRows(rows).noalias() = functions.topRows(rows) * *coefficients;
    const auto values = work.topRows(rows).array();
    auto median = out.median_mhz.middleRows(first, rows);
    median = values.middleCols<hours>(hours).max(least_foes_mhz);
    out.lower_mhz.middleRows(first, rows) = values.leftCols<hours>().max(least_foes_mhz).min(median);
    out.upper_mhz.middleRows(first, rows) = values.rightCols<hours>().max(median);
  };
  if (places.size() <= few_places) {
    const auto functions = functions_of(places, climate.field_epoch);
    Values work(functions->rows(), 3 * hours);
    fill(0, functions->rows(), *functions, work);
    return out;
  }
  parallel_for(places.size(), 4 * block_places, [&](std::size_t begin, std::size_t end) {
    const std::size_t most = std::min(block_places, end - begin);
    Functions functions(most, foes_functions);
    Values work(most, 3 * hours);
    for (std::size_t at = begin; at < end; at += block_places) {
      const std::size_t count = std::min(block_places, end - at);
      lay(places.subspan(at, count), climate.field_epoch, functions);
      fill(at, static_cast<Eigen::Index>(count), functions, work);
    }
  });
  return out;
}

}  // namespace skerry::ionosphere
