// Local clock time of a named zone.
// Layer: sun. Sees core and geodesy.
#pragma once

#include <string>
#include <string_view>

#include "skerry/core/result.hpp"
#include "skerry/core/time.hpp"

namespace skerry::sun {

/// A zone of the tz database ("Indian/Mauritius", "UTC") or a fixed offset ("+04:00"). A small value, copied
/// freely; safe to use from several threads. The database is compiled in for the years that are computed
/// (core/time.hpp); rules of future years are those it knew on its date (data/zones/SOURCE.md). Source: RFC 8536.
class Zone {
 public:
  /// Names as the database spells them; offsets as "+04:00", "-3:30", "+0545", "+4", "UTC+4", within
  /// -12:00..+14:00. Unknown name: Error with the nearest known name, or the full name of a bare town.
  [[nodiscard]] static Result<Zone> find(std::string_view name, const Where& where);
  [[nodiscard]] static Zone utc();
  /// A fixed offset in whole seconds, east positive.
  [[nodiscard]] static Zone fixed(int offset_s, std::string name);
  /// The nautical zone of a longitude, longitude/15 rounded to the hour: for the open sea.
  [[nodiscard]] static Zone nominal(double lon_deg);

  [[nodiscard]] const std::string& name() const { return name_; }
  [[nodiscard]] bool nautical() const { return nautical_; }  ///< made by nominal()
  [[nodiscard]] int offset_s(UtcTime when) const;
  /// What this clock is called then: "CEST", or the offset where the tz database has but numbers, "+10:30";
  /// "-02:00 nautical".
  [[nodiscard]] std::string label(UtcTime when) const;
  /// "2027-02-14 09:31"
  [[nodiscard]] std::string local_text(UtcTime when) const;
  [[nodiscard]] std::string local_clock(UtcTime when) const;     ///< "09:31"
  [[nodiscard]] std::string labelled_clock(UtcTime when) const;  ///< "14:00 CEST"
  /// Local hour of day 0..24 and weekday (0 = Sunday).
  [[nodiscard]] double local_hour(UtcTime when) const;
  [[nodiscard]] unsigned local_weekday(UtcTime when) const;
  /// The UTC moment of a local clock time (0..1440, asserted) on a local date; a time inside the spring gap
  /// moves forward by the gap, an ambiguous one takes the first.
  [[nodiscard]] UtcTime to_utc(skerry::Day local_date, int minute_of_day) const;

 private:
  std::string name_;
  int fixed_offset_s_ = 0;
  bool nautical_ = false;
  std::string_view steps_;  // of the tables compiled in; empty: a fixed offset
};

/// "+04:00"
[[nodiscard]] std::string offset_text(int offset_s);

}  // namespace skerry::sun
