// Tables of the Sun's activity that people bring: the agencies' public ones, and the one kept of them.
// Layer: ionosphere. Sees core.
#pragma once

#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <string_view>

#include "skerry/core/result.hpp"
#include "skerry/core/time.hpp"
#include "skerry/ionosphere/activity.hpp"

namespace skerry::ionosphere {

/// R12 month by month, months within first_year..last_year.
struct ForecastTable {
  struct Row {
    R12 r12;
    std::optional<R12> low_r12, high_r12;  ///< about one standard deviation either way; low <= r12 <= high
    bool observed = false;
  };
  std::map<Month, Row> months;
  [[nodiscard]] std::optional<Month> last_observed() const;
  /// Takes over the other one's months; what was observed stays before what was predicted.
  void take_in(const ForecastTable& other);
};

/// How a table was written down.
enum class TableForm {
  predicted_json,  ///< [{"time-tag":"2027-02","predicted_ssn":..,"low_ssn":..,"high_ssn":..,"predicted_f10.7":..}, ..]
  observed_json,   ///< [{"time-tag":"2024-06","ssn":..,"smoothed_ssn":..,"f10.7":..,"smoothed_f10.7":..}, ..]
  predicted_text,  ///< year, month, year as a fraction, number, its error; parted by blanks or semicolons
  smoothed_text,   ///< year, month, year as a fraction, number, deviation, observations, ..
  means_text,      ///< the same with monthly means: smoothed here over 13 months, the outer two by half
  own              ///< month,r12,low_r12,high_r12,kind: to_csv()
};
/// How to take what a table does not say of itself.
struct TableAsk {
  bool by_flux = false;            ///< the 10.7 cm flux in place of sunspot numbers; JSON only
  std::optional<bool> smoothed{};  ///< text with observations; none: by how rough the numbers are
};
struct ReadTable {
  ForecastTable table;
  TableForm form = TableForm::own;
};

/// Most that is taken. Judgement: the agencies' longest, all months since 1749, has 700 kB.
inline constexpr std::size_t most_forecast_bytes = 4U << 20U;

/// Reads any of these. Agencies' sunspot numbers are of version 2 (r12_from_ssn_v2), flux goes by r12_from_f107.
///   fields   JSON: "time-tag" and the number must be there, low and high may be missing or null; others are not
///            looked at; numbers may be quoted. -1, or less, in observed tables: none for that month
///   errors   neither JSON nor columns (with line and column), a wrong entry or line (every one is checked), a month
///            twice, no month at all. Numbers 0..600, low <= number <= high; what lies beyond R12's bounds is
///            told as its end
///   source   the agencies' files, names and columns from memory
[[nodiscard]] Result<ReadTable> read_table(std::string_view text, const Where& where,
                                           const TableAsk& ask = {});

/// What a table says of a month; nullopt: nothing. Limits that it lacks are the built-in forecast's, or those of
/// what was observed. `made`: the file's name, for the source.
[[nodiscard]] std::optional<Activity> activity_of(const ForecastTable& table, Month month, std::string made);

/// One month of a file.
///   errors  read_table()'s, and a month that is not there (with the range that is)
[[nodiscard]] Result<Activity> forecast_from_file(std::string_view text, Month month, const Where& where);

/// The name under which a trip's reader of files (and `skerry doctor`) knows the table that somebody keeps: it
/// goes before the built-in one wherever nothing is told.
inline constexpr const char* own_forecast = "config:forecast.csv";
/// A month by that table, or where it is silent by the built-in forecast.
///   text  empty: there is none
[[nodiscard]] Result<Activity> forecast_with(std::string_view text, Month month);

/// The table as forecast_from_file() reads it again, R12 to a tenth. `about`: lines put in front as comments.
[[nodiscard]] std::string to_csv(const ForecastTable& table, std::string_view about);

}  // namespace skerry::ionosphere
