// The hours that are worth being on the air for, region by region.
#include <algorithm>

#include "advise_parts.hpp"
#include "skerry/core/nth.hpp"
#include "skerry/core/units.hpp"

namespace skerry::advice {

namespace {

/// Judgement: less than a day in ten is no window.
constexpr double least_days = 1;

/// The best band of an hour, and what serves it.
std::optional<Window> best_of(const Advice& advice, int site, int target, int hour, std::size_t bands) {
  std::optional<Window> out;
  for (std::size_t b = 0; b < bands; ++b) {
    const auto& slot = advice.openings.at(site, target, hour, static_cast<int>(b));
    if (!slot.by || slot.days_both < least_days || (out && slot.days_both <= out->days)) continue;
    out.emplace(Window{site, target, Id<noise::Band>(b), slot.by->setup, hour, 1, slot.days_both, slot.way});
  }
  return out;
}

bool goes_on(const Window& a, const Window& b) {
  return a.band == b.band && a.way == b.way && (a.first_hour + a.hours) % 24 == b.first_hour;
}

void join(Window& a, const Window& b) {
  a.days = (a.days * a.hours + b.days * b.hours) / (a.hours + b.hours);
  a.hours += b.hours;
}

}  // namespace

void find_windows(Advice& advice, const kit::Trip& trip, const ReachModel& model) {
  if (advice.openings.slots.empty()) return;
  const auto on_air = session_hours(trip);
  for (std::size_t t = 0; t < trip.targets.size(); ++t) {
    std::vector<Window> found;
    for (const auto& h : on_air) {
      const auto best = best_of(advice, h.site, static_cast<int>(t), h.utc_hour, trip.bands.size());
      if (!best) continue;
      if (!found.empty() && found.back().site == h.site && goes_on(found.back(), *best)) {
        join(found.back(), *best);
      } else {
        found.push_back(*best);
      }
    }
    // What runs over midnight UTC stands at both ends of its site's hours.
    for (std::size_t k = 0; k < found.size(); ++k) {
      for (std::size_t last = found.size(); last-- > k + 1;) {
        if (found[last].site != found[k].site || found[k].first_hour != 0 || !goes_on(found[last], found[k]))
          continue;
        join(found[last], found[k]);
        found.erase(found.begin() + static_cast<std::ptrdiff_t>(k));
        break;
      }
    }
    std::stable_sort(found.begin(), found.end(),
                     [](const Window& a, const Window& b) { return a.days * a.hours > b.days * b.hours; });
    for (auto& window : found) {
      const double bearing =
          model.path(window.site, window.target, largest_group(trip.targets[t])).bearing_deg;
      window.bearing_deg = window.way == geodesy::Way::short_way ? bearing : wrap_360(bearing + 180);
      advice.windows.push_back(window);
    }
  }
}

}  // namespace skerry::advice
