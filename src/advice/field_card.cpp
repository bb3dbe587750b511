#include "skerry/advice/field_card.hpp"

#include <algorithm>
#include <array>

#include "skerry/core/nth.hpp"

namespace skerry::advice {

namespace {

/// Days in ten of the best band of an hour.
double best_days(const kit::Trip& trip, const Advice& advice, int site, int target, int hour) {
  double out = 0;
  for (std::size_t b = 0; b < trip.bands.size(); ++b)
    out = std::max(out, advice.openings.at(site, target, hour, static_cast<int>(b)).days_both);
  return out;
}

/// Judgement: under half a day in ten is told as closed.
constexpr double least_told = 0.5;

}  // namespace

std::vector<RegionHours> regions_by_opening(const kit::Trip& trip, const Advice& advice) {
  std::vector<RegionHours> out;
  const auto on_air = session_hours(trip);
  for (std::size_t t = 0; t < trip.targets.size(); ++t) {
    RegionHours region;
    region.target = static_cast<int>(t);
    for (const auto& h : on_air) {
      region.session_h += h.minutes / 60;
      if (advice.openings.slots.empty()) continue;
      const double days = best_days(trip, advice, h.site, static_cast<int>(t), h.utc_hour);
      if (days < least_open_days) continue;
      region.open_h += h.minutes / 60;
      region.weighted_h += h.minutes / 60 * days / 10 * trip.targets[t].weight;
    }
    out.push_back(region);
  }
  std::stable_sort(out.begin(), out.end(), [&](const RegionHours& a, const RegionHours& b) {
    if (a.weighted_h != b.weighted_h) return a.weighted_h > b.weighted_h;
    return nth(trip.targets, a.target).weight > nth(trip.targets, b.target).weight;
  });
  return out;
}

std::optional<BandService> band_service(const kit::Trip& trip, const Advice& advice, int site,
                                        std::span<const int> targets, int band) {
  if (advice.openings.slots.empty()) return std::nullopt;
  std::array<double, 24> minutes{};
  for (const auto& h : session_hours(trip)) {
    if (h.site == site) nth(minutes, h.utc_hour) = h.minutes;
  }
  struct Use {
    ServedBy by;
    double on_air = 0, all = 0;
  };
  std::vector<Use> uses;
  for (const int target : targets) {
    for (int hour = 0; hour < 24; ++hour) {
      const auto& slot = advice.openings.at(site, target, hour, band);
      if (!slot.by || slot.days_both < least_told) continue;
      auto use = std::find_if(uses.begin(), uses.end(), [&](const Use& u) {
        return u.by.setup == slot.by->setup && u.by.mode == slot.by->mode;
      });
      if (use == uses.end()) use = uses.insert(uses.end(), Use{*slot.by});
      use->on_air += nth(minutes, hour) * nth(trip.targets, target).weight;
      use->all += 1;
    }
  }
  if (uses.empty()) return std::nullopt;
  const auto best = std::max_element(uses.begin(), uses.end(), [](const Use& a, const Use& b) {
    return a.on_air != b.on_air ? a.on_air < b.on_air : a.all < b.all;
  });
  return BandService{Id<noise::Band>(band), best->by.setup, best->by.mode, uses.size() > 1};
}

}  // namespace skerry::advice
