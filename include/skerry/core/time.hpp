// Moments, days and months in UTC.
// Layer: core. Sees nothing.
#pragma once

#include <chrono>
#include <string>

#include "skerry/core/result.hpp"

namespace skerry {

/// Whole seconds of UTC. UT1 = UTC is accepted everywhere (under 0.9 s apart).
using UtcTime = std::chrono::sys_seconds;
using Day = std::chrono::year_month_day;
using Month = std::chrono::year_month;

/// The years every part of the program accepts. Judgement: the almanac formulas hold for 1950-2050.
inline constexpr int first_year = 1950;
inline constexpr int last_year = 2050;

/// "2027-02-14" within first_year..last_year. Errors carry `where`.
[[nodiscard]] Result<Day> parse_day(std::string_view text, const Where& where);
/// "2027-02".
[[nodiscard]] Result<Month> parse_month(std::string_view text, const Where& where);

/// 00:00 UTC of the day.
[[nodiscard]] UtcTime start_of(Day day);
/// The 15th of a month: the day a monthly map stands for.
[[nodiscard]] Day middle_of(Month month);
[[nodiscard]] Month month_of(UtcTime time);
/// Hours since 00:00 UTC, 0 <= h < 24.
[[nodiscard]] double utc_hour(UtcTime time);

/// "2027-02-14T05:31:07Z", "2027-02-14" and "2027-02".
[[nodiscard]] std::string to_iso(UtcTime time);
[[nodiscard]] std::string to_iso(Day day);
[[nodiscard]] std::string to_iso(Month month);

/// Julian date of a UTC moment. Source: Meeus, Astronomical Algorithms, ch. 7 (from memory);
/// 2000-01-01 12:00 is 2451545.0.
[[nodiscard]] double julian_date(UtcTime time);

}  // namespace skerry
