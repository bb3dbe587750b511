// Legal time at places of the world on days of 2027, and its change within a span of days.
#include <cmath>
#include <fstream>
#include <set>
#include <sstream>

#include "check.hpp"
#include "skerry/sun/clock_spans.hpp"
#include "skerry/sun/events.hpp"
#include "skerry/sun/nearest_zone.hpp"

using namespace std::chrono;
using namespace skerry::sun;
using skerry::GeoPoint;
using skerry::UtcTime;

namespace {

std::vector<std::vector<std::string>> clocks() {
  std::ifstream in(std::string(SKERRY_SOURCE_DIR) + "/tests/sun/authorities/clocks.csv");
  std::vector<std::vector<std::string>> rows;
  std::string line;
  for (int skip = 2; std::getline(in, line);) {
    if (skip-- > 0) continue;
    std::vector<std::string> cells;
    std::stringstream cut(line);
    for (std::string cell; std::getline(cut, cell, ',');) cells.push_back(cell);
    rows.push_back(cells);
  }
  return rows;
}

skerry::Day day_of(const std::string& iso) {
  return year{std::stoi(iso.substr(0, 4))} / static_cast<unsigned>(std::stoul(iso.substr(5, 2))) /
         std::chrono::day{static_cast<unsigned>(std::stoul(iso.substr(8, 2)))};
}

/// "+1030" as we write it.
std::string as_ours(const std::string& abbreviation, int offset_min) {
  return abbreviation[0] == '+' || abbreviation[0] == '-' ? offset_text(offset_min * 60) : abbreviation;
}

}  // namespace

// Source: tests/sun/authorities/make_clocks.py: borders of timezone-boundary-builder, offsets and letters of the
// system's tz database by Python, the Sun by PyEphem.
TEST_CASE("clocks and the Sun agree with others at 40 places on 5 days", "[sun][known]") {
  const auto rows = clocks();
  REQUIRE(rows.size() == 200);
  std::set<int> odd;
  double worst_s = 0;
  for (const auto& row : rows) {
    CAPTURE(row[0], row[3], row[4]);
    const auto at = GeoPoint::at_deg(std::stod(row[1]), std::stod(row[2]));
    const auto zone = legal_zone(at);
    const UtcTime noon = sys_days{day_of(row[3])} + 12h;
    const int offset_min = std::stoi(row[6]);
    CHECK_FALSE(zone.nautical());
    CHECK(zone.offset_s(noon) == offset_min * 60);
    CHECK(zone.label(noon) == as_ours(row[5], offset_min));
    odd.insert((offset_min % 60 + 60) % 60);
    const auto sun = skerry::sun::day(at, day_of(row[3]));
    for (const auto& [ours, theirs, local] :
         {std::tuple{sun.rise, row[7], row[8]}, std::tuple{sun.set, row[9], row[10]}}) {
      CHECK(ours.has_value() == (theirs != "none"));
      if (!ours || theirs == "none") continue;
      const UtcTime when{seconds{std::stoll(theirs)}};
      worst_s = std::max(worst_s, std::abs(static_cast<double>((*ours - when).count())));
      CHECK(zone.local_text(when) == local);
    }
  }
  CAPTURE(worst_s);
  CHECK(worst_s < 30);  // near the poles the Sun grazes the horizon; elsewhere 7 s
  CHECK(odd == std::set<int>{0, 30, 45});
}

TEST_CASE("only out at sea the clock is the nautical one, and says so", "[sun][edge]") {
  const UtcTime noon = sys_days{year{2027} / 7 / 1} + 12h;
  const auto atlantic = legal_zone(GeoPoint::at_deg(44, -30));
  CHECK(atlantic.nautical());
  CHECK(atlantic.label(noon) == "-02:00 nautical");
  CHECK(legal_zone(GeoPoint::at_deg(0, -12)).label(noon) == "-01:00 nautical");
  CHECK(legal_zone(GeoPoint::at_deg(40, 7.6)).name() == "Europe/Rome");  // some 70 km off Sardinia
}

