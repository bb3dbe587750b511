#include "skerry/sun/clock_spans.hpp"

#include <cassert>
#include <chrono>

namespace skerry::sun {

using std::chrono::days;
using std::chrono::seconds;
using std::chrono::sys_days;

std::vector<ClockSpan> clock_spans(const Zone& zone, skerry::Day first, skerry::Day last) {
  assert(first.ok() && last.ok() && sys_days{first} <= sys_days{last});
  std::vector<ClockSpan> out;
  UtcTime noon_before{};
  for (sys_days d{first}; d <= sys_days{last}; d += days{1}) {
    const skerry::Day day{d};
    const UtcTime noon = zone.to_utc(day, 12 * 60);
    const int offset_s = zone.offset_s(noon);
    if (!out.empty() && out.back().offset_s == offset_s) {
      out.back().last = day;
    } else {
      UtcTime since = zone.to_utc(day, 0);
      if (!out.empty()) {
        // Changed between two noons: halved down to the second.
        UtcTime before = noon_before;
        since = noon;
        while (since - before > seconds{1}) {
          const UtcTime middle = before + (since - before) / 2;
          (zone.offset_s(middle) == offset_s ? since : before) = middle;
        }
      }
      out.push_back({day, day, offset_s, zone.label(noon), since});
    }
    noon_before = noon;
  }
  return out;
}

const ClockSpan& span_of(const std::vector<ClockSpan>& spans, skerry::Day day) {
  assert(!spans.empty());
  for (const auto& span : spans) {
    if (sys_days{day} <= sys_days{span.last}) return span;
  }
  return spans.back();
}

int odd_minutes(int offset_s) {
  return (offset_s / 60 % 60 + 60) % 60;
}

int local_minute(int utc_hour, int offset_s) {
  return ((utc_hour * 60 + offset_s / 60) % 1440 + 1440) % 1440;
}

}  // namespace skerry::sun
