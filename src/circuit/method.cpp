#include "method.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "skerry/core/nth.hpp"
#include "skerry/core/units.hpp"

namespace skerry::circuit::method {

namespace {

using Row = std::array<double, 8>;     // local time 01-04, 04-07, 07-10, 10-13, 13-16, 16-19, 19-22, 22-01
using Block = std::array<Row, 8>;      // geomagnetic latitude from 42.5, 47.5, ... 77.5
using Seasons = std::array<Block, 3>;  // winter, equinox, summer
constexpr std::array<Seasons, 2> auroral =  // up to 2500 km, beyond
    {{{{{{{{0.4, 0.3, 1.1, 0.1, 0.1, 0.6, 0.7, 0.3}},
          {{0.9, 0.6, 2.2, 0.2, 0.2, 1.2, 1.5, 0.6}},
          {{1.3, 1.0, 3.2, 0.3, 0.4, 1.8, 2.3, 0.9}},
          {{2.0, 4.5, 6.6, 1.4, 0.8, 2.7, 3.0, 2.0}},
          {{7.0, 16.0, 14.0, 3.6, 2.0, 6.8, 9.8, 6.6}},
          {{6.2, 15.6, 12.8, 2.3, 1.5, 4.6, 7.0, 5.0}},
          {{3.4, 8.3, 8.6, 0.9, 0.5, 2.5, 3.0, 3.0}},
          {{2.0, 6.6, 6.2, 1.5, 0.5, 1.4, 1.5, 1.0}}}},
        {{{{0.5, 0.6, 1.6, 1.0, 0.7, 1.3, 1.0, 1.3}},
          {{1.1, 1.3, 3.3, 2.0, 1.4, 2.6, 2.0, 2.6}},
          {{1.7, 2.0, 5.0, 3.0, 2.2, 4.0, 3.0, 4.0}},
          {{2.4, 4.4, 7.5, 5.0, 2.6, 4.8, 5.5, 6.1}},
          {{6.7, 11.2, 17.0, 9.0, 7.2, 9.0, 10.9, 15.0}},
          {{6.5, 12.0, 21.4, 8.5, 4.8, 6.0, 10.0, 13.7}},
          {{3.3, 11.0, 11.6, 5.1, 2.6, 4.0, 6.0, 7.0}},
          {{1.4, 2.5, 7.4, 3.8, 1.0, 2.4, 2.4, 3.3}}}},
        {{{{0.8, 0.6, 0.8, 0.7, 0.8, 1.6, 1.5, 1.3}},
          {{1.6, 1.2, 1.6, 1.5, 1.7, 3.3, 3.1, 2.6}},
          {{2.5, 1.8, 2.4, 2.3, 2.6, 5.0, 4.6, 4.0}},
          {{3.2, 2.7, 4.0, 3.0, 3.0, 6.5, 6.7, 5.0}},
          {{6.5, 4.8, 9.0, 6.0, 4.8, 9.1, 9.5, 8.9}},
          {{4.9, 4.2, 6.2, 4.5, 3.8, 5.4, 7.7, 7.2}},
          {{2.4, 3.0, 2.8, 3.0, 2.7, 4.2, 4.8, 4.5}},
          {{2.2, 2.7, 1.2, 2.3, 2.2, 3.8, 4.2, 3.8}}}}}},
      {{{{{{0.3, 0.3, 0.4, 0.0, 0.0, 0.3, 0.5, 0.4}},
          {{0.6, 0.6, 0.8, 0.1, 0.1, 0.6, 1.0, 0.5}},
          {{0.9, 1.0, 1.3, 0.1, 0.1, 1.0, 1.5, 1.4}},
          {{1.6, 2.4, 2.7, 0.6, 0.4, 1.7, 1.8, 3.5}},
          {{5.3, 7.0, 5.9, 2.0, 0.7, 4.0, 4.5, 10.0}},
          {{5.5, 5.0, 7.0, 1.9, 0.5, 3.0, 4.5, 9.6}},
          {{2.5, 4.5, 4.3, 0.8, 0.3, 1.6, 2.0, 4.8}},
          {{1.5, 2.7, 2.5, 0.8, 0.0, 0.9, 0.8, 1.6}}}},
        {{{{0.3, 0.3, 0.6, 0.6, 0.4, 1.0, 0.9, 0.6}},
          {{0.6, 0.6, 1.2, 1.3, 0.8, 2.0, 1.8, 1.3}},
          {{0.9, 0.9, 1.8, 2.0, 1.3, 3.1, 2.7, 2.0}},
          {{1.4, 2.0, 3.2, 3.8, 1.8, 4.0, 5.4, 3.4}},
          {{3.9, 5.2, 7.6, 9.0, 5.0, 7.5, 10.0, 7.9}},
          {{3.7, 5.6, 7.7, 8.1, 3.5, 5.0, 9.5, 7.3}},
          {{1.8, 2.9, 4.1, 5.7, 1.5, 3.2, 5.6, 3.6}},
          {{1.0, 1.2, 2.7, 3.0, 0.6, 2.0, 2.3, 1.6}}}},
        {{{{0.7, 0.8, 0.7, 0.3, 0.7, 0.4, 1.4, 0.8}},
          {{1.4, 1.6, 1.4, 0.6, 1.4, 0.8, 2.9, 1.6}},
          {{2.2, 2.4, 2.2, 1.0, 2.2, 1.2, 4.4, 2.5}},
          {{2.8, 3.8, 3.7, 1.4, 2.7, 1.6, 4.5, 3.2}},
          {{5.5, 8.5, 7.6, 2.6, 4.2, 3.2, 5.5, 5.7}},
          {{4.4, 6.3, 5.9, 1.9, 3.3, 1.7, 4.4, 4.5}},
          {{1.9, 4.6, 2.9, 1.3, 2.2, 1.3, 2.8, 2.7}},
          {{1.9, 3.8, 2.2, 1.1, 2.1, 1.2, 2.3, 2.4}}}}}}}};

// f/MUF, lower < 60, upper < 60, lower >= 60, upper >= 60 degrees. Source: ITU-R P.842, from memory.
constexpr std::array<std::array<double, 5>, 10> deciles{{{0.8, 8, 6, 11, 9},
                                                         {1.0, 12, 8, 16, 11},
                                                         {1.2, 13, 12, 17, 12},
                                                         {1.4, 10, 13, 13, 13},
                                                         {1.6, 8, 12, 11, 12},
                                                         {1.8, 8, 9, 11, 9},
                                                         {2.0, 8, 9, 11, 9},
                                                         {3.0, 7, 8, 9, 8},
                                                         {4.0, 6, 7, 8, 7},
                                                         {5.0, 5, 7, 7, 7}}};

// January to December; both ends north, one north one middle, north and south, both middle, one south one
// middle, both south.
using Year = std::array<double, 12>;
constexpr std::array<Year, 6> month_factor{{{1.1, 1.05, 1, 1, 1, 1, 1, 1, 1, 1, 1.05, 1.1},
                                            {1.05, 1.02, 1, 1, 1, 1, 1, 1, 1, 1, 1.02, 1.05},
                                            {1.05, 1.02, 1, 1, 1.02, 1.05, 1.05, 1.02, 1, 1, 1.02, 1.05},
                                            {1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1},
                                            {1, 1, 1, 1, 1.02, 1.05, 1.05, 1.02, 1, 1, 1, 1},
                                            {1, 1, 1, 1, 1.05, 1.1, 1.1, 1.05, 1, 1, 1, 1}}};
constexpr Year winter_north{1.30, 1.15, 1.03, 1, 1, 1, 1, 1, 1, 1.03, 1.15, 1.30};
constexpr Year winter_south{1, 1, 1, 1.03, 1.15, 1.30, 1.30, 1.15, 1.03, 1, 1, 1};

Season swapped(Season season) {
  if (season == Season::winter) return Season::summer;
  if (season == Season::summer) return Season::winter;
  return season;
}

}  // namespace

Season auroral_season(unsigned month, bool south) {
  const Season north = month == 12 || month <= 2  ? Season::winter
                       : month >= 6 && month <= 8 ? Season::summer
                                                  : Season::equinox;
  return south ? swapped(north) : north;
}

double auroral_loss_db(double far_share, Season season, double geomagnetic_lat_deg, double solar_hour) {
  // Row 0 of the steps is the zero under the table's first.
  const double x =
      std::clamp((std::abs(geomagnetic_lat_deg) - auroral_from_deg) / auroral_step_deg, 0.0, 8.0);
  if (x <= 0) return 0;
  const auto above = std::min<std::size_t>(7, static_cast<std::size_t>(x));
  const double y = wrap_24(solar_hour - 2.5) / 3;
  const auto column = std::min<std::size_t>(7, static_cast<std::size_t>(y));
  const std::size_t next = (column + 1) % 8;
  const auto loss_db = [&](const Seasons& table) {
    const auto row_db = [&](std::size_t row) {
      const Row& r = nth(table, season)[row];
      return std::lerp(r[column], r[next], y - static_cast<double>(column));
    };
    return std::lerp(above == 0 ? 0 : row_db(above - 1), row_db(above), x - static_cast<double>(above));
  };
  if (far_share <= 0) return loss_db(auroral[0]);
  if (far_share >= 1) return loss_db(auroral[1]);
  return std::lerp(loss_db(auroral[0]), loss_db(auroral[1]), far_share);
}

double operational_ratio(unsigned month, bool south, bool day) {
  Season season = Season::equinox;
  if (month >= 11 || month <= 2) season = Season::winter;
  if (month >= 5 && month <= 8) season = Season::summer;
  if (south) season = swapped(season);
  switch (season) {
    case Season::summer:
      return day ? 1.10 : 1.20;
    case Season::winter:
      return day ? 1.20 : 1.30;
    case Season::equinox:
      break;
  }
  return day ? 1.15 : 1.25;
}

double long_month_factor(unsigned month, double lat_a_deg, double lat_b_deg) {
  const double low = std::min(lat_a_deg, lat_b_deg);
  const double high = std::max(lat_a_deg, lat_b_deg);
  constexpr double limit = 35;
  std::size_t row = 3;
  if (low > limit) {
    row = 0;
  } else if (high > limit) {
    row = low < -limit ? 2 : 1;
  } else if (high < -limit) {
    row = 5;
  } else if (low < -limit) {
    row = 4;
  }
  return month_factor[row][month - 1];
}

double winter_factor(unsigned month, double lat_deg) {
  // 1 up to 30 degrees and at the pole, the table's value at 60, linear between.
  const double at_60 = (lat_deg >= 0 ? winter_north : winter_south)[month - 1];
  const double share = std::clamp(1 - std::abs(std::abs(lat_deg) - 60) / 30, 0.0, 1.0);
  return 1 + share * (at_60 - 1);
}

Deciles day_deciles(double mhz_over_muf, double high_share) {
  std::size_t i = 1;
  while (i + 1 < deciles.size() && mhz_over_muf >= deciles[i][0]) ++i;
  const auto& a = deciles[i - 1];
  const auto& b = deciles[i];
  const double t = std::clamp((mhz_over_muf - a[0]) / (b[0] - a[0]), 0.0, 1.0);
  const auto at = [&](std::size_t column) {
    return std::lerp(std::lerp(a[column], b[column], t), std::lerp(a[column + 2], b[column + 2], t),
                     high_share);
  };
  return {at(2), at(1)};
}

}  // namespace skerry::circuit::method
