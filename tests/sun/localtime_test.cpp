#include "skerry/sun/localtime.hpp"

#include <cstdlib>
#include <ctime>
#include <filesystem>
#include <random>

#include "check.hpp"
#include "zone_lookup.hpp"

using namespace std::chrono;
using skerry::UtcTime;
using skerry::sun::Zone;

namespace {
skerry::Day ymd(int y, unsigned m, unsigned d) {
  return year{y} / month{m} / std::chrono::day{d};
}
UtcTime utc(int y, unsigned m, unsigned d, int h = 0, int min = 0) {
  return sys_days{ymd(y, m, d)} + hours{h} + minutes{min};
}
Zone zone(const char* name) {
  const auto z = Zone::find(name, {"--zone"});
  REQUIRE(z);
  return *z;
}
}  // namespace

TEST_CASE("zones have the offsets that clocks show there", "[sun][known]") {
  // Common knowledge of civil time: Mauritius +4, Nepal +5:45, Chatham +12:45 (winter), Kiribati's Line
  // Islands +14.
  CHECK(zone("Indian/Mauritius").offset_s(utc(2027, 2, 14)) == 4 * 3600);
  CHECK(zone("Asia/Kathmandu").offset_s(utc(2027, 2, 14)) == 5 * 3600 + 45 * 60);
  CHECK(zone("Pacific/Chatham").offset_s(utc(2027, 7, 1)) == 12 * 3600 + 45 * 60);
  CHECK(zone("Pacific/Kiritimati").offset_s(utc(2027, 7, 1)) == 14 * 3600);
  CHECK(zone("America/New_York").offset_s(utc(2027, 1, 1)) == -5 * 3600);
  CHECK(zone("America/New_York").offset_s(utc(2027, 7, 1)) == -4 * 3600);
  CHECK(zone("UTC").offset_s(utc(2027, 7, 1)) == 0);
  CHECK(zone("Indian/Mauritius").name() == "Indian/Mauritius");
}

TEST_CASE("local texts, hours and weekdays are those of the place", "[sun][known]") {
  const Zone mauritius = zone("Indian/Mauritius");
  CHECK(mauritius.local_text(utc(2027, 2, 14, 5, 31)) == "2027-02-14 09:31");
  CHECK(mauritius.local_clock(utc(2027, 2, 14, 21, 5)) == "01:05");
  CHECK(mauritius.local_text(utc(2027, 2, 14, 21, 5)) == "2027-02-15 01:05");
  CHECK_THAT(mauritius.local_hour(utc(2027, 2, 14, 5, 30)), WithinAbs(9.5, 1e-12));
  // 14 February 2027 is a Sunday (calendar).
  CHECK(mauritius.local_weekday(utc(2027, 2, 14, 5)) == 0);
  CHECK(mauritius.local_weekday(utc(2027, 2, 14, 21)) == 1);
  CHECK(zone("-05:00").local_text(utc(2027, 1, 1, 3)) == "2026-12-31 22:00");
}

TEST_CASE("a clock time in the spring gap moves forward and an ambiguous one is the first", "[sun][known]") {
  // EU rule (Directive 2000/84/EC): clocks go forward at 01:00 UTC on the last Sunday of March, back on that
  // of October.
  const Zone london = zone("Europe/London");
  CHECK(london.to_utc(ymd(2027, 3, 28), 59) == utc(2027, 3, 28, 0, 59));
  CHECK(london.to_utc(ymd(2027, 3, 28), 90) == utc(2027, 3, 28, 1, 30));
  CHECK(london.local_clock(london.to_utc(ymd(2027, 3, 28), 90)) == "02:30");
  CHECK(london.to_utc(ymd(2027, 3, 28), 150) == utc(2027, 3, 28, 1, 30));
  CHECK(london.to_utc(ymd(2026, 10, 25), 90) == utc(2026, 10, 25, 0, 30));
  CHECK(london.to_utc(ymd(2026, 10, 25), 150) == utc(2026, 10, 25, 2, 30));
  // Samoa had no 30 December 2011 at all: its noon lands on the 31st.
  const Zone apia = zone("Pacific/Apia");
  CHECK(apia.local_text(apia.to_utc(ymd(2011, 12, 30), 720)) == "2011-12-31 12:00");
}

TEST_CASE("local to UTC and back is the same clock wherever it exists", "[sun][property]") {
  for (const char* name :
       {"Indian/Mauritius", "Asia/Kathmandu", "+14:00", "-09:30", "UTC", "America/St_Johns"}) {
    const Zone z = zone(name);
    for (int i = 0; i < 365; ++i) {
      const skerry::Day d{sys_days{ymd(2027, 1, 1)} + days{i}};
      const int minute = 240 + (i * 37) % 1200;  // after 04:00, outside every change of clocks
      const UtcTime t = z.to_utc(d, minute);
      CHECK_THAT(z.local_hour(t) * 60.0, WithinAbs(minute, 1e-9));
      CHECK(z.local_text(t).substr(0, 10) == skerry::to_iso(d));
    }
  }
}

