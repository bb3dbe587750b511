// What is said of packs, rigs and charging.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "skerry/core/nth.hpp"
#include "skerry/core/units.hpp"
#include "skerry/kit/energy.hpp"
#include "skerry/words/air.hpp"
#include "skerry/words/numbers.hpp"

namespace skerry::words {

std::string of_hours(double share) {
  return share >= 1 - 1e-9 ? "100 %" : percent(std::min(share, 0.99));
}

std::string volts_text(const kit::Rig& rig) {
  const auto [least, most] = kit::volts_taken(rig);
  return fmt::format("{:.1f} to {:.1f} V", least, most);
}

std::string taken_by_none(const kit::Trip& trip, const kit::Battery& battery) {
  std::vector<std::string> rigs;
  for (const auto& rig : trip.rigs) {
    if (kit::suits(battery, rig)) return {};
    rigs.push_back(fmt::format("the {} takes {}", rig.item.name, volts_text(rig)));
  }
  return fmt::format("{:g} V: {}", battery.volts, fmt::join(rigs, ", "));
}

std::string charging_text(const kit::Trip& trip) {
  if (trip.batteries.empty() || advice::days_on_air(trip) < 2) return {};
  switch (trip.charging) {
    case kit::Charging::every_night:
      return "Packs are taken to be charged every night: the hours are those of one day.";
    case kit::Charging::none:
      return "Packs are not charged on the trip: they last for all days together.";
    case kit::Charging::solar:
      break;
  }
  std::vector<std::string> panels;
  for (const int i : advice::panels_of(trip)) {
    const auto& panel = nth(trip.items, i);
    panels.push_back(fmt::format("{} ({:g} W)", panel.name, panel.solar_w));
  }
  return fmt::format(
      "Packs begin full and are charged by {}, where that comes along: {:g} h of full sun a day, of which {:.0f} % "
      "gets into them. On each of {} days they give an equal part of the first charge and of the Sun on the days before "
      "the last, and no more than they hold.",
      fmt::join(panels, " and "), trip.solar_hours, 100 * kit::panel_yield, advice::days_on_air(trip));
}

std::string power_why(const kit::Trip& trip, const advice::BatteryPlan& plan) {
  const auto& rig = nth(trip.rigs, plan.rig);
  if (!plan.mode) return fmt::format("the {} has none of the wanted modes", rig.item.name);
  if (!plan.possible)
    return fmt::format("no battery that may come suits the {} (it takes {})", rig.item.name, volts_text(rig));
  if (plan.batteries.empty()) return "no batteries in the list: power is taken to be at the site";
  std::vector<std::string> names;
  for (const int b : plan.batteries) names.push_back(nth(trip.batteries, b).item.name);
  std::string sun;
  if (!plan.panels.empty()) {
    std::vector<std::string> panels;
    for (const int i : plan.panels) panels.push_back(nth(trip.items, i).name);
    sun = fmt::format(", to which {} {} {:.1f} h a day", fmt::join(panels, " and "),
                      panels.size() == 1 ? "adds" : "add", plan.sun_hours);
  }
  return fmt::format(
      "{} {} the {} for {:.1f} h of {}{}; the longest day needs {:.1f} h{}", fmt::join(names, " and "),
      names.size() == 1 ? "runs" : "run", rig.item.name, plan.lasts_hours, nth(trip.modes, *plan.mode).name,
      sun, plan.need_hours,
      plan.enough ? "" : fmt::format(": not enough, {} of the hours on the air", of_hours(plan.share)));
}

std::vector<std::string> power_notes(const kit::Trip& trip, const advice::BatteryPlan& plan) {
  std::vector<std::string> out;
  const auto& rig = nth(trip.rigs, plan.rig);
  if (!plan.mode) return out;
  std::set<double> volts;
  for (const int b : plan.batteries) volts.insert(nth(trip.batteries, b).volts);
  if (volts.empty()) volts.insert(rig.volts);
  for (const double v : volts) {
    const double sent_w = kit::output_w(rig, v);
    auto line = fmt::format("on {:g} V it draws {:.2f} A in the mean and sends {:.3g} W", v,
                            advice::mean_current_a(trip, rig, v), sent_w);
    if (sent_w < rig.power_w - 1e-9)
      line += fmt::format(" of its {:g} W ({:.1f} dB less)", rig.power_w, to_db(rig.power_w / sent_w));
    out.push_back(std::move(line));
  }
  std::string how = fmt::format(
      "{:g} A on receive and {:g} A key down at {:g} V, {}", rig.receive_a, rig.transmit_a, rig.volts,
      rig.switching ? "the same power from any pack" : "the same current from any pack");
  const auto shares = advice::counted_shares(trip);
  for (const auto m : ids_of(trip.modes)) {
    if (nth(shares, m.value()) <= 0 && m != *plan.mode) continue;
    const auto& mode = nth(trip.modes, m);
    how += fmt::format("; {} sends {:.0f} % of the time, at {:.0f} % of full power in the mean", mode.name,
                       100 * mode.tx_share, 100 * mode.duty);
  }
  out.push_back(std::move(how));
  for (const auto& battery : trip.batteries) {
    if (!kit::suits(battery, rig))
      out.push_back(fmt::format("{} does not feed it: {:g} V, and it takes {}", battery.item.name,
                                battery.volts, volts_text(rig)));
  }
  return out;
}

}  // namespace skerry::words
