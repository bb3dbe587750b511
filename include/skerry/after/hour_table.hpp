// Tables of a month's hours: on how many of the days that could tell a station was heard. What beacons and receivers
// that never sleep come to. Room: after. Sees everything above it.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "skerry/after/spots.hpp"
#include "skerry/core/warnings.hpp"

namespace skerry::after {

struct HourTable {
  struct Row {
    Month month{};
    int utc_hour = 0;
    double mhz = 0;
    int tx = 0, rx = 0;  ///< indexes into `stations`
    double power_w = 0;
    double days_active = 0;  ///< on which both were at work and would have told, > 0
    double days_heard = 0;   ///< of these, 0..days_active
  };
  std::vector<GeoPoint> stations;
  std::vector<Row> rows;
  Warnings left_out;  ///< records that could not be read, in the order of the file
};

/// CSV (core/csv.hpp) with the columns month ("2017-07"), utc_hour, mhz, tx, rx (locator of 4 to 10 characters, or
/// "lat,lon" in quotes), power_w, days_active, days_heard; others are passed over. Rows without an active day tell
/// nothing and are passed over too. Broken records are left out and listed; a header without the columns, or no good
/// record, is an error.
[[nodiscard]] Checked<HourTable> read_hour_table(std::string_view text, const std::string& file);

/// As score_spots: a row is days_active cases, of which days_heard happened. Every band is also told by length of the
/// path (SpotScores::classes), and how well the hours of each way are ranked: a way counts with at least 12 hours that
/// tell, of which one day in ten at least was heard.
///   least_days  rows with fewer active days are passed over
///   limits      days of one month are not independent of each other, nor hours of one day
[[nodiscard]] SpotScores score_hours(const HourTable& table, const SpotQuestion& question, double least_days);

}  // namespace skerry::after
