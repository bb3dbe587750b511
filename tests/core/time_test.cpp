#include "skerry/core/time.hpp"

#include "check.hpp"

using namespace skerry;

TEST_CASE("days are those of the calendar", "[core][edge]") {
  CHECK(parse_day("2028-02-29", {}).has_value());  // leap day
  CHECK_FALSE(parse_day("2027-02-29", {}).has_value());
  CHECK_FALSE(parse_day("2100-01-01", {}).has_value());
  CHECK_FALSE(parse_day("1949-12-31", {}).has_value());
  for (const char* bad :
       {"", "2027-2-14", "2027/02/14", "14-02-2027", "2027-02-14x", "2027-13-01", "2027-00-10"}) {
    CAPTURE(bad);
    const auto day = parse_day(bad, {"--date"});
    REQUIRE_FALSE(day.has_value());
    CHECK(day.error().to_line().find("--date: found") == 0);
  }
  CHECK(to_iso(*parse_month("2027-02", {})) == "2027-02");
  CHECK_FALSE(parse_month("2027-14", {}).has_value());
}

TEST_CASE("Julian dates agree with Meeus", "[core][known]") {
  using namespace std::chrono;
  // Source: Meeus, Astronomical Algorithms, ch. 7 (from memory): 2000-01-01 12:00 = 2451545.0; 1987-01-27 0h
  // = 2446822.5.
  CHECK(julian_date(sys_days{2000y / January / 1} + 12h) == 2451545.0);
  CHECK(julian_date(sys_days{1987y / January / 27} + 0h) == 2446822.5);
  CHECK(to_iso(UtcTime{sys_days{2027y / February / 14} + 5h + 31min + 7s}) == "2027-02-14T05:31:07Z");
  CHECK(utc_hour(sys_days{2027y / February / 14} + 5h + 30min) == 5.5);
}
