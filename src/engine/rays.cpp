#include "rays.hpp"

#include "skerry/core/nth.hpp"

namespace skerry::engine {

namespace {

/// Gain by whole degrees of a setup on a band; none where it has none.
std::optional<std::array<double, 91>> lobe_of(const advice::Advice& advice, int setup, std::size_t band) {
  for (const auto& use : nth(advice.book.setups, setup)) {
    if (use.band != static_cast<int>(band)) continue;
    const auto& pattern = nth(advice.book.radiators, use.radiator).pattern;
    std::array<double, 91> out{};
    for (std::size_t e = 0; e < out.size(); ++e) out[e] = pattern.best_dbi(static_cast<double>(e));
    return out;
  }
  return std::nullopt;
}

}  // namespace

circuit::FanAnswer fan_of(const kit::Trip& trip, const advice::Advice& advice, std::size_t site,
                          std::size_t target, int hour, std::size_t band) {
  const auto& region = nth(trip.targets, target);
  circuit::PathQuestion q;
  q.from.at = nth(trip.sites, site).at;
  q.to.at = nth(region.people, advice::largest_group(region)).where;
  q.climate = trip.climate;
  q.frequencies = {{nth(trip.bands, band).id, nth(trip.bands, band).mhz}};
  std::optional<std::array<double, 91>> lobe;
  if (!advice.openings.slots.empty()) {
    const auto& slot =
        advice.openings.at(static_cast<int>(site), static_cast<int>(target), hour, static_cast<int>(band));
    if (slot.by) {
      q.ways = {slot.way};
      q.to.at = nth(region.people, slot.by->person.value()).where;
      lobe = lobe_of(advice, slot.by->setup.value(), band);
    }
  }
  auto out = circuit::fan_answer(q, static_cast<std::size_t>(hour), 0, lobe);
  out.from_name = nth(trip.sites, site).name;
  out.to_name = region.region.name;
  return out;
}

}  // namespace skerry::engine
