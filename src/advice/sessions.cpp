#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>

#include "skerry/advice/inventory.hpp"
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
  std::size_t session = 0;
};

bool own_modes(const kit::Trip& trip) {
  return std::any_of(trip.sessions.begin(), trip.sessions.end(),
                     [](const kit::Session& s) { return !s.mode_shares.empty(); });
}

/// by_modes: sessions that count other modes stay apart; where they overlap the one that began earlier goes on.
std::vector<Span> spans_of(const kit::Trip& trip, const kit::Site& site, bool by_modes) {
  std::vector<Span> out;
  for (std::size_t k = 0; k < trip.sessions.size(); ++k) {
    const auto& session = trip.sessions[k];
    if (session.site != site.id) continue;
    const auto on = [&](Day day) {
      // The end by the clock as well: a session across the change of clocks is as long as the clock makes it.
      const UtcTime start = site.zone.to_utc(day, session.start_minute % 1440);
      const int whole_days = session.end_minute / 1440;
      const Day end_day{sys_days{day} + days{whole_days}};
      const UtcTime end = site.zone.to_utc(end_day, session.end_minute % 1440);
      if (end > start) out.push_back({start, end, day, k});
    };
    if (session.days.empty()) {
      for (sys_days d{trip.first_day}; d <= sys_days{trip.last_day}; d += days{1}) on(Day{d});
    } else {
      for (const Day day : session.days) on(day);
    }
  }
  std::stable_sort(out.begin(), out.end(), [](const Span& a, const Span& b) { return a.start < b.start; });
  const auto modes_of = [&](const Span& span) { return trip.sessions[span.session].mode_shares; };
  std::vector<Span> merged;
  for (auto span : out) {
    if (merged.empty() || span.start > merged.back().end) {
      merged.push_back(span);
    } else if (by_modes && modes_of(span) != modes_of(merged.back())) {
      span.start = merged.back().end;
      if (span.end > span.start) merged.push_back(span);
    } else {
      merged.back().end = std::max(merged.back().end, span.end);
    }
  }
  return merged;
}

}  // namespace

std::vector<DayHour> session_slices(const kit::Trip& trip) {
  std::vector<DayHour> out;
  const bool by_modes = own_modes(trip);
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
    for (const auto& span : spans_of(trip, trip.sites[s], by_modes)) {
      // Half an hour later, the nearest hour is the hour begun.
      UtcTime t = span.start + std::chrono::minutes{30};
      const UtcTime end = span.end + std::chrono::minutes{30};
      while (t < end) {
        const UtcTime begun = std::chrono::floor<std::chrono::hours>(t);
        const UtcTime next = std::min(end, begun + std::chrono::hours{1});
        out.push_back({site, static_cast<int>(std::lround(utc_hour(begun))), begun, span.day,
                       static_cast<double>((next - t).count()) / 60, Id<kit::Session>(span.session)});
        t = next;
      }
    }
  }
  return out;
}

double time_left(const kit::Trip& trip, int site, double setup_minutes) {
  if (trip.sessions.empty()) return 1;
  double all = 0, left = 0;
  for (const auto& span : spans_of(trip, nth(trip.sites, site), false)) {
    const double minutes = static_cast<double>((span.end - span.start).count()) / 60;
    all += minutes;
    left += std::max(0.0, minutes - setup_minutes);
  }
  return all > 0 ? left / all : 1;
}

std::vector<SiteHour> session_hours(const kit::Trip& trip) {
  std::vector<std::array<SiteHour, 24>> rows(trip.sites.size());
  for (const auto& slice : session_slices(trip)) {
    auto& hour = nth(nth(rows, slice.site), slice.utc_hour);
    hour.minutes += slice.minutes;
    hour.mode_shares.resize(trip.modes.size(), 0);
    for (const auto m : ids_of(trip.modes)) {
      const double share =
          slice.session ? trip.share_of(nth(trip.sessions, *slice.session), m) : trip.share_of(m);
      nth(hour.mode_shares, m.value()) += slice.minutes * share;
    }
  }
  std::vector<SiteHour> out;
  for (std::size_t s = 0; s < trip.sites.size(); ++s) {
    for (int h = 0; h < 24; ++h) {
      auto& hour = nth(rows[s], h);
      if (hour.minutes <= 0) continue;
      hour.site = static_cast<int>(s);
      hour.utc_hour = h;
      for (auto& share : hour.mode_shares) share /= hour.minutes;
      out.push_back(std::move(hour));
    }
  }
  return out;
}

std::vector<double> counted_shares(const kit::Trip& trip) {
  std::vector<double> out;
  for (const auto m : ids_of(trip.modes)) out.push_back(trip.share_of(m));
  if (!own_modes(trip)) return out;
  std::fill(out.begin(), out.end(), 0.0);
  double all = 0;
  for (const auto& hour : session_hours(trip)) {
    all += hour.minutes;
    for (std::size_t m = 0; m < out.size(); ++m) out[m] += hour.minutes * hour.mode_shares[m];
  }
  for (auto& share : out) share = all > 0 ? share / all : 0;
  return out;
}

}  // namespace skerry::advice
