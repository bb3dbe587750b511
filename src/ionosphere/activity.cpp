#include "skerry/ionosphere/activity.hpp"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <vector>

#include "skerry/core/nth.hpp"
#include "skerry/core/table.hpp"

namespace skerry::ionosphere {

namespace {
// Source: ITU-R P.371, smoothed solar flux from R12 (from memory; a public source has 63.75 as the constant).
constexpr double flux_0 = 63.7, flux_1 = 0.728, flux_2 = 8.9e-4;
// Source: ratio of the scales at the change to version 2 in July 2015 (common practice).
constexpr double old_per_new = 0.7;
// See fof2_index.
constexpr double index_below_r12 = 9, index_apart_to_r12 = 30, index_alike_from_r12 = 90;

struct Cell {
  double r12 = 0, low = 0, high = 0;
};
struct Table {
  int first_year = 0;
  std::vector<std::array<Cell, 12>> years;
  std::string file_date;
  std::string last_observed;
  Cell mean;
};

const Table& table() {
  static const Table built = [] {
    Table t;
    const TableRow about = table_rows("activity/forecast.toml", "about").at(0);
    t.file_date = about.text("file_date");
    t.last_observed = about.text("last_observed");
    t.mean = {about.number("mean_r12"), about.number("mean_low"), about.number("mean_high")};
    for (const TableRow& row : table_rows("activity/forecast.toml", "year")) {
      const int year = static_cast<int>(row.number("year"));
      if (t.years.empty()) t.first_year = year;
      assert(year == t.first_year + static_cast<int>(t.years.size()));
      auto& cells = t.years.emplace_back();
      for (std::size_t m = 0; m < 12; ++m) {
        cells[m] = {row.numbers("r12").at(m), row.numbers("low").at(m), row.numbers("high").at(m)};
      }
    }
    return t;
  }();
  return built;
}

/// Whole months from "2025-01" to a month.
int months_since(const std::string& iso, Month month) {
  const auto from = parse_month(iso, {"data/activity"});
  assert(from);
  return 12 * (static_cast<int>(month.year()) - static_cast<int>(from->year())) +
         static_cast<int>(static_cast<unsigned>(month.month())) -
         static_cast<int>(static_cast<unsigned>(from->month()));
}

}  // namespace

double fof2_index(R12 r12) {
  return r12 -
         index_below_r12 *
             std::clamp((index_alike_from_r12 - r12) / (index_alike_from_r12 - index_apart_to_r12), 0.0, 1.0);
}

double f107_from_r12(double r12) {
  assert(r12 >= 0.0);
  return flux_0 + r12 * (flux_1 + r12 * flux_2);
}

R12 r12_from_f107(double f107) {
  if (f107 <= flux_0) return R12(0);
  return R12::nearest((-flux_1 + std::sqrt(flux_1 * flux_1 + 4.0 * flux_2 * (f107 - flux_0))) /
                      (2.0 * flux_2));
}

R12 r12_from_ssn_v2(double ssn_v2) {
  return R12::nearest(old_per_new * ssn_v2);
}

Activity forecast(Month month) {
  using Kind = ActivitySource::Kind;
  assert(month.ok());
  const Table& t = table();
  const int year = static_cast<int>(month.year()) - t.first_year;
  const unsigned m = static_cast<unsigned>(month.month()) - 1;
  const Cell cell =
      year >= 0 && year < static_cast<int>(t.years.size()) ? nth(nth(t.years, year), m) : Cell{-1};
  if (cell.r12 < 0) {  // the table's own mark of a month that it lacks
    return {
        R12(t.mean.r12), R12(t.mean.low), R12(t.mean.high), {.kind = Kind::mean_of_cycles, .month = month}};
  }
  // Year-month text compares as the months do.
  const bool observed = to_iso(month) <= t.last_observed;
  return {R12(cell.r12),
          R12(cell.low),
          R12(cell.high),
          {.kind = observed ? Kind::observed : Kind::forecast, .made = t.file_date},
          observed ? 0 : months_since(t.last_observed, month)};
}

Activity told_activity(Index index, double value) {
  const R12 r12 = index == Index::r12      ? R12(value)
                  : index == Index::ssn_v2 ? r12_from_ssn_v2(value)
                                           : r12_from_f107(value);
  return {r12,
          R12::nearest(0.85 * r12 - 5),
          R12::nearest(1.15 * r12 + 5),
          {.kind = ActivitySource::Kind::told, .index = index, .value = value}};
}

}  // namespace skerry::ionosphere
