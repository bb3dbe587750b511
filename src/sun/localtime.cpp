#include "skerry/sun/localtime.hpp"

#include <fmt/format.h>

#include <cassert>
#include <cmath>
#include <cstdint>

#include "skerry/core/text.hpp"
#include "skerry/core/units.hpp"
#include "zone_lookup.hpp"

namespace skerry::sun {

namespace {

UtcTime shifted(UtcTime when, int offset_s) {
  return when + std::chrono::seconds(offset_s);
}
std::int64_t seconds_of(UtcTime when) {
  return std::chrono::floor<std::chrono::seconds>(when.time_since_epoch()).count();
}

}  // namespace

Result<Zone> Zone::find(std::string_view name, const Where& where) {
  const std::string_view wanted = trim(name);
  const std::string small = lower(wanted);
  if (small == "utc" || small == "z") return utc();
  if (const auto offset_s = parse_offset_s(wanted)) return fixed(*offset_s, offset_text(*offset_s));
  const auto located = locate_zone(wanted, where);
  if (!located) return tl::unexpected<Error>(located.error());
  Zone out;
  out.name_ = std::string(wanted);
  out.steps_ = *located;
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
  Zone out = hours == 0 ? utc() : fixed(hours * 3600, offset_text(hours * 3600));
  out.nautical_ = true;
  return out;
}

int Zone::offset_s(UtcTime when) const {
  if (steps_.empty()) return fixed_offset_s_;
  return offset_at(steps_, seconds_of(when));
}

std::string Zone::label(UtcTime when) const {
  if (steps_.empty()) return nautical_ ? name_ + " nautical" : name_;
  const auto name = name_at(steps_, seconds_of(when));
  const bool number = name.empty() || name[0] == '+' || name[0] == '-';
  return number ? offset_text(offset_s(when)) : std::string(name);
}

std::string Zone::labelled_clock(UtcTime when) const {
  return local_clock(when) + " " + label(when);
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
  return shifted(as_if_utc,
                 -(steps_.empty() ? fixed_offset_s_ : offset_by_clock(steps_, seconds_of(as_if_utc))));
}

}  // namespace skerry::sun
