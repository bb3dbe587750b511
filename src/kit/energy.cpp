#include "skerry/kit/energy.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <map>
#include <set>
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

std::array<double, 2> volts_taken(const Rig& rig) {
  // 11.1 V / 13.8 V is 0.804, 14.8 V / 13.8 V is 1.072.
  return {rig.min_volts.value_or(0.80 * rig.volts), rig.max_volts.value_or(1.10 * rig.volts)};
}

bool suits(const Battery& battery, const Rig& rig) {
  const auto [least, most] = volts_taken(rig);
  return battery.volts >= least && battery.volts <= most;
}

double output_w(const Rig& rig, double volts) {
  const double least = volts_taken(rig)[0];
  const bool held = rig.switching && !rig.low_power_w;
  if (volts >= rig.volts || least >= rig.volts || held) return rig.power_w;
  const double by_voltage = (least / rig.volts) * (least / rig.volts);
  const double low = std::sqrt(rig.low_power_w.value_or(by_voltage * rig.power_w)),
               high = std::sqrt(rig.power_w);
  const double amplitude = low + (high - low) * (std::max(volts, least) - least) / (rig.volts - least);
  return amplitude * amplitude;
}

std::vector<double> outputs_w(const Trip& trip, const Rig& rig) {
  std::set<double, std::greater<>> out;
  for (const auto& battery : trip.batteries) {
    if (suits(battery, rig)) out.insert(output_w(rig, battery.volts));
  }
  return {out.begin(), out.end()};
}

double mean_current_a(const Rig& rig, const noise::Mode& mode, double volts) {
  const double sent = output_w(rig, volts) / rig.power_w;
  const double final_a = (rig.transmit_a - rig.receive_a) * (rig.switching ? sent : std::sqrt(sent));
  const double mean = rig.receive_a + mode.tx_share * mode.duty * final_a;
  return rig.switching ? mean * rig.volts / volts : mean;
}

double mean_current_a(const Rig& rig, const noise::Mode& mode) {
  return mean_current_a(rig, mode, rig.volts);
}

double hours_on(const Battery& battery, double mean_current_a) {
  return battery.usable * battery.amp_hours / mean_current_a;
}

double energy_wh(const Rig& rig, double mean_current_a, double hours) {
  return mean_current_a * rig.volts * hours;
}

double sun_wh(const Trip& trip, const Item& item) {
  return trip.charging == Charging::solar ? panel_yield * item.solar_w * trip.solar_hours : 0;
}

double hours_a_day(double lasts_hours, int days, double sun_hours) {
  return std::min(lasts_hours, (lasts_hours + (days - 1) * sun_hours) / days);
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
