#include "skerry/advice/agenda.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>
#include <map>

#include "skerry/circuit/openings.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/units.hpp"

namespace skerry::advice {

namespace {

using std::chrono::days;
using std::chrono::minutes;
using std::chrono::sys_days;

/// Judgement: shorter ones are over before the antenna is up.
constexpr minutes shortest_opening{10};
constexpr minutes leave_notice{15};

struct Span {
  UtcTime start, end;
};

/// Sorted, touching and overlapping ones joined.
std::vector<Span> joined(std::vector<Span> spans) {
  std::sort(spans.begin(), spans.end(), [](const Span& a, const Span& b) { return a.start < b.start; });
  std::vector<Span> out;
  for (const auto& span : spans) {
    if (!out.empty() && span.start <= out.back().end) {
      out.back().end = std::max(out.back().end, span.end);
    } else {
      out.push_back(span);
    }
  }
  return out;
}

std::vector<Span> common(const std::vector<Span>& a, const std::vector<Span>& b) {
  std::vector<Span> out;
  for (const auto& x : a) {
    for (const auto& y : b) {
      const Span both{std::max(x.start, y.start), std::min(x.end, y.end)};
      if (both.end - both.start >= shortest_opening) out.push_back(both);
    }
  }
  return out;
}

UtcTime local(const kit::Site& site, sys_days day, int minute) {
  return site.zone.to_utc(Day{day + days{minute / 1440}}, minute % 1440);
}

std::vector<Event> sessions_of(const kit::Trip& trip, const Advice& advice, std::size_t s) {
  std::vector<Event> out;
  const auto& site = trip.sites[s];
  std::map<sys_days, int> count;
  for (const auto& session : trip.sessions) {
    if (session.site != site.id) continue;
    std::vector<Day> when = session.days;
    if (when.empty()) {
      for (sys_days d{trip.first_day}; d <= sys_days{trip.last_day}; d += days{1}) when.emplace_back(d);
    }
    for (const Day day : when) {
      Event e;
      e.site = static_cast<int>(s);
      e.start = local(site, sys_days{day}, session.start_minute);
      e.end = local(site, sys_days{day}, session.end_minute);
      if (e.end <= e.start) continue;
      for (const auto& plan : advice.days) {
        const bool same = plan.site == e.site && plan.date == day;
        if (same && plan.turn_back && e.end > *plan.turn_back) e.after_daylight = true;
      }
      e.key = fmt::format("session|{}|{}|{}", site.id, to_iso(day), count[sys_days{day}]++);
      out.push_back(std::move(e));
    }
  }
  return out;
}

/// One opening of the day's round, laid onto every UTC day that the trip touches.
std::vector<Span> laid_out(const std::vector<circuit::Opening>& openings, const kit::Trip& trip) {
  std::vector<Span> out;
  // cppcheck-suppress constStatement ; takes the date's minus for a sign
  for (sys_days d = sys_days{trip.first_day} - days{2}; d <= sys_days{trip.last_day} + days{2};
       d += days{1}) {
    for (const auto& o : openings) {
      const auto at = [&](double hours) {
        return UtcTime{d} + std::chrono::seconds(std::lround(hours * 60) * 60);
      };
      out.push_back(o.all_day ? Span{at(0), at(24)} : Span{at(o.start_h), at(o.end_h)});
    }
  }
  return joined(std::move(out));
}

/// What of an opening goes the long way: each whole hour stands for half an hour to either side.
std::optional<Event::LongWay> long_way_of(const Advice& advice, const Event& e) {
  std::optional<Event::LongWay> out;
  using std::chrono::hours;
  for (auto hour = std::chrono::round<hours>(e.start); hour <= std::chrono::round<hours>(e.end);
       hour += hours{1}) {
    const UtcTime from = std::max<UtcTime>(e.start, hour - minutes{30});
    const UtcTime to = std::min<UtcTime>(e.end, hour + minutes{30});
    const auto& slot = advice.openings.at(e.site, e.target->value(),
                                          static_cast<int>(std::lround(utc_hour(hour))), e.band->value());
    if (to <= from || slot.way == geodesy::Way::short_way) continue;
    if (!out) out = Event::LongWay{from, to, 0};
    out->to = to;
  }
  if (!out) return out;
  for (const auto& t : advice.targets) {
    if (t.target == e.target->value()) out->bearing_deg = wrap_360(t.bearing_deg + 180);
  }
  return out;
}

void add_openings(const kit::Trip& trip, const Advice& advice, std::size_t s, const std::vector<Span>& wanted,
                  std::vector<Event>& out) {
  for (std::size_t t = 0; t < trip.targets.size(); ++t) {
    for (std::size_t b = 0; b < trip.bands.size(); ++b) {
      std::array<double, 24> values{};
      for (int h = 0; h < 24; ++h) {
        const auto& slot =
            advice.openings.at(static_cast<int>(s), static_cast<int>(t), h, static_cast<int>(b));
        nth(values, h) = slot.open() ? slot.days_both : 0;
      }
      std::map<std::string, int> count;
      for (const auto& span :
           common(laid_out(circuit::openings(values, trip.want_days_in_ten), trip), wanted)) {
        Event e;
        e.kind = EventKind::opening;
        e.site = static_cast<int>(s);
        e.target.emplace(t);
        e.band.emplace(b);
        e.start = span.start;
        e.end = span.end;
        // The best whole hour within, or the nearest one to a span that holds none.
        const auto middle = std::chrono::round<std::chrono::hours>(span.start + (span.end - span.start) / 2);
        e.peak = middle;
        auto hour = std::chrono::ceil<std::chrono::hours>(span.start);
        if (hour > span.end) hour = middle;
        for (; hour <= std::max<UtcTime>(span.end, middle); hour += std::chrono::hours{1}) {
          const auto& slot = advice.openings.at(
              e.site, e.target->value(), static_cast<int>(std::lround(utc_hour(hour))), e.band->value());
          if (slot.days_both <= e.peak_days) continue;
          e.peak_days = slot.days_both;
          e.peak = hour;
          if (slot.by) e.setup = slot.by->setup;
        }
        e.long_way = long_way_of(advice, e);
        const auto date = to_iso(Day{std::chrono::floor<days>(e.start)});
        e.key = fmt::format("opening|{}|{}|{}|{}|{}", trip.sites[s].id, trip.targets[t].region.id,
                            trip.bands[b].id, date, count[date]++);
        out.push_back(std::move(e));
      }
    }
  }
}

}  // namespace

std::vector<Event> agenda(const kit::Trip& trip, const Advice& advice, bool all_hours) {
  std::vector<Event> out;
  const bool has_openings = !advice.openings.slots.empty();
  for (std::size_t s = 0; s < trip.sites.size(); ++s) {
    const auto sessions = sessions_of(trip, advice, s);
    std::vector<Span> wanted;
    wanted.reserve(sessions.size());
    for (const auto& e : sessions) wanted.push_back({e.start, e.end});
    if (all_hours)
      wanted = {{local(trip.sites[s], sys_days{trip.first_day}, 0),
                 local(trip.sites[s], sys_days{trip.last_day}, 24 * 60)}};
    out.insert(out.end(), sessions.begin(), sessions.end());
    if (has_openings) add_openings(trip, advice, s, joined(std::move(wanted)), out);
  }
  for (const auto& day : advice.days) {
    if (!day.turn_back) continue;
    Event e;
    e.kind = EventKind::leave;
    e.site = day.site;
    e.start = *day.turn_back - leave_notice;
    e.end = *day.turn_back;
    e.key = fmt::format("leave|{}|{}", nth(trip.sites, day.site).id, to_iso(day.date));
    out.push_back(std::move(e));
  }
  std::stable_sort(out.begin(), out.end(), [](const Event& a, const Event& b) {
    return std::tuple(a.start, a.kind, a.site, a.target, a.band) <
           std::tuple(b.start, b.kind, b.site, b.target, b.band);
  });
  return out;
}

std::vector<Event> gathered(const std::vector<Event>& events) {
  std::vector<Event> out;
  for (const auto& e : events) {
    if (e.kind != EventKind::opening) out.push_back(e);
  }
  for (auto& session : out) {
    if (session.kind != EventKind::session) continue;
    for (const auto& e : events) {
      if (e.kind == EventKind::opening && e.site == session.site && e.start < session.end &&
          session.start < e.end)
        session.within.push_back(e);
    }
  }
  return out;
}

Track track_of(const geodesy::Path& path, std::optional<circuit::BandExplanation> answer) {
  Track out;
  out.path = path;
  const int steps = std::max(1, static_cast<int>(std::ceil(path.distance_km / 100)));
  for (int i = 0; i <= steps; ++i)
    out.line.push_back(geodesy::point_at(path, static_cast<double>(i) / steps));
  out.answer = std::move(answer);
  if (!out.answer) return out;
  const auto& e = *out.answer;
  const bool open = e.verdict == circuit::Verdict::works || e.verdict == circuit::Verdict::sometimes ||
                    e.verdict == circuit::Verdict::too_weak;
  for (int hop = 1; open && hop <= e.mode.hops; ++hop) {
    out.reflections.push_back({geodesy::point_at(path, (hop - 0.5) / e.mode.hops), hop});
  }
  return out;
}

}  // namespace skerry::advice
