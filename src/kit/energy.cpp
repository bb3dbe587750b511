#include "skerry/kit/energy.hpp"

#include <algorithm>
#include <map>
#include <utility>

namespace skerry::kit {

namespace {

using Span = std::pair<UtcTime, UtcTime>;

double merged_hours(std::vector<Span> spans) {
  std::sort(spans.begin(), spans.end());
  double seconds = 0;
  UtcTime reached = UtcTime::min();
  for (const auto& [from, to] : spans) {
    const UtcTime start = std::max(from, reached);
    if (to > start) {
      seconds += static_cast<double>((to - start).count());
      reached = to;
    }
  }
  return seconds / 3600;
}

}  // namespace

double mean_current_a(const Rig& rig, const noise::Mode& mode) {
  const double sending = mode.duty * rig.transmit_a + (1 - mode.duty) * rig.receive_a;
  return mode.tx_share * sending + (1 - mode.tx_share) * rig.receive_a;
}

double hours_on(const Battery& battery, const Rig& rig, double mean_current_a) {
  return battery.usable * battery.watt_hours() / (rig.volts * mean_current_a);
}

double energy_wh(const Rig& rig, double mean_current_a, double hours) {
  return mean_current_a * rig.volts * hours;
}

bool suits(const Battery& battery, const Rig& rig) {
  // 11.1 V / 13.8 V is 0.804, 14.8 V / 13.8 V is 1.072.
  return battery.volts >= 0.80 * rig.volts && battery.volts <= 1.10 * rig.volts;
}

double longest_day_hours(const Trip& trip) {
  if (trip.sessions.empty()) return 24;
  double longest = 0;
  const std::chrono::sys_days last{trip.last_day};
  for (std::chrono::sys_days d{trip.first_day}; d <= last; d += std::chrono::days{1}) {
    const Day today{d};
    std::vector<Span> spans;
    for (const auto& session : trip.sessions) {
      if (!session.days.empty() &&
          std::find(session.days.begin(), session.days.end(), today) == session.days.end())
        continue;
      const auto site = std::find_if(trip.sites.begin(), trip.sites.end(),
                                     [&](const Site& s) { return s.id == session.site; });
      if (site == trip.sites.end()) continue;
      const UtcTime start = site->zone.to_utc(today, session.start_minute);
      // By the length of the session: a night on which the clocks change is not counted longer or shorter.
      spans.emplace_back(start, start + std::chrono::minutes{session.end_minute - session.start_minute});
    }
    longest = std::max(longest, merged_hours(std::move(spans)));
  }
  return longest;
}

}  // namespace skerry::kit