TEST_CASE("fixed offsets are read in the ways people write them", "[sun][edge]") {
  CHECK(zone("+04:00").offset_s({}) == 4 * 3600);
  CHECK(zone("-3:30").offset_s({}) == -(3 * 3600 + 1800));
  CHECK(zone("+0545").offset_s({}) == 5 * 3600 + 45 * 60);
  CHECK(zone("UTC-1").offset_s({}) == -3600);
  CHECK(zone(" utc+4 ").name() == "+04:00");
  CHECK(zone("-09:30").name() == "-09:30");
  CHECK(zone("Z").name() == "UTC");
  for (const char* bad :
       {"+15:00", "-13", "+4:60", "+", "+4:5", "+04:00:00", "++4", "+4h", "4", "+-4", "UTC+"}) {
    CAPTURE(bad);
    CHECK_FALSE(Zone::find(bad, {"--zone"}));
  }
}

TEST_CASE("the nominal zone of a longitude is its nearest hour", "[sun][known]") {
  // Nautical time zones: 15 deg wide, centred on multiples of 15 deg.
  CHECK(Zone::nominal(0).name() == "UTC");
  CHECK(Zone::nominal(7.4).name() == "UTC");
  CHECK(Zone::nominal(63.43).name() == "+04:00");
  CHECK(Zone::nominal(-77).offset_s({}) == -5 * 3600);
  CHECK(Zone::nominal(180).offset_s({}) == 12 * 3600);
  CHECK(Zone::nominal(-179).offset_s({}) == -12 * 3600);
}

TEST_CASE("an unknown zone is told with the nearest name", "[sun][edge]") {
  const auto typo = Zone::find("Indian/Mauritus", {"trip.toml", 3, 8});
  REQUIRE_FALSE(typo);
  CHECK(typo.error().mend.find("'Indian/Mauritius'") != std::string::npos);
  CHECK(typo.error().where.line == 3);
  CHECK(Zone::find("mauritius", {}).error().mend.find("'Indian/Mauritius'") != std::string::npos);
  CHECK(Zone::find("St Helena", {}).error().mend.find("'Atlantic/St_Helena'") != std::string::npos);
  for (const std::string& bad : {std::string(), std::string("../../../etc/passwd"), std::string("a\0b", 3),
                                 std::string(20000, 'x'), std::string("\x1b[2J\n"), std::string("/")}) {
    const auto z = Zone::find(bad, {"--zone"});
    REQUIRE_FALSE(z);
    CHECK(z.error().to_line().find('\n') == std::string::npos);
    CHECK(z.error().to_line().find('\x1b') == std::string::npos);
    CHECK(z.error().to_line().size() < 400);
  }
}

// The authority is the C library with the machine's own tz database, which may be of another date than ours:
// governments change their minds about years to come, and historians now and then about years gone by.
TEST_CASE("zones show what the C library shows", "[sun][known]") {
  if (!std::filesystem::exists("/usr/share/zoneinfo/Europe/London")) {
    WARN("skipped: no time zone database");
    return;
  }
  const char* const before = std::getenv("TZ");
  const std::string kept = before == nullptr ? "" : before;
  std::mt19937 random(17);
  std::uniform_int_distribution<std::int64_t> moment(utc(1950, 1, 2).time_since_epoch().count(),
                                                     utc(2026, 1, 1).time_since_epoch().count());
  int asked = 0, other = 0;
  for (const auto& name : skerry::sun::zone_names()) {
    if (!std::filesystem::exists("/usr/share/zoneinfo/" + name)) continue;
    const auto ours = zone(name.c_str());
    ::setenv("TZ", (":" + name).c_str(), 1);
    ::tzset();
    int differ = 0;
    for (int i = 0; i < 100; ++i) {
      const std::time_t when = moment(random);
      std::tm there{};
      REQUIRE(::localtime_r(&when, &there) != nullptr);
      differ += ours.offset_s(UtcTime{seconds{when}}) != there.tm_gmtoff ? 1 : 0;
      // And back, where that clock time is not shown twice or never.
      const auto local = when + there.tm_gmtoff;
      there.tm_isdst = -1;
      if (ours.offset_s(UtcTime{seconds{when - 90000}}) == ours.offset_s(UtcTime{seconds{when + 90000}}))
        differ += ours.to_utc(skerry::Day{floor<days>(sys_seconds{seconds{local}})},
                              static_cast<int>(((local % 86400) + 86400) % 86400 / 60)) !=
                          floor<minutes>(UtcTime{seconds{local}}) - seconds{there.tm_gmtoff}
                      ? 1
                      : 0;
    }
    ++asked;
    other += differ > 0 ? 1 : 0;
    CAPTURE(name);
    CHECK(differ < 100);
  }
  if (before == nullptr) {
    ::unsetenv("TZ");
  } else {
    ::setenv("TZ", kept.c_str(), 1);
  }
  ::tzset();
  CHECK(asked > 400);
  CHECK(other * 50 < asked);  // at most one in fifty
}