TEST_CASE("a change of clocks within a trip is found to the second", "[sun][known]") {
  // Source: tz database, rule LH: from 02:00 summer time (+11) back to 01:30 (+10:30) on the first Sunday of April.
  const auto lord_howe = Zone::find("Australia/Lord_Howe", {}).value();
  const auto spans = clock_spans(lord_howe, year{2027} / 4 / 1, year{2027} / 4 / 7);
  REQUIRE(spans.size() == 2);
  CHECK(spans[0].label == "+11:00");
  CHECK(spans[0].last == year{2027} / 4 / 3);
  CHECK(spans[1].first == year{2027} / 4 / 4);
  CHECK(spans[1].label == "+10:30");
  CHECK(spans[1].since == sys_days{year{2027} / 4 / 3} + 15h);
  CHECK(span_of(spans, year{2027} / 4 / 5).offset_s == 10 * 3600 + 1800);
  CHECK(span_of(spans, year{2027} / 3 / 1).offset_s == 11 * 3600);
  CHECK(span_of(spans, year{2027} / 5 / 1).offset_s == 10 * 3600 + 1800);
  CHECK(clock_spans(Zone::fixed(3600, "+01:00"), year{2027} / 4 / 1, year{2027} / 4 / 7).size() == 1);
  CHECK(odd_minutes(spans[1].offset_s) == 30);
  CHECK(local_minute(20, spans[1].offset_s) == 6 * 60 + 30);
  CHECK(odd_minutes(-(3 * 3600 + 1800)) == 30);
  CHECK(local_minute(1, -(3 * 3600 + 1800)) == 21 * 60 + 30);
}

TEST_CASE("labels are letters where clocks have them and offsets where they have numbers", "[sun][known]") {
  // Source: the tz database's abbreviations.
  const auto label = [](const char* name, int month) {
    return Zone::find(name, {}).value().label(sys_days{year{2027} / month / 1} + 12h);
  };
  CHECK(label("Europe/Rome", 7) == "CEST");
  CHECK(label("Europe/Rome", 1) == "CET");
  CHECK(label("Australia/Lord_Howe", 7) == "+10:30");
  CHECK(label("America/Sao_Paulo", 7) == "-03:00");
  CHECK(Zone::utc().label({}) == "UTC");
  CHECK(Zone::fixed(4 * 3600, "+04:00").label({}) == "+04:00");
  CHECK(Zone::find("Europe/Rome", {}).value().labelled_clock(sys_days{year{2027} / 7 / 1} + 12h) ==
        "14:00 CEST");
}

TEST_CASE("a lost sign and swapped halves show by the zone, with what was meant", "[sun][property]") {
  const auto check = [](const char* zone, double lat_deg, double lon_deg) {
    return misplaced(Zone::find(zone, {}).value(), GeoPoint::at_deg(lat_deg, lon_deg),
                     sys_days{year{2027} / 2 / 1});
  };
  const auto verde = check("Atlantic/Cape_Verde", 25.49, 28.98);  // an oasis
  REQUIRE(verde);
  CHECK(verde->lies == "in Egypt");
  CHECK(verde->only_longitude);
  REQUIRE_FALSE(check("Atlantic/Cape_Verde", 16.0, -24.0));
  const auto sal = check("Atlantic/Cape_Verde", 16.73, 22.93);
  REQUIRE(sal);
  REQUIRE(sal->meant);
  CHECK(sal->only_longitude);
  CHECK_THAT(sal->meant->lat_deg, Catch::Matchers::WithinAbs(16.73, 1e-9));
  CHECK_THAT(sal->meant->lon_deg, Catch::Matchers::WithinAbs(-22.93, 1e-9));
  const auto swapped = check("Indian/Mauritius", 63.43, -19.70);
  REQUIRE(swapped);
  REQUIRE(swapped->meant);
  CHECK_FALSE(swapped->only_longitude);
  CHECK_THAT(swapped->meant->lat_deg, Catch::Matchers::WithinAbs(-19.70, 1e-9));
  CHECK_THAT(swapped->meant->lon_deg, Catch::Matchers::WithinAbs(63.43, 1e-9));
  CHECK(swapped->lies == "in Iceland");
  // In their places, however far the law has moved the clock; and where clocks follow no longitude.
  CHECK_FALSE(check("Asia/Shanghai", 39.47, 75.99));
  CHECK_FALSE(check("Pacific/Kiritimati", 1.87, -157.4));
  CHECK_FALSE(check("Antarctica/McMurdo", -89.99, 0));
  CHECK_FALSE(check("UTC", -19.7, 63.43));
  CHECK(check("-09:00", -19.7, 63.43));
}
