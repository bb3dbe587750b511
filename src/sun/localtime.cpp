#include "skerry/sun/localtime.hpp"

#include <date/tz.h>
#include <fmt/format.h>

#include <cassert>
#include <cmath>
#include <fstream>
#include <iterator>
#include <new>

#include "skerry/core/text.hpp"
#include "skerry/core/units.hpp"
#include "zone_file.hpp"
#include "zone_lookup.hpp"

namespace skerry::sun {

namespace {

const date::time_zone& as_zone(const void* zone) {
  return *static_cast<const date::time_zone*>(zone);
}

const ZoneDatabase& system_database() {
  static const ZoneDatabase database{
      [] {
        // The library passes over folders that the C library finds no memory to list: as if they were not
        // there. So much at once is more than they need together, and missing memory is told as such.
        ::operator delete(::operator new(1U << 20U));
        std::vector<std::string> names;
        for (const auto& zone : date::get_tzdb().zones) names.push_back(zone.name());
        return names;
      },
      [](const std::string& name) -> const void* { return date::locate_zone(name); }};
  return database;
}

/// Whether the system's file of a zone is broken; a file that is somewhere else is the library's affair.
/// Some of what is broken ends a program inside the library.
bool is_broken(const std::string& name) {
  std::ifstream in("/usr/share/zoneinfo/" + name, std::ios::binary);
  return in && !is_whole_zone_file(std::string{std::istreambuf_iterator<char>(in), {}});
}

UtcTime shifted(UtcTime when, int offset_s) {
  return when + std::chrono::seconds(offset_s);
}

}  // namespace

Result<Zone> Zone::find(std::string_view name, const Where& where) {
  const std::string_view wanted = trim(name);
  const std::string small = lower(wanted);
  if (small == "utc" || small == "z") return utc();
  if (const auto offset_s = parse_offset_s(wanted)) return fixed(*offset_s, offset_text(*offset_s));
  const auto located = locate_zone(wanted, where, system_database());
  if (!located) return tl::unexpected<Error>(located.error());
  const auto broken = [&] {
    return fail(where, "time zone '" + one_line(wanted) + "', whose file cannot be read",
                "a whole tz database", "install the package 'tzdata' again, or give an offset like '+04:00'");
  };
  Zone out;
  out.name_ = std::string(wanted);
  out.zone_ = *located;
  if (is_broken(as_zone(out.zone_).name())) return broken();
  try {
    // The zone's own file is read at its first use: a broken one is told here and not in the middle of a
    // report.
    static_cast<void>(as_zone(out.zone_).get_info(UtcTime{}));
  } catch (const std::bad_alloc&) {
    throw;
  } catch (const std::exception&) {
    return broken();
  }
  return out;
}

Zone Zone::utc() {
  return fixed(0, "UTC");
}

Zone Zone::fixed(int offset_s, std::string name) {
  Zone out;
  out.name_ = std::move(name);
  out.fixed_offset_s_ = offset_s;
  return out;
}

Zone Zone::nominal(double lon_deg) {
  const int hours = static_cast<int>(std::lround(wrap_180(lon_deg) / 15.0));
  return hours == 0 ? utc() : fixed(hours * 3600, offset_text(hours * 3600));
}

int Zone::offset_s(UtcTime when) const {
  if (zone_ == nullptr) return fixed_offset_s_;
  return static_cast<int>(as_zone(zone_).get_info(when).offset.count());
}

std::string Zone::local_text(UtcTime when) const {
  const UtcTime local = shifted(when, offset_s(when));
  return to_iso(skerry::Day{std::chrono::floor<std::chrono::days>(local)}) + " " + local_clock(when);
}

std::string Zone::local_clock(UtcTime when) const {
  const UtcTime local = shifted(when, offset_s(when));
  const auto minute = (local - std::chrono::floor<std::chrono::days>(local)).count() / 60;
  return fmt::format("{:02}:{:02}", minute / 60, minute % 60);
}

double Zone::local_hour(UtcTime when) const {
  return utc_hour(shifted(when, offset_s(when)));
}

unsigned Zone::local_weekday(UtcTime when) const {
  const auto local_day = std::chrono::floor<std::chrono::days>(shifted(when, offset_s(when)));
  return std::chrono::weekday(local_day).c_encoding();
}

UtcTime Zone::to_utc(skerry::Day local_date, int minute_of_day) const {
  assert(local_date.ok() && minute_of_day >= 0 && minute_of_day <= 24 * 60);
  const UtcTime as_if_utc = start_of(local_date) + std::chrono::minutes(minute_of_day);
  if (zone_ == nullptr) return shifted(as_if_utc, -fixed_offset_s_);
  const auto info = as_zone(zone_).get_info(date::local_seconds{as_if_utc.time_since_epoch()});
  // Unique: its offset. Gap: the offset before it, which lands after the gap. Ambiguous: the first of the
  // two.
  return shifted(as_if_utc, -static_cast<int>(info.first.offset.count()));
}

}  // namespace skerry::sun
