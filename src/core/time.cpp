#include "skerry/core/time.hpp"

#include <fmt/format.h>

#include <charconv>
#include <optional>

namespace skerry {

namespace {

using namespace std::chrono;

std::optional<int> digits(std::string_view text, std::size_t from, std::size_t count) {
  if (from + count > text.size()) return std::nullopt;
  int value = 0;
  for (const char c : text.substr(from, count)) {
    if (c < '0' || c > '9') return std::nullopt;
    value = value * 10 + (c - '0');
  }
  return value;
}

std::string years_accepted() {
  return fmt::format("years {} to {}", first_year, last_year);
}

}  // namespace

Result<Month> parse_month(std::string_view text, const Where& where) {
  const auto y = digits(text, 0, 4);
  const auto m = digits(text, 5, 2);
  if (text.size() != 7 || text[4] != '-' || !y || !m) {
    // "2027-6": one digit short.
    const bool short_month = text.size() == 6 && text[4] == '-' && y && digits(text, 5, 1);
    return fail(where, "'" + std::string(text) + "'", "a month like 2027-02",
                short_month ? "write " + std::string(text.substr(0, 5)) + "0" + text[5] : std::string());
  }
  const Month out = year{*y} / month{static_cast<unsigned>(*m)};
  if (!out.ok()) return fail(where, "'" + std::string(text) + "'", "a month 01 to 12");
  if (*y < first_year || *y > last_year) {
    return fail(where, "year " + std::to_string(*y), years_accepted());
  }
  return out;
}

Result<Day> parse_day(std::string_view text, const Where& where) {
  const auto y = digits(text, 0, 4);
  const auto m = digits(text, 5, 2);
  const auto d = digits(text, 8, 2);
  if (text.size() != 10 || text[4] != '-' || text[7] != '-' || !y || !m || !d) {
    return fail(where, "'" + std::string(text) + "'", "a date like 2027-02-14");
  }
  const Day out = year{*y} / month{static_cast<unsigned>(*m)} / day{static_cast<unsigned>(*d)};
  if (!out.ok()) return fail(where, "'" + std::string(text) + "'", "a day that the calendar has");
  if (*y < first_year || *y > last_year) {
    return fail(where, "year " + std::to_string(*y), years_accepted());
  }
  return out;
}

UtcTime start_of(Day day) {
  return time_point_cast<seconds>(sys_days{day});
}

Day middle_of(Month month) {
  return month / 15;
}

Month month_of(UtcTime time) {
  const Day day{floor<days>(time)};
  return day.year() / day.month();
}

double utc_hour(UtcTime time) {
  return static_cast<double>((time - floor<days>(time)).count()) / 3600.0;
}

std::string to_iso(UtcTime time) {
  const auto midnight = floor<days>(time);
  const hh_mm_ss clock{time - midnight};
  return fmt::format("{}T{:02}:{:02}:{:02}Z", to_iso(Day{midnight}), clock.hours().count(),
                     clock.minutes().count(), clock.seconds().count());
}

std::string to_iso(Day day) {
  return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(day.year()), static_cast<unsigned>(day.month()),
                     static_cast<unsigned>(day.day()));
}

std::string to_iso(Month month) {
  return fmt::format("{:04}-{:02}", static_cast<int>(month.year()), static_cast<unsigned>(month.month()));
}

double julian_date(UtcTime time) {
  // 1970-01-01 00:00 is JD 2440587.5.
  return 2440587.5 + static_cast<double>(time.time_since_epoch().count()) / 86400.0;
}

}  // namespace skerry
