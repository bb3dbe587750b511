#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>

#include "skerry/advice/reach.hpp"
#include "skerry/core/nth.hpp"

namespace skerry::advice {

namespace {

using std::chrono::days;
using std::chrono::seconds;
using std::chrono::sys_days;

struct Span {
  UtcTime start, end;
  Day day;  ///< on which it begins
};

std::vector<Span> spans_of(const kit::Trip& trip, const kit::Site& site) {
  std::vector<Span> out;
  for (const auto& session : trip.sessions) {
    if (session.site != site.id) continue;
    const auto on = [&](Day day) {
      // The end by the clock as well: a session across the change of clocks is as long as the clock makes it.
      const UtcTime start = site.zone.to_utc(day, session.start_minute % 1440);
      const int whole_days = session.end_minute / 1440;
      const Day end_day{sys_days{day} + days{whole_days}};
      const UtcTime end = site.zone.to_utc(end_day, session.end_minute % 1440);
      if (end > start) out.push_back({start, end, day});
    };
    if (session.days.empty()) {
      for (sys_days d{trip.first_day}; d <= sys_days{trip.last_day}; d += days{1}) on(Day{d});
    } else {
      for (const Day day : session.days) on(day);
    }
  }
  std::sort(out.begin(), out.end(), [](const Span& a, const Span& b) { return a.start < b.start; });
  std::vector<Span> merged;
  for (const auto& span : out) {
    if (!merged.empty() && span.start <= merged.back().end) {
      merged.back().end = std::max(merged.back().end, span.end);
    } else {
      merged.push_back(span);
    }
  }
  return merged;
}

}  // namespace

std::vector<DayHour> session_slices(const kit::Trip& trip) {
  std::vector<DayHour> out;
  for (std::size_t s = 0; s < trip.sites.size(); ++s) {
    const int site = static_cast<int>(s);
    if (trip.sessions.empty()) {
      for (UtcTime t = start_of(trip.first_day); t < start_of(trip.last_day) + days{1};
           t += std::chrono::hours{1}) {
        out.push_back(
            {site, static_cast<int>(std::lround(utc_hour(t))), t, Day{std::chrono::floor<days>(t)}, 60});
      }
      continue;
    }
    for (const auto& span : spans_of(trip, trip.sites[s])) {
      // Half an hour later, the nearest hour is the hour begun.
      UtcTime t = span.start + std::chrono::minutes{30};
      const UtcTime end = span.end + std::chrono::minutes{30};
      while (t < end) {
        const UtcTime begun = std::chrono::floor<std::chrono::hours>(t);
        const UtcTime next = std::min(end, begun + std::chrono::hours{1});
        out.push_back({site, static_cast<int>(std::lround(utc_hour(begun))), begun, span.day,
                       static_cast<double>((next - t).count()) / 60});
        t = next;
      }
    }
  }
  return out;
}

double time_left(const kit::Trip& trip, int site, double setup_minutes) {
  if (trip.sessions.empty()) return 1;
  double all = 0, left = 0;
  for (const auto& span : spans_of(trip, nth(trip.sites, site))) {
    const double minutes = static_cast<double>((span.end - span.start).count()) / 60;
    all += minutes;
    left += std::max(0.0, minutes - setup_minutes);
  }
  return all > 0 ? left / all : 1;
}

std::vector<SiteHour> session_hours(const kit::Trip& trip) {
  std::vector<std::array<double, 24>> minutes(trip.sites.size());
  for (auto& row : minutes) row.fill(0);
  for (const auto& slice : session_slices(trip)) {
    nth(nth(minutes, slice.site), slice.utc_hour) += slice.minutes;
  }
  std::vector<SiteHour> out;
  for (std::size_t s = 0; s < trip.sites.size(); ++s) {
    for (int h = 0; h < 24; ++h) {
      const double m = nth(minutes[s], h);
      if (m > 0) out.push_back({static_cast<int>(s), h, m});
    }
  }
  return out;
}

}  // namespace skerry::advice
